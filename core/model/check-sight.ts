import type { Written } from "../schema/field-types.ts";
import type { setDocument } from "../schema/set-fields.ts";
import { axisDimension, resolveQuantity } from "./axis-quantity.ts";
import { bindAxis } from "./bind-axis.ts";
import type { Declared, Stated, StatedEntry } from "./declared.ts";
import { bindLens, opticsOf } from "./resolve-optics.ts";
import { openReference, reportBrokenReference, scopeOf, type Scope } from "./resolution.ts";
import { rigOf } from "./resolve-rig.ts";

type SetFields = NonNullable<Declared<typeof setDocument>>["value"];
type Entry<M> = M extends Stated<ReadonlyMap<string, StatedEntry<infer Item>>> ? NonNullable<Item> : never;
type Sight = NonNullable<
  NonNullable<Entry<NonNullable<SetFields["targets"]>>["value"]["sights"]>["value"][number]
>["value"];

/** A sight is computed by no one yet, but its files, axes and lens are looked up so that it is right when it is. */
export function checkSight(scope: Scope, sight: Sight): void {
  const rigDocument = sight.rig && openReference(scope, sight.rig, "rig");
  if (rigDocument && sight.rig) {
    const inner = scopeOf(rigDocument, scope.resolution, scope);
    const rig = rigOf(inner, rigDocument);
    reportBrokenReference(scope, sight.rig, inner.problems);
    if (rig) {
      const axes = rig.joints.filter((joint) => joint.type !== "fixed");
      for (const stated of [sight.axes, sight.setup]) checkValues(scope, stated, axes);
    }
  }
  const { use, lens } = sight.camera?.value ?? {};
  const camera = use && openReference(scope, use, "camera");
  if (!camera || !use) return;
  const inner = scopeOf(camera, scope.resolution, scope);
  const optics = opticsOf(inner, camera);
  reportBrokenReference(scope, use, inner.problems);
  if (lens && camera.declared) bindLens(scope, lens, [...(camera.declared.value.lenses?.value.keys() ?? [])], optics);
}

interface NamedAxis {
  readonly name: string;
  readonly type: "linear" | "rotary" | "fixed";
}

type Values = Stated<ReadonlyMap<string, StatedEntry<Stated<Written> | undefined>>>;

function checkValues(scope: Scope, stated: Values | undefined, axes: readonly NamedAxis[]): void {
  for (const [name, { nameSpan, item }] of stated?.value ?? []) {
    const index = bindAxis(scope, { value: name, span: nameSpan }, axes);
    const type = index === undefined ? undefined : axes[index].type;
    if (item && type && type !== "fixed") resolveQuantity(scope, item, axisDimension(type, 0), name);
  }
}
