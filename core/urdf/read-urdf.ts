import { listing } from "../base/listing.ts";
import { nearestName } from "../base/nearest-name.ts";
import { parseXml, type XmlElement } from "../syntax/xml.ts";
import { readJoint } from "./read-joint.ts";
import { readLink } from "./read-link.ts";
import { fault, remark, type Placed, type Urdf, type UrdfFaults, type UrdfProblem } from "./urdf.ts";

/** Most joints of one file: more than any machine has, few enough to follow at every key stroke. */
export const MAX_JOINTS = 1_000;

/** What an element may hold that is read, and what it may hold that is of no concern to a camera's way. */
const TAGS = {
  robot: { read: ["link", "joint"], idle: ["material", "transmission", "gazebo", "ros2_control", "sensor", "frame"] },
  link: { read: ["inertial", "visual", "collision"], idle: ["gazebo", "sensor", "contact", "material"] },
  joint: {
    read: ["origin", "parent", "child", "axis", "limit", "mimic", "safety_controller"],
    idle: ["calibration", "dynamics", "gazebo"],
  },
} as const;

export interface UrdfReading {
  readonly urdf: Urdf;
  /** Faults of joints and names: with an error among them no pose can be trusted. */
  readonly problems: readonly UrdfProblem[];
  /** Faults of what links carry; that part is left out. */
  readonly loads: readonly UrdfProblem[];
}

/**
 * Reads the text of a URDF file. Never throws; what can't be read is left out and has its finding. Whether joints and
 * links fit together is not looked at: see `serialChain`.
 */
export function readUrdf(text: string): UrdfReading {
  const problems: UrdfFaults = [];
  const loads: UrdfFaults = [];
  const document = parseXml(text);
  if ("fault" in document) {
    const { code, span, message } = document.fault;
    fault(problems, code, span, message);
    return { urdf: { links: [], joints: [] }, problems, loads };
  }
  const { root } = document;
  if (root.name !== "robot") {
    const message = `A URDF file is one \`<robot>\`; this one begins with \`<${root.name}>\`.`;
    fault(problems, "wrong-kind", root.nameSpan, message);
    return { urdf: { links: [], joints: [] }, problems, loads };
  }
  reportTags(problems, [root], "robot");
  const elements = root.children.filter(({ name }) => name === "link" || name === "joint");
  const jointCount = elements.filter(({ name }) => name === "joint").length;
  if (jointCount > MAX_JOINTS) {
    const message = `The file has ${jointCount} joints; at most ${MAX_JOINTS} are read.`;
    fault(problems, "too-large", root.nameSpan, message);
    return { urdf: { links: [], joints: [] }, problems, loads };
  }
  const isLink = ({ name }: XmlElement): boolean => name === "link";
  reportTags(loads, elements.filter(isLink), "link");
  reportTags(
    problems,
    elements.filter((element) => !isLink(element)),
    "joint",
  );
  const links = elements.flatMap((each) => (each.name === "link" ? (readLink(problems, loads, each) ?? []) : []));
  const joints = elements.flatMap((each) => (each.name === "joint" ? (readJoint(problems, each) ?? []) : []));
  reportTwice(problems, "links", links);
  reportTwice(problems, "joints", joints);
  return { urdf: { links, joints }, problems, loads };
}

function reportTwice(to: UrdfFaults, what: string, named: readonly { readonly name: Placed<string> }[]): void {
  const seen = new Set<string>();
  for (const { name } of named) {
    if (seen.has(name.value)) fault(to, "duplicate-name", name.span, `Two ${what} are called \`${name.value}\`.`);
    seen.add(name.value);
  }
}

/** A tag that is near to one that is read is a slip; others are named once, so that nothing is dropped in silence. */
function reportTags(to: UrdfFaults, parents: readonly XmlElement[], kind: keyof typeof TAGS): void {
  const { read, idle } = TAGS[kind];
  const known: readonly string[] = [...read, ...idle];
  const children = parents.flatMap((parent) => parent.children);
  const macro = children.find(({ name }) => name.startsWith("xacro:"));
  if (macro) {
    const message = "This is a xacro file, a recipe for a URDF file: run xacro on it and name what comes out.";
    fault(to, "wrong-kind", macro.nameSpan, message);
    return;
  }
  const far: XmlElement[] = [];
  for (const child of children) {
    if (known.includes(child.name)) continue;
    const nearest = nearestName(child.name, known);
    if (nearest !== undefined && (read as readonly string[]).includes(nearest)) {
      const message = `\`${kind}\` has no \`<${child.name}>\`. Did you mean \`<${nearest}>\`?`;
      fault(to, "unknown-field", child.nameSpan, message);
    } else far.push(child);
  }
  if (far.length === 0 || kind === "robot") return;
  const names = [...new Set(far.map(({ name }) => name))];
  const are = names.length === 1 ? "is" : "are";
  remark(to, "unknown-field", far[0].nameSpan, `Within \`${kind}\`, ${listing(names, "and")} ${are} not read.`);
}
