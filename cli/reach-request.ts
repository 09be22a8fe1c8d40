import type { Quat } from "../core/base/quat.ts";
import { parseQuantity } from "../core/base/units.ts";
import type { Vec3 } from "../core/base/vec3.ts";
import { applyAxisList, applyAxisValue } from "./axis-list.ts";
import { Failure } from "./failure.ts";
import type { ReachScene } from "./reach-scene.ts";

/** One question: from the command line's options, or a line of standard input with these fields. */
export interface ReachQuestion {
  /** `x,y,z`, or three numbers [m]. */
  readonly from?: unknown;
  /** `x,y,z`, three numbers [m], or the name of a target. Without it and `rotation`: the place alone. */
  readonly aim?: unknown;
  /** In place of `aim`: the camera's whole orientation, `x,y,z,w` or four numbers. */
  readonly rotation?: unknown;
  readonly framing?: unknown;
  readonly roll?: unknown;
  /** `name=value,…` or an object of values. */
  readonly near?: unknown;
}

/** A question understood: SI, names bound. */
export interface ReachOrder {
  readonly from: Vec3;
  /** Absent: the place alone, the head left at its values of `near`. */
  readonly look?: { readonly at: Vec3 } | { readonly rotation: Quat };
  readonly framing?: readonly [number, number];
  /** [rad] */
  readonly roll?: number;
  /** Shape (joints,). */
  readonly near: Float64Array;
}

/** Throws `Failure` with one line for a question that can't be asked. */
export function readOrder(scene: ReachScene, question: ReachQuestion): ReachOrder {
  const { aim, rotation, framing, roll } = question;
  if (question.from === undefined) throw new Failure("--from is missing: where the camera is to be, x,y,z");
  if (aim !== undefined && rotation !== undefined) {
    throw new Failure("give either --aim, what the camera looks at, or --rotation, how it is turned");
  }
  if (aim === undefined && rotation === undefined && (framing !== undefined || roll !== undefined)) {
    throw new Failure("--framing and --roll need --aim, what the camera looks at");
  }
  if (framing !== undefined && !scene.optics) throw new Failure("--framing needs --camera and --lens");
  if (rotation !== undefined && (framing !== undefined || roll !== undefined)) {
    throw new Failure("--rotation says all of the orientation; leave out --framing and --roll");
  }
  const near = Float64Array.from(scene.near);
  if (typeof question.near === "string") applyAxisList(scene.rig, "--near", question.near, near);
  else if (question.near !== undefined) applyNear(scene, question.near, near);
  const from = numbers("--from", question.from, 3, "length") as [number, number, number];
  if (rotation !== undefined) return { from, look: { rotation: turnOf(rotation) }, near };
  if (aim === undefined) return { from, near };
  const share = framing === undefined ? undefined : (numbers("--framing", framing, 2) as [number, number]);
  return { from, look: { at: placeOf(scene, aim) }, framing: share, roll: rollOf(scene, roll), near };
}

function applyNear({ rig }: ReachScene, given: unknown, near: Float64Array): void {
  if (typeof given !== "object" || given === null || Array.isArray(given)) {
    throw new Failure("--near takes name=value, separated by commas, or an object of values");
  }
  for (const [name, value] of Object.entries(given)) {
    if (typeof value !== "number" && typeof value !== "string") throw new Failure(`--near: ${name} takes one value`);
    applyAxisValue(rig, "--near", name, value, near);
  }
}

function placeOf({ targets, frame }: ReachScene, aim: unknown): Vec3 {
  if (typeof aim === "string" && !/^[\s\d.+-].*,/.test(aim)) {
    const target = targets.get(aim);
    if (target) return target;
    const names = [...targets.keys()].join(", ");
    if (frame === "base") throw new Failure(`--aim takes x,y,z; targets such as ${aim} are known with a move`);
    throw new Failure(`--aim: the move has no target ${aim}; ${names ? `it has ${names}` : "it has none"}`);
  }
  return numbers("--aim", aim, 3, "length") as [number, number, number];
}

function rollOf({ rig }: ReachScene, roll: unknown): number | undefined {
  if (roll === undefined) return undefined;
  if (rig.head && rig.head.roll === undefined) throw new Failure("--roll: the rig's head has no roll axis");
  if (typeof roll !== "string" && typeof roll !== "number") throw new Failure("--roll takes an angle");
  const parsed = parseQuantity(roll, "angle");
  if (!parsed.ok) throw new Failure(`--roll: ${parsed.message}`);
  return parsed.value;
}

function turnOf(given: unknown): Quat {
  const [x, y, z, w] = numbers("--rotation", given, 4);
  const size = Math.hypot(x, y, z, w);
  if (!(Math.abs(size - 1) < 1e-3)) throw new Failure("--rotation takes a unit quaternion x,y,z,w");
  return [x / size, y / size, z / size, w / size];
}

function numbers(option: string, given: unknown, count: number, dimension: "length" | "number" = "number"): number[] {
  const parts = typeof given === "string" ? given.split(",").map((part) => part.trim()) : given;
  if (!Array.isArray(parts) || parts.length !== count) {
    throw new Failure(`${option} takes ${count} numbers, separated by commas`);
  }
  return (parts as unknown[]).map((part) => {
    if (typeof part !== "string" && typeof part !== "number") throw new Failure(`${option} takes ${count} numbers`);
    const parsed = parseQuantity(part, dimension);
    if (!parsed.ok) throw new Failure(`${option}: ${parsed.message}`);
    return parsed.value;
  });
}
