import { pupilAt } from "../../core/lens/pupil.ts";
import { createPoseBuffer, fillFollowers, forward, pupilPosition, type PoseBuffer } from "../../core/rig/chain.ts";
import type { OpenTake } from "./open-take.ts";
import { pictureOf } from "./picture-of.ts";
import { between, sampleBefore, shareOfWay, throughBoth } from "../../core/base/sampling.ts";

/** All that the views show of one instant. Caller-owned; SI; a axes, n joints, m targets. */
export interface Moment {
  t: number;
  /** Sample before `t`, and the share of the way to the next. */
  sample: number;
  way: number;
  /** Shape (a,). */
  readonly values: Float64Array;
  /** Shape (n,). */
  readonly q: Float64Array;
  readonly pose: PoseBuffer;
  /** Entrance pupil in the set [m]. */
  readonly pupil: Float64Array;
  focal: number;
  focus: number;
  /** F-number; that of the lens where the take has none. */
  iris: number;
  /** Shape (3 m,) in the set, (2 m,) of the captured picture with NaN behind the camera, (m,). */
  readonly targets: Float64Array;
  readonly framing: Float64Array;
  readonly distance: Float64Array;
  /** How far each target moves in the picture while the shutter is open [captured px], shape (2 m,); NaN when not known. */
  readonly blur: Float64Array;
  /** Framing asked for, shape (2,); NaN while nothing is aimed at. */
  readonly wanted: Float64Array;
  /** Framing where what is aimed at is, between both targets during a change of aim, shape (2,); NaN while nothing is. */
  readonly reached: Float64Array;
  /** Target aimed at, or -1. */
  aimed: number;
}

export function createMoment(open: OpenTake): Moment {
  const targets = open.stage.targets.length;
  return {
    t: 0,
    sample: 0,
    way: 0,
    values: new Float64Array(open.stage.axes.length),
    q: new Float64Array(open.chain.count),
    pose: createPoseBuffer(open.chain),
    pupil: new Float64Array(3),
    focal: open.stage.optics.focal.low,
    focus: NaN,
    iris: open.stage.optics.iris,
    targets: new Float64Array(3 * targets),
    framing: new Float64Array(2 * targets),
    distance: new Float64Array(targets),
    blur: new Float64Array(2 * targets),
    wanted: new Float64Array(2),
    reached: new Float64Array(2),
    aimed: -1,
  };
}

/** Fills `out` with the instant `t` [s], clamped to the take. */
export function momentAt(open: OpenTake, t: number, out: Moment): void {
  const { take, stage, chain } = open;
  out.t = t;
  out.sample = sampleBefore(take.t, t);
  out.way = shareOfWay(take.t, out.sample, t);
  fillValues(open, out);
  for (let joint = 0; joint < chain.count; joint++) {
    const axis = open.axisOfJoint[joint];
    out.q[joint] = axis < 0 ? 0 : out.values[axis];
  }
  fillFollowers(chain, out.q);
  forward(chain, open.base, out.q, out.pose);
  out.focal = row(take.focal, out, 1, 0);
  if (!(out.focal > 0)) out.focal = stage.optics.focal.low;
  out.focus = row(take.focus, out, 1, 0);
  out.iris = take.iris ? row(take.iris, out, 1, 0) : stage.optics.iris;
  pupilPosition(out.pose, pupilAt(stage.optics, out.focal, out.focus), out.pupil);
  fillTargets(open, out);
  fillAim(open, out);
}

function fillValues(open: OpenTake, out: Moment): void {
  const { take, stage } = open;
  const width = stage.axes.length;
  const a = out.sample * width;
  const b = (take.count > 1 ? out.sample + 1 : out.sample) * width;
  const span = take.count > 1 ? take.t[out.sample + 1] - take.t[out.sample] : 0;
  for (let axis = 0; axis < width; axis++) {
    const value =
      span > 0
        ? throughBoth(
            take.value[a + axis],
            take.speed[a + axis],
            take.value[b + axis],
            take.speed[b + axis],
            span,
            out.way,
          )
        : take.value[b + axis];
    out.values[axis] = Number.isFinite(value) ? value : 0;
  }
}

/** Column `column` of a table of `width` columns at the moment, straight between two samples. */
function row(table: Float64Array, at: Moment, width: number, column: number): number {
  const a = at.sample * width + column;
  const b = a + width;
  return b < table.length ? between(table[a], table[b], at.way) : table[a];
}

function fillTargets(open: OpenTake, out: Moment): void {
  const { take, stage } = open;
  const count = stage.targets.length;
  const picture = [0, 0];
  for (let k = 0; k < count; k++) {
    const target = stage.targets[k];
    const place = out.targets.subarray(3 * k, 3 * k + 3);
    if (target.follow === undefined && target.on !== undefined) placeOnTable(open, k, out, place);
    else for (let c = 0; c < 3; c++) place[c] = row(take.targets, out, 3 * count, 3 * k + c);
    const dx = place[0] - out.pupil[0];
    const dy = place[1] - out.pupil[1];
    const dz = place[2] - out.pupil[2];
    out.distance[k] = Math.hypot(dx, dy, dz);
    pictureOf(stage.optics, out, place, picture);
    out.framing[2 * k] = picture[0];
    out.framing[2 * k + 1] = picture[1];
    for (let c = 0; c < 2; c++) out.blur[2 * k + c] = take.blur ? row(take.blur, out, 2 * count, 2 * k + c) : NaN;
  }
}

/** p = at + R(along, angle) · p_table, by Rodrigues' formula: exact between samples too. */
function placeOnTable(open: OpenTake, target: number, at: Moment, out: Float64Array): void {
  const { stage } = open;
  const on = stage.targets[target].on as number;
  const table = stage.turntables[on];
  const axis = stage.axes.findIndex((candidate) => candidate.turntable === on);
  const angle = axis < 0 ? 0 : at.values[axis];
  const [x, y, z] = stage.targets[target].at;
  const [ax, ay, az] = table.along;
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const d = (1 - c) * (ax * x + ay * y + az * z);
  out[0] = table.at[0] + x * c + (ay * z - az * y) * s + ax * d;
  out[1] = table.at[1] + y * c + (az * x - ax * z) * s + ay * d;
  out[2] = table.at[2] + z * c + (ax * y - ay * x) * s + az * d;
}

/** Spans come from samples: between the last of one aim and the first of the next lies a gap of one sample. */
function aimedAt(aims: OpenTake["stage"]["aims"], t: number, gap: number): number {
  let aimed = -1;
  for (const aim of aims) if (aim.from <= t && t <= aim.to + gap) aimed = aim.target;
  return aimed;
}

function fillAim(open: OpenTake, out: Moment): void {
  const { take, stage } = open;
  out.aimed = aimedAt(stage.aims, out.t, take.count > 1 ? take.t[out.sample + 1] - take.t[out.sample] : 0);
  for (let c = 0; c < 2; c++) {
    if (take.reached) out.reached[c] = row(take.reached, out, 2, c);
    else out.reached[c] = out.aimed < 0 ? NaN : out.framing[2 * out.aimed + c];
  }
  if (take.wanted !== undefined) {
    out.wanted[0] = row(take.wanted, out, 2, 0);
    out.wanted[1] = row(take.wanted, out, 2, 1);
  } else {
    out.wanted[0] = out.aimed < 0 ? NaN : out.framing[2 * out.aimed];
    out.wanted[1] = out.aimed < 0 ? NaN : out.framing[2 * out.aimed + 1];
  }
}
