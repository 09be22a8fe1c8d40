import type { Task } from "../../../core/base/task.ts";
import { parseRate } from "../../../core/base/rate.ts";
import { resolveOptics } from "../../../core/model/resolve-optics.ts";
import { resolveRig } from "../../../core/model/resolve-rig.ts";
import type { Location } from "../../../core/syntax/locate.ts";
import { entryOf, valueOf } from "../../../core/syntax/tree.ts";
import { axisSummary, axisUse, type AxisFacts } from "../axis-summary.ts";
import { paragraphs } from "../markdown.ts";
import { shapesAt, type ShapePlace } from "../shape-walk.ts";
import type { View } from "../view.ts";
import type { Around } from "./around.ts";
import { bodyHover } from "./body-hover.ts";
import { codeHover } from "./code-hover.ts";
import { lensInMove, lensText } from "./lens-hover.ts";
import { limitAt } from "./limit-place.ts";
import { passHover } from "./pass-hover.ts";
import { targetInMove, targetInSet } from "./target-hover.ts";
import { labelHover, rateHover, timeHover } from "./time-hover.ts";

/** What the name or the value that stands at the cursor means in the solved moves. */
export function* about(view: View, location: Location, around: Around, slow: boolean): Task<string | undefined> {
  const { path, onName, node, entry } = location;
  const { users } = around;
  const places = onName ? shapesAt(view.kind, path.slice(0, -1)) : shapesAt(view.kind, path);
  if (!onName && node?.kind === "scalar" && isTimed(places)) {
    return paragraphs([writtenTime(view, places, node.value, String(path[path.length - 1]))]);
  }
  const limit = limitAt(view, location);
  if (limit) return axisUse(users, limit.axis, axisFacts(view, limit.axis), limit.order);
  const name = nameOf(location);
  if (name === undefined) return undefined;
  if (isCode(view, location)) return codeHover(view, users, name);
  const kinds = places.flatMap((place) => nameKinds(place, onName));
  const { solved } = view;
  if (kinds.includes("axis") || kinds.includes("turntable")) {
    return solved ? axisSummary(solved, name) : axisUse(users, name, axisFacts(view, name));
  }
  if (kinds.includes("target")) return solved ? targetInMove(solved, name) : targetInSet(users, name);
  if (kinds.includes("pass")) return solved && passHover(solved, name);
  if (kinds.includes("lens")) return lensHover(view, name);
  const body = bodyAt(view, location, kinds);
  return body && entry ? yield* bodyHover(users, view.file, { name, entry: body, slow }) : undefined;
}

/** Times that are counted from another one. */
const SPANS: readonly string[] = ["after", "hold", "ramp", "time", "stop"];
const TIMED: readonly string[] = ["time", "label", "rate"];

function isTimed(places: readonly ShapePlace[]): boolean {
  return places.some(({ shape }) => shape.kind === "scalar" && TIMED.includes(shape.facts.type));
}

function writtenTime(
  view: View,
  places: readonly ShapePlace[],
  written: Parameters<typeof timeHover>[1],
  field: string,
): string | undefined {
  const types = places.map(({ shape }) => (shape.kind === "scalar" ? shape.facts.type : undefined));
  if (types.includes("rate")) return rateHover(written);
  const timed = timingOf(view);
  if (types.includes("label")) return timed && labelHover(timed, written);
  return timeHover(timed, written, SPANS.includes(field));
}

/** Rate and first label of a move; of one that could not be resolved by its rate alone. */
function timingOf({ kind, solved, analysis, tree }: View): Parameters<typeof timeHover>[0] {
  const known = solved?.move ?? analysis.move;
  if (known || kind !== "move") return known;
  const written = valueOf(entryOf(tree.root, "rate")?.value);
  const value = written?.kind === "scalar" ? written.value : 25;
  const rate = typeof value === "string" || typeof value === "number" ? parseRate(value) : undefined;
  return rate && { rate, startFrame: 0 };
}

function isCode({ kind }: View, { path, onName }: Location): boolean {
  if (kind === "config") return onName && path[0] === "severity" && path.length === 2;
  return !onName && path[path.length - 1] === "code" && path[path.length - 3] === "allow";
}

/** In a move the lens that it uses; in a camera any of its lenses. */
function lensHover({ kind, file, solved, sources }: View, name: string): string | undefined {
  if (kind !== "camera") return solved?.move.optics.lensName === name ? lensInMove(solved) : undefined;
  const optics = resolveOptics(file, sources).optics.get(name);
  return optics && lensText(optics);
}

/** What a rig says of one of its axes, where it can be read. */
function axisFacts({ kind, file, sources }: View, name: string): AxisFacts | undefined {
  const joint = kind === "rig" ? resolveRig(file, sources).rig?.joints.find((each) => each.name === name) : undefined;
  return joint && joint.type !== "fixed" ? { ...joint, type: joint.type } : undefined;
}

/** The text of a body whose name the cursor stands on: a name of its own in a set, the value of `name` in a rig. */
function bodyAt(
  view: View,
  { path, onName, entry }: Location,
  kinds: readonly string[],
): Location["entry"] | undefined {
  if (!kinds.includes("body") || !entry) return undefined;
  if (onName) return entry;
  const last = path[path.length - 1];
  const list = valueOf(entryOf(view.tree.root, String(path[0]))?.value);
  const item = last === "name" && list?.kind === "list" ? list.items[Number(path[1])] : undefined;
  return item && { ...entry, start: item.start, end: item.end };
}

function nameOf({ entry, onName, node }: Location): string | undefined {
  if (onName) return entry?.name;
  return node?.kind === "scalar" && typeof node.value === "string" ? node.value : entry?.name;
}

function nameKinds({ shape }: ShapePlace, onName: boolean): readonly string[] {
  if (onName) return shape.kind === "record" && shape.names ? [shape.names.kind] : [];
  return shape.kind === "scalar" && shape.facts.type === "name" ? [shape.facts.kind] : [];
}
