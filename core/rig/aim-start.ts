import { quatAbout, rotateByQuat } from "../base/quat.ts";
import { add, cross, dot, length, normalise, scale, subtract, type Vec3 } from "../base/vec3.ts";
import { createPoseBuffer, fillFollowers, forward, pupilPosition, type BaseFrame, type Chain } from "./chain.ts";
import { turnFromTo, twoTurns } from "./two-turns.ts";
import { turnByTriads, viewTriads } from "./view-rotation.ts";
import type { View } from "./view.ts";

/** Values of the aim axes to start Newton's method from, in the order of `axes` [rad]. */
export type AimStart = number[];

/** An aim axis as a line in the set while all aim axes are at 0. */
interface AxisLine {
  readonly joint: number;
  readonly through: Vec3;
  readonly along: Vec3;
}

/**
 * Starts for the aim in closed form, one or more a branch: exact for two aim axes that meet in one point, the pupil's
 * offset included, and near otherwise. Other joints keep the values of `q`.
 *
 * @param axes Joint indices of two or three turning axes.
 */
export function aimStarts(
  chain: Chain,
  base: BaseFrame,
  q: Float64Array,
  axes: readonly number[],
  view: View,
): AimStart[] {
  const zero = Float64Array.from(q);
  for (const joint of axes) zero[joint] = 0;
  fillFollowers(chain, zero);
  const pose = createPoseBuffer(chain);
  forward(chain, base, zero, pose);
  const lines = axes.map((joint) => axisLine(chain, pose.rotations, pose.positions, joint));
  // Turns compose from the outside in, whatever order the axes are named in.
  lines.sort((a, b) => a.joint - b.joint);
  const pupil = new Float64Array(3);
  pupilPosition(pose, view.pupil, pupil);
  const pupilAt: Vec3 = [pupil[0], pupil[1], pupil[2]];
  const sight = normalise(toSet(pose.mountRotation, view.sight));
  if (!sight || lines.length < 2) return [];
  const found =
    lines.length === 2
      ? twoAxisStarts(lines[0], lines[1], pupilAt, sight, view.target)
      : threeAxisStarts(lines, pupilAt, view, pose.mountRotation);
  return found.map((values) => axes.map((joint) => values[lines.findIndex((line) => line.joint === joint)] ?? 0));
}

/**
 * The ray from the pupil turns with the head about the point where the axes come nearest to each other. How far along
 * the ray the target is follows from its distance to that point; then two turns bring it there.
 */
function twoAxisStarts(outer: AxisLine, inner: AxisLine, pupil: Vec3, sight: Vec3, target: Vec3): AimStart[] {
  const square = cross(outer.along, inner.along);
  const sine2 = dot(square, square);
  if (sine2 < 1e-20) return [];
  const gap = subtract(inner.through, outer.through);
  const cosine = dot(outer.along, inner.along);
  const [d1, d2] = [dot(gap, outer.along), dot(gap, inner.along)];
  const outerPoint = add(outer.through, scale(outer.along, (d1 - cosine * d2) / sine2));
  const innerPoint = add(inner.through, scale(inner.along, (cosine * d1 - d2) / sine2));
  const between = subtract(innerPoint, outerPoint);
  const goal = subtract(target, outerPoint);
  const arm = subtract(pupil, innerPoint);
  const forwardPart = dot(arm, sight);
  const starts: AimStart[] = [];
  for (const branch of [0, 1]) {
    for (const side of [1, -1]) {
      let lift = 0;
      let angles: AimStart | undefined;
      // The axes' own distance enters through the branch: a few rounds settle it.
      for (let round = 0; round < 8; round++) {
        const reach2 = dot(goal, goal) - dot(between, between) - 2 * lift;
        const root = forwardPart * forwardPart - dot(arm, arm) + reach2;
        const ray = -forwardPart + side * Math.sqrt(Math.max(0, root));
        if (side < 0 && (ray <= 0 || root <= 0)) break;
        const from = add(arm, scale(sight, Math.max(ray, 1e-9)));
        // R_outer(between + c) = goal, and `between` is square to both axes, so only its length along c counts.
        const turned = twoTurns(outer.along, inner.along, from, goal)[branch];
        if (!turned) break;
        const c = rotateByQuat(quatAbout(inner.along, turned.inner), from);
        angles = [turnFromTo(outer.along, add(between, c), goal), turned.inner];
        const next = dot(between, c);
        if (Math.abs(next - lift) < 1e-14) break;
        lift = next;
      }
      if (angles) starts.push(angles);
    }
  }
  return starts;
}

/** The whole orientation follows from line of sight and horizon; the pupil moves a little as the head turns to it. */
function threeAxisStarts(lines: readonly AxisLine[], pupil: Vec3, view: View, mount: Float64Array): AimStart[] {
  const [outer, middle, inner] = lines;
  const starts: AimStart[] = [];
  for (const branch of [0, 1]) {
    let eye = pupil;
    let angles: AimStart | undefined;
    for (let round = 0; round < 12; round++) {
      const turn = turnToView(view, subtract(view.target, eye), mount);
      if (!turn) break;
      const pair = twoTurns(outer.along, middle.along, inner.along, turn(inner.along))[branch];
      if (!pair) break;
      const outerTurn = quatAbout(outer.along, pair.outer);
      const middleTurn = quatAbout(middle.along, pair.inner);
      // The innermost turn brings any direction square to its axis to where the two others still have to take it.
      const probe = normalise(cross(inner.along, Math.abs(inner.along[0]) < 0.7 ? [1, 0, 0] : [0, 1, 0])) ?? [0, 0, 1];
      const back = rotateByQuat(
        quatAbout(middle.along, -pair.inner),
        rotateByQuat(quatAbout(outer.along, -pair.outer), turn(probe)),
      );
      angles = [pair.outer, pair.inner, turnFromTo(inner.along, probe, back)];
      const aboutInner = turnAboutLine(inner, quatAbout(inner.along, angles[2]), pupil);
      const moved = turnAboutLine(outer, outerTurn, turnAboutLine(middle, middleTurn, aboutInner));
      const step = length(subtract(moved, eye));
      eye = moved;
      if (step < 1e-12) break;
    }
    if (angles) starts.push(angles);
  }
  return starts;
}

/**
 * The turn that takes the mount's orientation at zero to the wanted one, as a function on directions of the set;
 * `undefined` when target and pupil meet. Near the pole of the horizon the nearest lean is taken.
 */
function turnToView(view: View, toTarget: Vec3, mount: Float64Array): ((v: Vec3) => Vec3) | undefined {
  if (view.rule.kind !== "horizon") return undefined;
  const triads = viewTriads(view.sight, toTarget, view.rule.angle, view.rule.up);
  if (!triads) return undefined;
  return (v) =>
    // Set at zero to camera, camera to set.
    turnByTriads(triads, [
      mount[0] * v[0] + mount[3] * v[1] + mount[6] * v[2],
      mount[1] * v[0] + mount[4] * v[1] + mount[7] * v[2],
      mount[2] * v[0] + mount[5] * v[1] + mount[8] * v[2],
    ]);
}

function turnAboutLine(line: AxisLine, turn: ReturnType<typeof quatAbout>, point: Vec3): Vec3 {
  return add(line.through, rotateByQuat(turn, subtract(point, line.through)));
}

function axisLine(chain: Chain, rotations: Float64Array, positions: Float64Array, joint: number): AxisLine {
  const [r, p] = [9 * joint, 3 * joint];
  const v = chain.along.subarray(p, p + 3);
  const at = (row: number): number =>
    rotations[r + row] * v[0] + rotations[r + row + 1] * v[1] + rotations[r + row + 2] * v[2];
  return { joint, through: [positions[p], positions[p + 1], positions[p + 2]], along: [at(0), at(3), at(6)] };
}

function toSet(m: Float64Array, v: Vec3): Vec3 {
  return [
    m[0] * v[0] + m[1] * v[1] + m[2] * v[2],
    m[3] * v[0] + m[4] * v[1] + m[5] * v[2],
    m[6] * v[0] + m[7] * v[1] + m[8] * v[2],
  ];
}
