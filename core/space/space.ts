import { matrixFromQuat, quatFromMatrix } from "../base/quat.ts";
import type { Pose } from "../base/pose.ts";
import { composePoses } from "../base/pose.ts";
import type { Vec3 } from "../base/vec3.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import { baseFrame, compileRig, createPoseBuffer, FIXED, forward, LINEAR } from "../rig/chain.ts";
import type { BaseFrame, Chain, PoseBuffer } from "../rig/chain.ts";
import { placeCentre } from "../solid/convex.ts";
import { spaceBody, type BodyPart, type SpaceBody } from "./space-body.ts";

/** The part of a move that places its bodies once the values of its axes are known. */
export type SpaceMove = Pick<ResolvedMove, "rig" | "base" | "axes" | "turntables">;

/** What turns a table: its axis of the move, its place and direction. */
interface Table {
  readonly axis: number;
  readonly at: Vec3;
  readonly along: Vec3;
}

/** Bodies and all that moves them, compiled once. Frames are counted as levels: 0 is the set, k + 1 is link k. */
export interface Space {
  readonly chain: Chain;
  readonly base: BaseFrame;
  readonly bodies: readonly SpaceBody[];
  /** Axis of the move of each joint, -1 for a fixed one, shape (joints,). */
  readonly axisOf: Int32Array;
  /** Shape (joints,): 1 for a joint that slides, 2 for one that turns, 0 for a fixed one. */
  readonly moves: Uint8Array;
  readonly tables: readonly Table[];
  readonly axes: number;
}

/** Where everything is at one instant; its owner's, written again by each `placeBodies`. */
export interface Placed {
  t: number;
  /** Value of each axis of the move [m], [rad]. */
  readonly values: Float64Array;
  /** Focal length [m] and focus distance [m], NaN without one. */
  focal: number;
  focus: number;
  readonly q: Float64Array;
  readonly pose: PoseBuffer;
  /** Frames of the bodies in the set: a rotation (9,) and a position (3,) each [m]. */
  readonly rotations: readonly Float64Array[];
  readonly positions: readonly Float64Array[];
  /** Centres of the balls around the bodies, shape (bodies, 3) [m]. */
  readonly centres: Float64Array;
}

export function createSpace(move: SpaceMove, bodies: readonly SpaceBody[]): Space {
  const chain = compileRig(move.rig);
  const base = baseFrame(move.base);
  const frame: Pose = { at: vec(base.position), turn: quatFromMatrix(base.rotation) };
  return {
    chain,
    base,
    // What the base carries stands as still as the set.
    bodies: bodies.map((body) => (isStill(body) && !STANDING.has(body.part) ? stood(body, frame) : body)),
    axisOf: Int32Array.from(move.rig.joints, (_, joint) => move.axes.findIndex((axis) => axis.joint === joint)),
    moves: chain.kind.map((kind) => (kind === FIXED ? 0 : kind === LINEAR ? 1 : 2)),
    tables: move.turntables.map(({ at, along }, table) => ({
      axis: move.axes.findIndex((axis) => axis.turntable === table),
      at,
      along,
    })),
    axes: move.axes.length,
  };
}

const STANDING: ReadonlySet<BodyPart> = new Set(["obstacle", "person"]);

function stood(body: SpaceBody, frame: Pose): SpaceBody {
  const own: Pose = { at: vec(body.position), turn: quatFromMatrix(body.rotation) };
  return spaceBody(body, body.convex, composePoses(frame, own));
}

const vec = (from: Float64Array): Vec3 => [from[0], from[1], from[2]];

/** Bodies that stand still are placed here and never again. */
export function createPlaced(space: Space): Placed {
  const { bodies, chain } = space;
  const placed: Placed = {
    t: NaN,
    values: new Float64Array(space.axes),
    focal: NaN,
    focus: NaN,
    q: new Float64Array(chain.count),
    pose: createPoseBuffer(chain),
    rotations: bodies.map(() => new Float64Array(9)),
    positions: bodies.map(() => new Float64Array(3)),
    centres: new Float64Array(3 * bodies.length),
  };
  bodies.forEach((body, idx) => {
    if (isStill(body)) writeBody(body, IDENTITY, 0, ZERO, 0, placed, idx);
  });
  return placed;
}

const IDENTITY: ArrayLike<number> = [1, 0, 0, 0, 1, 0, 0, 0, 1];
const ZERO: ArrayLike<number> = [0, 0, 0];

export const isStill = (body: SpaceBody): boolean => body.link < 0 && body.table < 0;

/** Places every body by `placed.values`. Allocates nothing but for bodies on turntables. */
export function placeBodies(space: Space, placed: Placed): void {
  const { chain, bodies, axisOf, tables } = space;
  const { values, q, pose } = placed;
  for (let joint = 0; joint < chain.count; joint++) q[joint] = axisOf[joint] < 0 ? 0 : values[axisOf[joint]];
  forward(chain, space.base, q, pose);
  for (let idx = 0; idx < bodies.length; idx++) {
    const body = bodies[idx];
    if (body.link >= 0) writeBody(body, pose.rotations, 9 * body.link, pose.positions, 3 * body.link, placed, idx);
    else if (body.table >= 0) writeOnTable(body, tables[body.table], values, placed, idx);
  }
}

function writeOnTable(body: SpaceBody, table: Table, values: Float64Array, placed: Placed, idx: number): void {
  const half = (table.axis < 0 ? 0 : values[table.axis]) / 2;
  const s = Math.sin(half);
  const [x, y, z] = table.along;
  const turned = new Float64Array(9);
  matrixFromQuat([x * s, y * s, z * s, Math.cos(half)], turned);
  writeBody(body, turned, 0, table.at, 0, placed, idx);
}

/** Frame and centre of a body whose carrier has the rotation `r[i ..]` and the position `p[k ..]`. */
function writeBody(
  { rotation: b, position, convex }: SpaceBody,
  r: ArrayLike<number>,
  i: number,
  p: ArrayLike<number>,
  k: number,
  placed: Placed,
  idx: number,
): void {
  const outR = placed.rotations[idx];
  const outP = placed.positions[idx];
  for (let row = 0; row < 3; row++) {
    const u = r[i + 3 * row];
    const v = r[i + 3 * row + 1];
    const w = r[i + 3 * row + 2];
    const x = u * b[0] + v * b[3] + w * b[6];
    const y = u * b[1] + v * b[4] + w * b[7];
    const z = u * b[2] + v * b[5] + w * b[8];
    outR[3 * row] = x;
    outR[3 * row + 1] = y;
    outR[3 * row + 2] = z;
    outP[row] = p[k + row] + u * position[0] + v * position[1] + w * position[2];
  }
  placeCentre(convex, outR, outP, placed.centres, 3 * idx);
}
