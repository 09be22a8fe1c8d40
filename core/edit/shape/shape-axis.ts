import { formatQuantity } from "../../base/units.ts";
import { axisDimension } from "../../model/axis-quantity.ts";
import { notKeyed } from "../../model/key-axes.ts";
import { compileRig } from "../../rig/chain.ts";
import { travel } from "../../rig/travel.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { entryOf } from "../../syntax/tree.ts";
import { checked, fieldEdits, type Rewriting } from "../field-edits.ts";
import { storedText } from "../neighbour-units.ts";
import { isAimed } from "../key-aimed.ts";
import { aimingAxes } from "../../model/move-context.ts";
import { keyMap } from "../key-item.ts";
import { putAxes } from "./key-number.ts";
import { putNumber } from "./put-number.ts";
import { keyLabel, repeated, type ShapedMove, type Shaping, type ShapeStop } from "./shaped.ts";

/** How finely a nudged axis is written: 0.1 mm, 0.01 deg. */
const STEPS = { length: 1e-4, angle: (0.01 * Math.PI) / 180 } as const;

/** Moves an axis of a key on by an amount [m, rad], as far as its range goes. */
export function shapeAxis(document: ShapedMove, key: number, axis: number, by: number): Shaping {
  const { move, file } = document;
  const refusal = givenElsewhere(document, key, axis);
  if (refusal !== undefined) return { refusal };
  const { name, type } = move.axes[axis];
  const dimension = axisDimension(type, 0) as "length" | "angle";
  const wanted = valueAt(document, key, axis) + by;
  const { low, high, stop } = bounds(document, axis, wanted);
  const value = Math.min(Math.max(wanted, low), high);
  const made = written(document, key, axis, value);
  if ("refusal" in made) return made;
  const says = `\`${name}\` of ${keyLabel(move, key)}: ${formatQuantity(value, dimension)}`;
  return { file, edits: made.edits, says, ...(stop && { stop }) };
}

/** Value of an axis at a key [m, rad]: as it is stated, else as it goes. */
function valueAt({ move, trajectory }: ShapedMove, key: number, axis: number): number {
  const stated = move.keys[key].axes.find((one) => one.axis === axis);
  if (stated) return stated.value;
  const instant = trajectory.createInstant();
  trajectory.at(move.keys[key].time, instant);
  return instant.value[axis];
}

function written(document: ShapedMove, key: number, axis: number, value: number): Rewriting {
  const { move } = document;
  const { name, type } = move.axes[axis];
  if (!isRoll(move, axis)) {
    return putAxes(document, key, [{ name, dimension: axisDimension(type, 0) as "length" | "angle", value }], STEPS);
  }
  const map = keyMap(document, key);
  if (!map) return repeated(keyLabel(move, key));
  const roll = entryOf(map, "roll");
  if (!roll) {
    const text = storedText(value, "angle", " deg", STEPS.angle);
    return checked(document, fieldEdits(document, map, [{ kind: "set", name: "roll", value: text }]));
  }
  return putNumber(document, roll.value, value, "angle", STEPS.angle) ?? repeated(`\`roll\` of ${keyLabel(move, key)}`);
}

/** Whether `roll` of keys gives an axis, not their `axes`. */
function isRoll({ keys, axes, rig }: ResolvedMove, axis: number): boolean {
  const { joint } = axes[axis];
  if (joint < 0 || rig.head?.roll !== joint) return false;
  return keys.every((key) => key.axes.every((given) => given.axis !== axis));
}

/** Why a key does not give this axis a value, as a sentence. */
function givenElsewhere({ move }: ShapedMove, key: number, index: number): string | undefined {
  const axis = move.axes[index];
  const label = keyLabel(move, key);
  const bound = notKeyed(axis);
  if (bound !== undefined) return `\`${axis.name}\` has no value of its own at ${label}: ${bound.replace(/\.$/, "")}`;
  const { camera, roll } = move.keys[key];
  if (axis.role === "driven" && camera) {
    return `\`${axis.name}\` is solved from the camera's place at ${label}: drag that, or let the key give its axes`;
  }
  if (0 <= axis.joint && move.rig.head?.roll === axis.joint && roll?.kind === "level") {
    return `\`${axis.name}\` keeps the horizon level at ${label}: give \`roll\` an angle there`;
  }
  if (isAimed(move, key) && aimingAxes(move.rig, move.axes).has(index)) {
    return `\`${axis.name}\` is solved by the aim at ${label}: drag the subject in the view through the lens`;
  }
  return undefined;
}

function bounds({ move }: ShapedMove, index: number, wanted: number): { low: number; high: number; stop?: ShapeStop } {
  const { name, type, joint, range } = move.axes[index];
  const limits = joint < 0 ? undefined : travel(compileRig(move.rig));
  const low = limits ? limits.low[joint] : (range?.low ?? -Infinity);
  const high = limits ? limits.high[joint] : (range?.high ?? Infinity);
  const past = wanted < low ? low : high < wanted ? high : undefined;
  if (past === undefined) return { low, high };
  const by = limits ? (past === low ? limits.lowBy[joint] : limits.highBy[joint]) : joint;
  const whose = by === joint ? "its range" : `the range of \`${move.rig.joints[by]?.name}\`, which follows it,`;
  const end = formatQuantity(past, axisDimension(type, 0));
  return { low, high, stop: { words: `\`${name}\` ends at ${end}: ${whose} goes no further` } };
}
