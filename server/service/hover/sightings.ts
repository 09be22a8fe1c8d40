import type { Trajectory } from "../../../core/motion/trajectory.ts";

/** Instants at which a target is looked at; between them its least and greatest distance are looked for more closely. */
const LOOKS = 300;
/** Halvings of the span around what is sought: a thousandth of the step. */
const HALVINGS = 12;

/** How one target is seen over a move. Times [s], distances from the pupil [m]. */
export interface Sightings {
  readonly nearest: { readonly t: number; readonly distance: number };
  readonly farthest: { readonly t: number; readonly distance: number };
  /** Stretches of time in which its place is in the captured picture; what is shorter than the step may be missed. */
  readonly inPicture: readonly { readonly from: number; readonly to: number }[];
  /** Time between two looks [s]. */
  readonly step: number;
}

/** Looks at a target at even steps over the whole move, and more closely where its distance is least and greatest. */
export function sightingsOf(trajectory: Trajectory, target: number): Sightings {
  const { duration } = trajectory;
  const instant = trajectory.createInstant();
  const step = duration / LOOKS;
  const distanceAt = (t: number): number => (trajectory.poseAt(t, instant), instant.distance[target]);
  const isIn = (t: number): boolean => {
    trajectory.poseAt(t, instant);
    const [across, down] = [instant.framing[2 * target], instant.framing[2 * target + 1]];
    return 0 <= across && across <= 1 && 0 <= down && down <= 1;
  };
  let [nearest, farthest] = [0, 0].map((t) => ({ t, distance: distanceAt(t) }));
  const inPicture: { from: number; to: number }[] = [];
  let wasIn = false;
  for (let look = 0; look <= LOOKS; look += 1) {
    const t = look === LOOKS ? duration : look * step;
    const distance = distanceAt(t);
    if (distance < nearest.distance) nearest = { t, distance };
    if (distance > farthest.distance) farthest = { t, distance };
    const nowIn = isIn(t);
    if (nowIn && !wasIn) inPicture.push({ from: look === 0 ? 0 : change(isIn, t - step, t), to: duration });
    if (!nowIn && wasIn) inPicture[inPicture.length - 1].to = change(isIn, t - step, t);
    wasIn = nowIn;
    if (duration === 0) break;
  }
  return {
    nearest: closer(distanceAt, nearest.t, step, duration, 1),
    farthest: closer(distanceAt, farthest.t, step, duration, -1),
    inPicture,
    step,
  };
}

/** When something changes between two times, by halving. */
function change(holds: (t: number) => boolean, from: number, to: number): number {
  const before = holds(from);
  for (let halving = 0; halving < HALVINGS; halving += 1) {
    const middle = (from + to) / 2;
    if (holds(middle) === before) from = middle;
    else to = middle;
  }
  return to;
}

/** The least of `sign` times the distance around `t`, by thirds. */
function closer(
  distanceAt: (t: number) => number,
  t: number,
  step: number,
  duration: number,
  sign: 1 | -1,
): { readonly t: number; readonly distance: number } {
  let [low, high] = [Math.max(0, t - step), Math.min(duration, t + step)];
  for (let halving = 0; halving < 2 * HALVINGS; halving += 1) {
    const [a, b] = [low + (high - low) / 3, high - (high - low) / 3];
    if (sign * distanceAt(a) <= sign * distanceAt(b)) high = b;
    else low = a;
  }
  const [found, there] = [(low + high) / 2, t].map((time) => ({ t: time, distance: distanceAt(time) }));
  // An even distance is told at its first instant.
  return sign * found.distance < sign * there.distance ? found : there;
}
