import { listing } from "../base/listing.ts";
import { nearestName } from "../base/nearest-name.ts";
import { length, scale, type Vec3 } from "../base/vec3.ts";
import type { XmlElement } from "../syntax/xml.ts";
import { numberOf, only, originOf, reportUnread, shown, textOf, vectorOf } from "./read-attributes.ts";
import { fault, MOVING_TYPES, type Placed, type UrdfFaults, type UrdfJoint } from "./urdf.ts";

const TYPES = [...MOVING_TYPES, "fixed"] as const;
/** Types that URDF has and a serial chain of single axes can't have. */
const UNSUPPORTED = ["floating", "planar"];

/** One joint, or `undefined` after a finding when it can't be built. */
export function readJoint(to: UrdfFaults, element: XmlElement): UrdfJoint | undefined {
  const name = textOf(to, element, "name");
  const type = typeOf(to, element, name?.value ?? "");
  const parent = linkOf(to, element, "parent");
  const child = linkOf(to, element, "child");
  const origin = originOf(to, element);
  if (!name || !type || !parent || !child) return undefined;
  const joint = { name, type, parent, child, origin, axis: X_AXIS };
  if (type === "fixed") return joint;
  const axis = axisOf(to, element, name.value);
  const mimic = mimicOf(to, element);
  const limit = only(to, element, "limit");
  if (limit) reportUnread(to, limit, ["lower", "upper", "effort", "velocity"]);
  const range = type === "continuous" ? undefined : rangeOf(to, element, limit, name.value);
  const speed = limit && speedOf(to, limit, name.value);
  return { ...joint, axis, ...(range ? { range } : {}), ...(speed ? { speed } : {}), ...(mimic ? { mimic } : {}) };
}

const X_AXIS: Vec3 = [1, 0, 0];

function typeOf(to: UrdfFaults, element: XmlElement, name: string): UrdfJoint["type"] | undefined {
  const type = textOf(to, element, "type");
  if (!type) return undefined;
  const known = TYPES.find((each) => each === type.value);
  if (known) return known;
  if (UNSUPPORTED.includes(type.value)) {
    const message = `Joint \`${name}\` is ${type.value}, which moves in more than one way: write it as joints of one axis each.`;
    return fault(to, "not-computed", type.span, message);
  }
  const nearest = nearestName(type.value, TYPES);
  const advice = nearest ? `Did you mean \`${nearest}\`?` : `Known: ${listing(TYPES, "and")}.`;
  return fault(to, "wrong-type", type.span, `There is no type of joint \`${shown(type.value)}\`. ${advice}`);
}

function linkOf(to: UrdfFaults, joint: XmlElement, role: "parent" | "child"): Placed<string> | undefined {
  const element = only(to, joint, role);
  if (element) return textOf(to, element, "link");
  return fault(to, "missing-field", joint.nameSpan, `\`joint\` lacks \`<${role} link="…"/>\`.`);
}

function axisOf(to: UrdfFaults, joint: XmlElement, name: string): Vec3 {
  const element = only(to, joint, "axis");
  if (!element) return X_AXIS;
  // Many files write a turn on the axis too; it has no meaning there and does no harm.
  reportUnread(to, element, ["xyz", "rpy"]);
  const axis = vectorOf(to, element, "xyz");
  if (!axis) return X_AXIS;
  const size = length(axis);
  if (size > 1e-9) return scale(axis, 1 / size);
  const span = element.attributes.get("xyz")?.span ?? element.nameSpan;
  fault(to, "bad-number", span, `The axis of joint \`${name}\` is 0 0 0, which is no direction.`);
  return X_AXIS;
}

function mimicOf(to: UrdfFaults, joint: XmlElement): UrdfJoint["mimic"] {
  const element = only(to, joint, "mimic");
  const other = element && textOf(to, element, "joint");
  if (!other) return undefined;
  reportUnread(to, element, ["joint", "multiplier", "offset"]);
  const multiplier = numberOf(to, element, "multiplier")?.value ?? 1;
  return { joint: other, multiplier, offset: numberOf(to, element, "offset")?.value ?? 0 };
}

/** Lower and upper, 0 where only one is written, narrowed by the soft limits that a safety controller states. */
function rangeOf(
  to: UrdfFaults,
  joint: XmlElement,
  limit: XmlElement | undefined,
  name: string,
): UrdfJoint["range"] | undefined {
  const safety = only(to, joint, "safety_controller");
  if (!limit) return undefined;
  const low = numberOf(to, limit, "lower")?.value ?? 0;
  const high = numberOf(to, limit, "upper")?.value ?? 0;
  const span = limit.nameSpan;
  if (!(low < high)) {
    const message = `The limits of joint \`${name}\` are ${low} to ${high}: \`lower\` must be less than \`upper\` (each is 0 when left out).`;
    return fault(to, "bad-number", span, message);
  }
  const softLow = safety && numberOf(to, safety, "soft_lower_limit");
  const softHigh = safety && numberOf(to, safety, "soft_upper_limit");
  const narrow = { low: Math.max(low, softLow?.value ?? low), high: Math.min(high, softHigh?.value ?? high) };
  if (narrow.low < narrow.high) {
    const isSoft = narrow.low > low || narrow.high < high;
    return { value: narrow, span: isSoft && safety ? safety.nameSpan : span };
  }
  const message = `The soft limits of joint \`${name}\` leave nothing of its limits ${low} to ${high}.`;
  return fault(to, "bad-number", (softLow ?? softHigh)?.span ?? span, message);
}

/** A velocity of 0 says that none is stated: a joint that may not move would be a fixed one. */
function speedOf(to: UrdfFaults, limit: XmlElement, name: string): Placed<number> | undefined {
  const velocity = numberOf(to, limit, "velocity");
  if (!velocity || velocity.value === 0) return undefined;
  if (velocity.value > 0) return velocity;
  const message = `The velocity of joint \`${name}\` is ${velocity.value}: it must be more than 0, or 0 for none.`;
  return fault(to, "bad-number", velocity.span, message);
}
