import { readFileSync } from "node:fs";
import { quatFromMatrix } from "../../core/base/quat.ts";
import { runToEnd } from "../../core/base/task.ts";
import { unproject } from "../../core/lens/project.ts";
import { pupilAt } from "../../core/lens/pupil.ts";
import { aimAxes, aimPlan } from "../../core/rig/aim-axes.ts";
import { compileRig, createPoseBuffer, forward, pupilPosition, type Chain } from "../../core/rig/chain.ts";
import type { ReachOrientation } from "../../core/rig/reach-equations.ts";
import { createReachSolver, type ReachSolver } from "../../core/rig/reach-solver.ts";
import { reachAxes, reachTask, type ReachResult } from "../../core/rig/reach.ts";
import { Failure, type Outcome } from "../failure.ts";
import { focusOf } from "../focus-option.ts";
import { ANSWER_VERSION, renderJson } from "../json.ts";
import { readOrder, type ReachOrder, type ReachQuestion } from "../reach-request.ts";
import { readScene, type ReachScene } from "../reach-scene.ts";
import { isOutcome } from "../rig-document.ts";

export interface ReachOptions {
  readonly from?: string;
  readonly aim?: string;
  readonly rotation?: string;
  readonly framing?: string;
  readonly roll?: string;
  readonly near?: string;
  readonly camera?: string;
  readonly lens?: string;
  readonly focus?: string;
  readonly format: "text" | "json";
}

/** Metres, degrees for turning axes, the quaternion w >= 0. */
export interface ReachAnswer {
  readonly status: ReachResult["status"];
  /** Driven axes and the set-up, as `pose --axes` takes them. */
  readonly axes: Readonly<Record<string, number>>;
  /** Pupil, or mount without a camera, at these axes. */
  readonly position: readonly number[];
  readonly rotation: readonly number[];
  readonly error: { readonly m: number; readonly rad: number };
  readonly nearest?: readonly number[];
  readonly distance?: number;
  readonly stoppedBy?: readonly string[];
}

/**
 * `movewright reach`: the axes that bring the camera to a place and let it look as asked, inside their ranges and near
 * given values; or the nearest place that it can look so from. Without `--aim` or `--rotation` the place alone counts, and
 * a head stays at the values given. Without `--from`, one question a line of standard input,
 * as JSON, the options serving for what a line leaves out; answers in the same order, a line each.
 */
export function reachCommand(path: string, options: ReachOptions): Outcome {
  const scene = readScene(path, options);
  if (isOutcome(scene)) return scene;
  const solve = solverOf(scene, focusOf(options.focus, scene.optics !== undefined));
  const { from, aim, rotation, framing, roll, near } = options;
  const given: ReachQuestion = { from, aim, rotation, framing, roll, near };
  if (from === undefined) return answerLines(scene, solve, given);
  const answer = solve(readOrder(scene, given));
  const point = scene.optics ? "pupil" : "mount";
  if (options.format === "text") return { output: renderText(scene, point, answer), exit: 0 };
  return { output: renderJson({ version: ANSWER_VERSION, frame: scene.frame, point, ...answer }), exit: 0 };
}

function answerLines(scene: ReachScene, solve: (order: ReachOrder) => ReachAnswer, given: ReachQuestion): Outcome {
  if (process.stdin.isTTY) throw new Failure("give --from, or questions as JSON lines on standard input");
  const lines = readFileSync(0, "utf8").split("\n");
  let refused = 0;
  const answers = lines.flatMap((line) => {
    if (line.trim() === "") return [];
    try {
      return [oneLine(solve(readOrder(scene, merged(given, line))))];
    } catch (error) {
      if (!(error instanceof Failure)) throw error;
      refused += 1;
      return [oneLine({ status: "refused", message: error.message })];
    }
  });
  const notes = refused === 0 ? [] : [`movewright: ${refused} of ${answers.length} questions could not be asked`];
  return { output: answers.map((answer) => `${answer}\n`).join(""), exit: refused === 0 ? 0 : 1, notes };
}

const oneLine = (value: object): string => JSON.stringify(value, (_key, item: unknown) => (item === 0 ? 0 : item));

/** The line's own fields before those of the options; an aim and a rotation stand for each other. */
function merged(given: ReachQuestion, line: string): ReachQuestion {
  let own: unknown;
  try {
    own = JSON.parse(line);
  } catch {
    throw new Failure("the line is no JSON");
  }
  if (typeof own !== "object" || own === null || Array.isArray(own)) throw new Failure("the line is no JSON object");
  const fields = ["from", "aim", "rotation", "framing", "roll", "near"];
  const unknown = Object.keys(own).find((name) => !fields.includes(name));
  if (unknown !== undefined) throw new Failure(`${unknown} is no field of a question; it has ${fields.join(", ")}`);
  const { aim, rotation, ...rest } = given;
  const looks = "aim" in own || "rotation" in own ? {} : { aim, rotation };
  return { ...rest, ...looks, ...(own as ReachQuestion) };
}

/**
 * Solves orders of one scene, finding what its chain allows once.
 *
 * @param focus Focus distance from the sensor plane [m]; NaN for infinity.
 */
function solverOf(scene: ReachScene, focus: number): (order: ReachOrder) => ReachAnswer {
  const chain = compileRig(scene.rig);
  const solvers = new Map<string, ReachSolver>();
  return (order) => {
    const focal = scene.optics?.focal.low ?? NaN;
    const pupil = scene.optics ? pupilAt(scene.optics, focal, focus) : 0;
    const { orientation, axes, near } = lookOf(scene, chain, order, focal);
    const solver = solvers.get(axes.join()) ?? createReachSolver(chain, axes);
    solvers.set(axes.join(), solver);
    const goal = { position: order.from, pupil, orientation };
    const task = reachTask(solver, scene.base, { goal, axes, preferred: near, search: "nearest" });
    return answerOf(scene, chain, pupil, runToEnd(task));
  };
}

function lookOf(
  scene: ReachScene,
  chain: Chain,
  { look, framing, roll, near }: ReachOrder,
  focal: number,
): { orientation: ReachOrientation; axes: readonly number[]; near: Float64Array } {
  if (!look) {
    const heading = aimAxes(scene.rig);
    const axes = Array.from(chain.driven).filter((joint) => !heading.includes(joint));
    return { orientation: { kind: "free" }, axes, near };
  }
  if ("rotation" in look) {
    return { orientation: { kind: "turn", turn: look.rotation }, axes: Array.from(chain.driven), near };
  }
  const plan = aimPlan(scene.rig, roll ?? 0, scene.up);
  const preferred = Float64Array.from(near);
  if (plan.rollAxis !== undefined) preferred[plan.rollAxis] = roll ?? 0;
  const sight: [number, number, number] = [1, 0, 0];
  const [across, down] = framing ?? [0.5, 0.5];
  if (scene.optics && !unproject(scene.optics, focal, across, down, sight)) {
    throw new Failure(`--framing: the lens forms no picture at ${across}, ${down}`);
  }
  return {
    orientation: { kind: "view", target: look.at, sight, rule: plan.rule },
    axes: reachAxes(scene.rig, plan),
    near: preferred,
  };
}

function answerOf(scene: ReachScene, chain: Chain, pupil: number, result: ReachResult): ReachAnswer {
  const pose = createPoseBuffer(chain);
  const at = new Float64Array(3);
  forward(chain, scene.base, result.q, pose);
  pupilPosition(pose, pupil, at);
  const named = scene.rig.joints.flatMap(({ name, type, follows }, i): [string, number][] =>
    type === "fixed" || follows ? [] : [[name, type === "rotary" ? (result.q[i] * 180) / Math.PI : result.q[i]]],
  );
  return {
    status: result.status,
    axes: Object.fromEntries(named),
    position: [...at],
    rotation: quatFromMatrix(pose.mountRotation),
    error: { m: result.positionError, rad: result.angleError },
    ...(result.nearest && { nearest: result.nearest }),
    ...(result.distance !== undefined && { distance: result.distance }),
    ...(result.stoppedBy && { stoppedBy: result.stoppedBy.map((axis) => scene.rig.joints[axis].name) }),
  };
}

function renderText({ frame }: ReachScene, point: string, answer: ReachAnswer): string {
  const six = (value: number): string => (Math.round(value * 1e6) / 1e6 || 0).toFixed(6);
  const place = (at: readonly number[]): string => `[${at.map(six).join(", ")}] m`;
  const stopped = answer.stoppedBy ?? [];
  const claim =
    answer.status === "converged"
      ? `${point} in the ${frame}'s frame, reached`
      : answer.status === "out-of-reach"
        ? `${point} in the ${frame}'s frame: ${(answer.distance ?? NaN).toFixed(6)} m out of reach; the nearest place`
        : "no axis values were found: the question has no meaning for this rig, or its target is at the camera";
  const lines = [
    claim,
    `position  ${place(answer.position)}`,
    `rotation  [${answer.rotation.map((part) => part.toFixed(9)).join(", ")}] (x, y, z, w)`,
    ...Object.entries(answer.axes).map(([name, value]) => `${name.padEnd(9)} ${six(value)}`),
    ...(answer.status !== "out-of-reach"
      ? []
      : [
          0 < stopped.length
            ? `stopped by ${stopped.join(", ")}`
            : "no axis is at an end of its range: the arm is at full stretch, or the rig has no axis that way",
        ]),
  ];
  return `${lines.join("\n")}\n`;
}
