import type { Order } from "../../../core/motion/trajectory.ts";
import type { Location } from "../../../core/syntax/locate.ts";
import { entryOf, valueOf } from "../../../core/syntax/tree.ts";
import type { View } from "../view.ts";

/** The axis whose range or limits hold the cursor, and which limit it is; none for the name of all limits. */
export interface LimitPlace {
  readonly axis: string;
  readonly order?: Order;
}

const ORDERS: Readonly<Record<string, Order>> = { speed: 1, accel: 2, jerk: 3 };

/** In the chain of a rig, beside its URDF file, or at a turntable of a set. */
export function limitAt(view: View, { path }: Location): LimitPlace | undefined {
  const [section, which, part, limit] = path;
  const isLimit = part === "limits" || part === "range";
  if (!isLimit || !isAxes(view, section)) return undefined;
  const axis = typeof which === "number" ? axisOfItem(view, which) : which;
  if (axis === undefined) return undefined;
  const order = part === "range" ? 0 : ORDERS[String(limit)];
  return order === undefined ? { axis } : { axis, order };
}

function isAxes({ kind }: View, section: string | number): boolean {
  return kind === "rig" ? section === "chain" || section === "axes" : kind === "set" && section === "turntables";
}

function axisOfItem({ tree }: View, index: number): string | undefined {
  const chain = valueOf(entryOf(tree.root, "chain")?.value);
  const item = valueOf(chain?.kind === "list" ? chain.items[index] : undefined);
  const named = valueOf(item && entryOf(item, "axis")?.value);
  return named?.kind === "scalar" ? String(named.value) : undefined;
}
