import { listing } from "../base/listing.ts";
import { nearestName } from "../base/nearest-name.ts";
import { composePoses, IDENTITY_POSE, type Pose } from "../base/pose.ts";
import { fault, type Urdf, type UrdfFaults, type UrdfJoint, type UrdfLink, type UrdfProblem } from "./urdf.ts";

/** A link and where it is on the chain. */
export interface HungLink {
  readonly link: UrdfLink;
  /** Index of the joint of the chain that carries it, -1 for the base. */
  readonly on: number;
  /** Its frame in the frame of the chain's link. */
  readonly pose: Pose;
}

/** The joints from the root to the tip, and all that they carry. */
export interface SerialChain {
  readonly tip: string;
  readonly joints: readonly UrdfJoint[];
  /** Links of the chain, and those that hang on it by fixed joints. */
  readonly carried: readonly HungLink[];
  /** Links that joints beside the chain move, which are not part of it. */
  readonly left: readonly UrdfLink[];
}

/** Why there is no chain. `tips` stand there where the file has several ends and the rig must name one. */
export interface NoChain {
  readonly problems: readonly UrdfProblem[];
  readonly tips?: readonly string[];
}

/**
 * The serial chain from the one root to a link.
 *
 * @param urdf As `readUrdf` gave it, names unique.
 * @param tip  Name of the chain's last link, one of the file; `undefined` for the only one that carries no joint.
 */
export function serialChain(urdf: Urdf, tip: string | undefined): SerialChain | NoChain {
  const problems: UrdfFaults = [];
  const start = { start: 0, end: 1 };
  if (urdf.joints.length === 0) {
    fault(
      problems,
      "degenerate-chain",
      urdf.links[0]?.name.span ?? start,
      "The file has no joint, so nothing can move.",
    );
    return { problems };
  }
  const links = new Map(urdf.links.map((link) => [link.name.value, link]));
  const above = parentJoints(problems, urdf, links);
  if (problems.length > 0) return { problems };
  const roots = urdf.links.filter(({ name }) => !above.has(name.value));
  if (roots.length !== 1) {
    reportRoots(problems, urdf, roots);
    return { problems };
  }
  // A circle has a root of its own only beside another tree, which two roots would have told.
  const circle = urdf.links.find(({ name }) => !reaches(above, name.value, roots[0].name.value));
  if (circle) {
    const message = `Link \`${circle.name.value}\` hangs in a circle of joints, which leads to no root.`;
    fault(problems, "degenerate-chain", circle.name.span, message);
    return { problems };
  }
  const carriers = new Set(urdf.joints.map(({ parent }) => parent.value));
  const tips = urdf.links.map(({ name }) => name.value).filter((name) => !carriers.has(name));
  const last = tip ?? (tips.length === 1 ? tips[0] : undefined);
  if (last === undefined) return { problems, tips };
  const joints = pathTo(above, last);
  if (joints.length > 0) return { tip: last, joints, ...hang(urdf, above, joints) };
  fault(problems, "degenerate-chain", roots[0].name.span, `\`${last}\` is the root, so no joint leads to it.`);
  return { problems };
}

/** The joint above each link. */
function parentJoints(
  to: UrdfFaults,
  { joints }: Urdf,
  links: ReadonlyMap<string, UrdfLink>,
): ReadonlyMap<string, UrdfJoint> {
  const above = new Map<string, UrdfJoint>();
  for (const joint of joints) {
    for (const end of [joint.parent, joint.child]) {
      if (links.has(end.value)) continue;
      const nearest = nearestName(end.value, links.keys());
      const advice = nearest ? ` Did you mean \`${nearest}\`?` : "";
      fault(
        to,
        "missing-field",
        end.span,
        `Joint \`${joint.name.value}\` names \`${end.value}\`, but there is no such link.${advice}`,
      );
    }
    const other = above.get(joint.child.value);
    if (other) {
      const message = `Link \`${joint.child.value}\` hangs on two joints, \`${other.name.value}\` and \`${joint.name.value}\`.`;
      fault(to, "over-determined", joint.child.span, message);
    }
    above.set(joint.child.value, joint);
  }
  return above;
}

function reportRoots(to: UrdfFaults, { links }: Urdf, roots: readonly UrdfLink[]): void {
  if (roots.length === 0) {
    const message = "Every link hangs on another: the joints go in a circle and there is no root.";
    fault(to, "degenerate-chain", links[0]?.name.span ?? { start: 0, end: 1 }, message);
    return;
  }
  const names = listing(
    roots.map(({ name }) => name.value),
    "and",
  );
  const message = `The file has ${roots.length} roots, ${names}: one link stands on the floor, each other hangs on a joint.`;
  fault(to, "degenerate-chain", roots[1].name.span, message);
}

function reaches(above: ReadonlyMap<string, UrdfJoint>, link: string, root: string): boolean {
  const seen = new Set<string>();
  for (let at = link; !seen.has(at); at = above.get(at)?.parent.value ?? at) {
    if (at === root) return true;
    seen.add(at);
  }
  return false;
}

/** Joints from the root to a link, in order. */
function pathTo(above: ReadonlyMap<string, UrdfJoint>, link: string): UrdfJoint[] {
  const joints: UrdfJoint[] = [];
  for (let joint = above.get(link); joint; joint = above.get(joint.parent.value)) joints.push(joint);
  return joints.reverse();
}

function hang(
  { links }: Urdf,
  above: ReadonlyMap<string, UrdfJoint>,
  chain: readonly UrdfJoint[],
): Pick<SerialChain, "carried" | "left"> {
  const index = new Map(chain.map((joint, idx) => [joint.child.value, idx]));
  const root = chain[0].parent.value;
  const carried: HungLink[] = [];
  const left: UrdfLink[] = [];
  for (const link of links) {
    let pose = IDENTITY_POSE;
    let at = link.name.value;
    let joint = above.get(at);
    while (at !== root && !index.has(at) && joint?.type === "fixed") {
      pose = composePoses(joint.origin, pose);
      at = joint.parent.value;
      joint = above.get(at);
    }
    const on = at === root ? -1 : index.get(at);
    if (on === undefined) left.push(link);
    else carried.push({ link, on, pose });
  }
  return { carried, left };
}
