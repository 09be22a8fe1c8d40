import { toDisplay, trimmed } from "../../base/units.ts";
import { invertQuat, rotateByQuat } from "../../base/quat.ts";
import type { Vec2, Vec3 } from "../../base/vec3.ts";
import type { OriginId } from "../../base/origin-id.ts";
import type { Task } from "../../base/task.ts";
import { capturedFraming } from "../../lens/project.ts";
import { planTrajectory } from "../../motion/plan.ts";
import type { ResolvedKey } from "../../motion/resolved-move.ts";
import type { SetValue } from "../finding.ts";
import type { CutSide } from "./cut.ts";
import { deliveredAt, shownAt, viewFigures, type Shown } from "./shown.ts";

/** A value of the second key that may bring the pictures together. */
interface Candidate {
  readonly key: ResolvedKey;
  readonly origin: OriginId;
  /** As written. */
  readonly value: string;
  /** What is set, as a quick fix says it. */
  readonly what: string;
}

/**
 * Values that, set at the second key, make the cut match: its camera's place, its framing, focal length and roll as the first
 * key has them, each where the key states one. Each is tried by planning the second move with it, and offered only when the pictures then
 * agree.
 *
 * @param matches Whether the second side, seen so, matches the first.
 */
export function* cutCures(from: CutSide, to: CutSide, matches: (second: Shown) => boolean): Task<readonly SetValue[]> {
  const { move, trajectory, originOf } = to.one;
  const index = move.keys.indexOf(to.key);
  const sets: SetValue[] = [];
  for (const { key, origin, value, what } of candidates(from, to)) {
    const tried = { ...move, keys: move.keys.map((each, idx) => (idx === index ? key : each)) };
    const trial = yield* planTrajectory(tried, trajectory.record);
    if (!matches(shownAt(trial, to.target, key.time))) continue;
    const title = `Set ${what} at ${to.end.reference} to ${value}, as at ${from.end.reference}`;
    sets.push({ origin: originOf(origin), value, title });
  }
  return sets;
}

function candidates(from: CutSide, to: CutSide): Candidate[] {
  return [...placeCandidates(from, to), ...pictureCandidates(from, to)];
}

/** The camera point of the second key, so that its camera stands to the target as the first one does. */
function placeCandidates({ shown: { sight } }: CutSide, { key, target, shown, one: { move } }: CutSide): Candidate[] {
  const { camera } = key;
  if (!camera?.placeOrigin) return [];
  const { placeOrigin: origin } = camera;
  const back: Vec3 = [-sight[0], -sight[1], -sight[2]];
  if (camera.kind === "at") {
    // The target is where the second camera sees it from its own place.
    const at = sum(sum(camera.at, shown.sight), back).map(tenMicrons) as unknown as Vec3;
    return [{ key: { ...key, camera: { ...camera, at } }, origin, value: listed(at), what: "`at` of the camera" }];
  }
  const isTurned = camera.in !== undefined;
  if (camera.from !== target || (isTurned && move.targets[target].on !== camera.in)) return [];
  const own = isTurned && shown.turned ? rotateByQuat(invertQuat(shown.turned), back) : back;
  const offset = own.map(tenMicrons) as unknown as Vec3;
  return [
    { key: { ...key, camera: { ...camera, offset } }, origin, value: listed(offset), what: "`offset` of the camera" },
  ];
}

const sum = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];

/** [m] A hundredth of a millimetre: nearer no camera is set. */
const tenMicrons = (length: number): number => Number(trimmed(length, 5));

const listed = (numbers: readonly number[]): string => `[${numbers.join(", ")}]`;

/** Framing, focal length and roll of the second key as the first has them. */
function pictureCandidates(from: CutSide, to: CutSide): Candidate[] {
  const { key } = to;
  const { optics, deliver } = to.one.move;
  const out: Candidate[] = [];
  const framing = capturedFraming(optics, deliver, deliveredAt(from.shown)).map(fivePlaces);
  if (key.framing && key.framingOrigin && framing.every(Number.isFinite)) {
    const set: Vec2 = [framing[0], framing[1]];
    const value = listed(framing);
    out.push({ key: { ...key, framing: set }, origin: key.framingOrigin, value, what: "`framing`" });
  }
  const focal = Number(trimmed(1000 * from.shown.focal, 4)) / 1000;
  if (key.zoom && optics.focal.low <= focal && focal <= optics.focal.high) {
    const { origin } = key.zoom;
    const value = `${trimmed(1000 * focal, 4)} mm`;
    out.push({ key: { ...key, zoom: { focal, origin } }, origin, value, what: "`zoom`" });
  }
  const { roll } = viewFigures(from.shown);
  if (key.roll && Number.isFinite(roll)) {
    const { origin } = key.roll;
    const shown = Number(trimmed(toDisplay(roll, "angle"), 4));
    const angle = (shown * Math.PI) / 180;
    const value = `${trimmed(shown, 4)} deg`;
    out.push({ key: { ...key, roll: { kind: "angle", angle, origin } }, origin, value, what: "`roll`" });
  }
  return out;
}

/** Five decimals of a framing: 0.03 px of 6,000. */
const fivePlaces = (share: number): number => Number(trimmed(share, 5));
