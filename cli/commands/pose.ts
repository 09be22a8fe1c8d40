import { quatFromMatrix } from "../../core/base/quat.ts";
import type { PlacedFinding } from "../../core/checks/finding.ts";
import { placeFinding, placeProblem } from "../../core/checks/place-finding.ts";
import { nearestAllowed, poseFindings } from "../../core/checks/axes/pose-findings.ts";
import { pupilAt } from "../../core/lens/pupil.ts";
import type { ResolvedOptics } from "../../core/lens/resolved-optics.ts";
import { compileRig, createPoseBuffer, fillFollowers, forward, ownFrame, pupilPosition } from "../../core/rig/chain.ts";
import type { ResolvedRig } from "../../core/rig/resolved-rig.ts";
import { indexLines } from "../../core/syntax/lines.ts";
import { applyAxisList } from "../axis-list.ts";
import type { Given } from "../documents.ts";
import type { Outcome } from "../failure.ts";
import { describeFindings } from "../finding-lines.ts";
import { focusOf } from "../focus-option.ts";
import { ANSWER_VERSION, renderJson } from "../json.ts";
import { isOutcome, readRig } from "../rig-document.ts";
import { findingAnswer } from "../finding-answer.ts";

export interface PoseOptions {
  /** `name=value`, separated by commas. */
  readonly axes: string;
  readonly camera?: string;
  readonly lens?: string;
  readonly focus?: string;
  readonly format: "text" | "json";
}

/** The base's frame is the only one there is without a move; its labels count from 0. */
const NO_TIME = { rate: { num: 25, den: 1, nominal: 25, drop: false }, startFrame: 0 };

/**
 * `movewright pose`: the camera mount, or with a camera the lens's entrance pupil (a zoom at its short end,
 * focused as `--focus` says, else at infinity), in the frame of the base. Axes left out are 0, or the allowed value nearest
 * to it. Values outside a range are computed and listed.
 */
export function poseCommand(path: string, options: PoseOptions): Outcome {
  const read = readRig(path, options);
  if (isOutcome(read)) return read;
  const { given, text, rig, optics, problems, origins } = read;
  const q = Float64Array.from(rig.joints, (joint) => (joint.type === "fixed" ? 0 : nearestAllowed(joint, 0)));
  applyAxisList(rig, "--axes", options.axes, q);
  fillFollowers(compileRig(rig), q);
  const findings = [
    ...problems.filter((problem) => problem.place.file === given.file).map(placeProblem),
    ...poseFindings(rig, q).map((finding) => placeFinding(finding, given.file, origins, NO_TIME)),
  ];
  const answer = poseOf(rig, optics, focusOf(options.focus, optics !== undefined), q);
  if (options.format === "text") return { output: renderText(answer, given, text, findings), exit: 0 };
  const lines = indexLines(text);
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

function poseOf(rig: ResolvedRig, optics: ResolvedOptics | undefined, focus: number, q: Float64Array): PoseAnswer {
  const chain = compileRig(rig);
  const pose = createPoseBuffer(chain);
  forward(chain, ownFrame(), q, pose);
  const position = Float64Array.from(pose.mountPosition);
  if (optics) pupilPosition(pose, pupilAt(optics, optics.focal.low, focus), position);
  return {
    frame: "base",
    point: optics ? "pupil" : "mount",
    position: [...position],
    rotation: quatFromMatrix(pose.mountRotation),
  };
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
