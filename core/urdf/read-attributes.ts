import { listing } from "../base/listing.ts";
import { nearestName } from "../base/nearest-name.ts";
import { IDENTITY_POSE, type Pose } from "../base/pose.ts";
import { quatFromRollPitchYaw, type Quat } from "../base/quat.ts";
import type { Vec3 } from "../base/vec3.ts";
import { MAX_MAGNITUDE } from "../base/units.ts";
import type { XmlAttribute, XmlElement } from "../syntax/xml.ts";
import { fault, remark, type Placed, type UrdfFaults } from "./urdf.ts";

/** A number as XML Schema writes a double, without its words for infinity and "not a number". */
const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;

/** The first child of a name; more of them are a fault, since only one can hold. */
export function only(to: UrdfFaults, parent: XmlElement, name: string): XmlElement | undefined {
  const [first, second] = parent.children.filter((child) => child.name === name);
  if (second) {
    fault(to, "over-determined", second.nameSpan, `\`${parent.name}\` has two \`${name}\`: one of them is enough.`);
  }
  return first;
}

/** A text attribute without the blanks around it, or `undefined` after a finding when it is missing or empty. */
export function textOf(to: UrdfFaults, element: XmlElement, name: string): Placed<string> | undefined {
  const found = element.attributes.get(name);
  const value = found?.value.trim();
  if (found && value) return { value, span: found.span };
  const message = `\`${element.name}\` lacks \`${name}="…"\`.`;
  return fault(to, "missing-field", found?.span ?? element.nameSpan, message);
}

/** Numbers of an attribute, `count` of them, in blanks; `undefined` where it is not written, or broken after a finding. */
export function numbersOf(to: UrdfFaults, element: XmlElement, name: string, count: number): number[] | undefined {
  const found = element.attributes.get(name);
  if (!found) return undefined;
  const parts = found.value.trim() === "" ? [] : found.value.trim().split(/\s+/);
  if (parts.length !== count) {
    const wanted = count === 1 ? "a number" : `${count} numbers with blanks between them`;
    const message = `\`${name}="${shown(found.value)}"\` of \`${element.name}\` is not ${wanted}.`;
    return fault(to, "wrong-type", found.span, message);
  }
  const numbers = parts.map((part) => (NUMBER.test(part) ? Number(part) : Number.NaN));
  const bad = numbers.findIndex((number) => !(Math.abs(number) <= MAX_MAGNITUDE));
  if (bad < 0) return numbers.map((number) => number + 0);
  const why = Number.isNaN(numbers[bad]) ? "is not a number" : `is beyond ${MAX_MAGNITUDE}`;
  const message = `\`${name}\` of \`${element.name}\`: \`${shown(parts[bad])}\` ${why}.`;
  return fault(to, "bad-number", found.span, message);
}

/** One number, with its place. */
export function numberOf(to: UrdfFaults, element: XmlElement, name: string): Placed<number> | undefined {
  const [value] = numbersOf(to, element, name, 1) ?? [];
  return value === undefined ? undefined : { value, span: (element.attributes.get(name) as XmlAttribute).span };
}

/** A size: there, and more than 0. */
export function sizeOf(to: UrdfFaults, element: XmlElement, name: string): number | undefined {
  if (!element.attributes.has(name)) {
    return fault(to, "missing-field", element.nameSpan, `\`${element.name}\` lacks \`${name}="…"\`.`);
  }
  const found = numberOf(to, element, name);
  if (!found || found.value > 0) return found?.value;
  const message = `\`${name}\` of \`${element.name}\` is ${found.value}: it must be more than 0.`;
  return fault(to, "bad-number", found.span, message);
}

export function vectorOf(to: UrdfFaults, element: XmlElement, name: string): Vec3 | undefined {
  const found = numbersOf(to, element, name, 3);
  return found && [found[0], found[1], found[2]];
}

/** `origin` of an element: a place and a turn about fixed axes, roll, then pitch, then yaw, or a quaternion. */
export function originOf(to: UrdfFaults, parent: XmlElement): Pose {
  const element = only(to, parent, "origin");
  if (!element) return IDENTITY_POSE;
  reportUnread(to, element, ORIGIN_ATTRIBUTES);
  const at = vectorOf(to, element, "xyz") ?? [0, 0, 0];
  const [roll, pitch, yaw] = vectorOf(to, element, "rpy") ?? [0, 0, 0];
  const quat = element.attributes.get("quat_xyzw");
  if (!quat) return { at, turn: quatFromRollPitchYaw(roll, pitch, yaw) };
  if (element.attributes.has("rpy")) {
    fault(to, "over-determined", quat.span, "`origin` has `rpy` and `quat_xyzw`: one of them is enough.");
  }
  return { at, turn: quatOf(to, element) ?? IDENTITY_POSE.turn };
}

function quatOf(to: UrdfFaults, element: XmlElement): Quat | undefined {
  const parts = numbersOf(to, element, "quat_xyzw", 4);
  if (!parts) return undefined;
  const length = Math.hypot(...parts);
  if (length > 1e-9) return parts.map((part) => part / length) as unknown as Quat;
  const { span } = element.attributes.get("quat_xyzw") as XmlAttribute;
  return fault(to, "bad-number", span, "`quat_xyzw` of `origin` is zero, which is no turn.");
}

const ORIGIN_ATTRIBUTES = ["xyz", "rpy", "quat_xyzw"];

/** Attributes that are not read: a slip of one that is, or of no known meaning. */
export function reportUnread(to: UrdfFaults, element: XmlElement, known: readonly string[]): void {
  for (const [name, { span }] of element.attributes) {
    if (known.includes(name)) continue;
    const nearest = nearestName(name, known);
    const advice = nearest === undefined ? `Known: ${listing(known, "and")}.` : `Did you mean \`${nearest}\`?`;
    remark(to, "unknown-field", span, `\`${element.name}\` has no \`${shown(name)}\`. ${advice}`);
  }
}

/** Text of the file as a message quotes it. */
export const shown = (text: string): string => (text.length > 40 ? `${text.slice(0, 37)}...` : text);
