import { parseQuantity } from "../core/base/units.ts";
import type { ResolvedRig } from "../core/rig/resolved-rig.ts";
import { Failure } from "./failure.ts";

/**
 * Sets the values of `name=value,…` in `q`. Throws `Failure` that names the option for what is no list of the rig's axes.
 *
 * @param option The option that the list comes from, for messages.
 * @param q      Shape (joints,), SI; followers are left as they are.
 */
export function applyAxisList(rig: ResolvedRig, option: string, list: string, q: Float64Array): void {
  const given = new Set<string>();
  for (const part of list.split(",")) {
    if (part.trim() === "") continue;
    const [name, value] = splitOnce(part);
    if (value === undefined || name === "") throw new Failure(`${option} takes name=value; \`${part.trim()}\` is not`);
    if (given.has(name)) throw new Failure(`${option}: ${name} is given twice`);
    given.add(name);
    applyAxisValue(rig, option, name, value, q);
  }
}

/** Sets one axis: text with or without a unit, or a number in metres or degrees. */
export function applyAxisValue(
  rig: ResolvedRig,
  option: string,
  name: string,
  value: string | number,
  q: Float64Array,
): void {
  const idx = rig.joints.findIndex((joint) => joint.name === name && joint.type !== "fixed");
  const joint = rig.joints[idx];
  if (!joint) throw new Failure(`${option}: the rig has no axis ${name}; it has ${axisNames(rig)}`);
  if (joint.follows)
    throw new Failure(`${option}: ${name} follows ${rig.joints[joint.follows.leader].name}; give that`);
  const parsed = parseQuantity(value, joint.type === "linear" ? "length" : "angle");
  if (!parsed.ok) throw new Failure(`${option}: ${name}: ${parsed.message}`);
  q[idx] = parsed.value;
}

function splitOnce(part: string): [string, string | undefined] {
  const at = part.indexOf("=");
  return at < 0 ? [part.trim(), undefined] : [part.slice(0, at).trim(), part.slice(at + 1).trim()];
}

const axisNames = (rig: ResolvedRig): string =>
  rig.joints
    .filter((joint) => joint.type !== "fixed" && !joint.follows)
    .map((joint) => joint.name)
    .join(", ");
