import { quatFromMatrix } from "../../core/base/quat.ts";
import { parseQuantity } from "../../core/base/units.ts";
import type { PlacedFinding } from "../../core/checks/finding.ts";
import { placeFinding, placeProblem } from "../../core/checks/place-finding.ts";
import { nearestAllowed, poseFindings } from "../../core/checks/pose-findings.ts";
import { pupilAt } from "../../core/lens/project.ts";
import type { ResolvedOptics } from "../../core/lens/resolved-optics.ts";
import { resolveOptics } from "../../core/model/resolve-optics.ts";
import { resolveRig } from "../../core/model/resolve-rig.ts";
import { compileRig, createPoseBuffer, fillFollowers, forward, ownFrame, pupilPosition } from "../../core/rig/chain.ts";
import type { ResolvedRig } from "../../core/rig/resolved-rig.ts";
import { indexLines } from "../../core/syntax/lines.ts";
import { findDocument, sourcesFor, type Given } from "../documents.ts";
import { Failure, type Outcome } from "../failure.ts";
import { describeFindings } from "../finding-lines.ts";
import { ANSWER_VERSION, renderJson } from "../json.ts";
import { findingAnswer } from "./check.ts";

export interface PoseOptions {
  /** `name=value`, separated by commas. */
  readonly axes: string;
  readonly camera?: string;
  readonly lens?: string;
  readonly format: "text" | "json";
}

/** The base's frame is the only one there is without a move; its labels count from 0. */
const NO_TIME = { rate: { num: 25, den: 1, nominal: 25, drop: false }, startFrame: 0 };

/**
 * `movewright pose`: the camera mount, or with a camera the lens's entrance pupil (a zoom at its short end), in the frame
 * of the base. Axes left out are 0, or the allowed value nearest to it. Values outside a range are computed and listed.
 */
export function poseCommand(path: string, options: PoseOptions): Outcome {
  if ((options.camera === undefined) !== (options.lens === undefined)) {
    throw new Failure("--camera and --lens go together: the one names the document, the other a lens in it");
  }
  const rigFile = findDocument(path, "rig");
  const cameraFile = options.camera === undefined ? undefined : findDocument(options.camera, "camera");
  const sources = sourcesFor(cameraFile ? [rigFile, cameraFile] : [rigFile]);
  const textOf = ({ file }: Given): string => {
    const state = sources.read(file);
    return state.state === "text" ? state.text : "";
  };
  const { rig, problems, origins } = resolveRig(rigFile.file, sources);
  if (!rig) return unreadable(rigFile, textOf(rigFile), problems.map(placeProblem));
  let optics: ResolvedOptics | undefined;
  if (cameraFile && options.lens !== undefined) {
    const camera = resolveOptics(cameraFile.file, sources);
    optics = camera.optics.get(options.lens);
    const hasErrors = camera.problems.some((problem) => problem.severity === "error");
    if (!optics && hasErrors) return unreadable(cameraFile, textOf(cameraFile), camera.problems.map(placeProblem));
    if (!optics) throw new Failure(`${cameraFile.path} has no lens ${options.lens}; it has ${listed(camera.optics)}`);
  }
  const q = axisValues(rig, options.axes);
  const findings = [
    ...problems.filter((problem) => problem.place.file === rigFile.file).map(placeProblem),
    ...poseFindings(rig, q).map((finding) => placeFinding(finding, rigFile.file, origins, NO_TIME)),
  ];
  const answer = poseOf(rig, optics, q);
  if (options.format === "text") return { output: renderText(answer, rigFile, textOf(rigFile), findings), exit: 0 };
  const lines = indexLines(textOf(rigFile));
  const placed = findings.map((finding) => findingAnswer(finding, lines));
  return { output: renderJson({ version: ANSWER_VERSION, ...answer, findings: placed }), exit: 0 };
}

interface PoseAnswer {
  readonly frame: "base";
  readonly point: "mount" | "pupil";
  /** [m] */
  readonly position: readonly number[];
  /** Takes camera vectors to base vectors, w >= 0. */
  readonly rotation: readonly number[];
}

function poseOf(rig: ResolvedRig, optics: ResolvedOptics | undefined, q: Float64Array): PoseAnswer {
  const chain = compileRig(rig);
  const pose = createPoseBuffer(chain);
  forward(chain, ownFrame(), q, pose);
  const position = Float64Array.from(pose.mountPosition);
  if (optics) pupilPosition(pose, pupilAt(optics, optics.focal.low), position);
  return {
    frame: "base",
    point: optics ? "pupil" : "mount",
    position: [...position],
    rotation: quatFromMatrix(pose.mountRotation),
  };
}

/** Values of all joints, shape (joints,): those of the list, the others 0 or nearest to it; followers follow. */
function axisValues(rig: ResolvedRig, list: string): Float64Array {
  const q = Float64Array.from(rig.joints, (joint) => (joint.type === "fixed" ? 0 : nearestAllowed(joint, 0)));
  const given = new Set<string>();
  for (const part of list.split(",")) {
    if (part.trim() === "") continue;
    const [name, value] = splitOnce(part);
    if (value === undefined || name === "") throw new Failure(`--axes takes name=value; \`${part.trim()}\` is not`);
    const idx = rig.joints.findIndex((joint) => joint.name === name && joint.type !== "fixed");
    const joint = rig.joints[idx];
    if (!joint) throw new Failure(`--axes: the rig has no axis ${name}; it has ${axisNames(rig)}`);
    if (joint.follows) throw new Failure(`--axes: ${name} follows ${rig.joints[joint.follows.leader].name}; give that`);
    if (given.has(name)) throw new Failure(`--axes: ${name} is given twice`);
    given.add(name);
    const parsed = parseQuantity(value, joint.type === "linear" ? "length" : "angle");
    if (!parsed.ok) throw new Failure(`--axes: ${name}: ${parsed.message}`);
    q[idx] = parsed.value;
  }
  fillFollowers(compileRig(rig), q);
  return q;
}

function splitOnce(part: string): [string, string | undefined] {
  const at = part.indexOf("=");
  return at < 0 ? [part.trim(), undefined] : [part.slice(0, at).trim(), part.slice(at + 1).trim()];
}

const listed = (optics: ReadonlyMap<string, ResolvedOptics>): string => [...optics.keys()].join(", ") || "none";

const axisNames = (rig: ResolvedRig): string =>
  rig.joints
    .filter((joint) => joint.type !== "fixed" && !joint.follows)
    .map((joint) => joint.name)
    .join(", ");

function unreadable({ path }: Given, text: string, findings: readonly PlacedFinding[]): Outcome {
  const lines = describeFindings(path, text, findings);
  return { output: "", exit: 1, notes: [...lines, `movewright: ${path} cannot be used before this is mended`] };
}

function renderText(answer: PoseAnswer, { path }: Given, text: string, findings: readonly PlacedFinding[]): string {
  const [x, y, z] = answer.position.map((part) => part.toFixed(6));
  const turn = answer.rotation.map((part) => part.toFixed(9)).join(", ");
  const lines = [
    `${answer.point} in the base's frame`,
    `position  [${x}, ${y}, ${z}] m`,
    `rotation  [${turn}] (x, y, z, w)`,
    ...describeFindings(path, text, findings),
  ];
  return `${lines.join("\n")}\n`;
}
