// Rigs for tests: short ways to write them, the published arm, and random ones of every form.
import fc from "fast-check";
import type { Pose } from "../../core/base/pose.ts";
import { IDENTITY_POSE } from "../../core/base/pose.ts";
import { quatAbout, quatFromRollPitchYaw } from "../../core/base/quat.ts";
import type { Vec3 } from "../../core/base/vec3.ts";
import { compileRig, fillFollowers } from "../../core/rig/chain.ts";
import type { ResolvedJoint, ResolvedRig } from "../../core/rig/resolved-rig.ts";

const NOWHERE = { self: 0, range: 0, speed: 0, accel: 0, jerk: 0 };
export const DEG = Math.PI / 180;

export function joint(
  name: string,
  type: ResolvedJoint["type"],
  along: Vec3,
  at: Vec3 = [0, 0, 0],
  more: Partial<ResolvedJoint> = {},
): ResolvedJoint {
  const role = type === "fixed" ? "none" : "driven";
  return { name, type, role, origin: { at, turn: [0, 0, 0, 1] }, along, limits: {}, origins: NOWHERE, ...more };
}

export function rigOf(joints: readonly ResolvedJoint[], more: Partial<ResolvedRig> = {}): ResolvedRig {
  return { name: "test rig", joints, mount: IDENTITY_POSE, bodies: [], masses: [], origin: 0, ...more };
}

/** Dolly, column, swing, lift with level-keeping, boom, pan, tilt, roll, as the trade builds them. */
export function floorRig(more: Partial<ResolvedRig> = {}): ResolvedRig {
  const range = (low: number, high: number): Partial<ResolvedJoint> => ({
    range: { low: low * DEG, high: high * DEG },
  });
  return rigOf(
    [
      joint("dolly", "linear", [1, 0, 0], [0, 0, 0.22], { range: { low: 0, high: 3 } }),
      joint("column", "linear", [0, 0, 1], [0, 0, 0], { range: { low: 0.7, high: 1.6 }, role: "setup" }),
      joint("swing", "rotary", [0, 0, 1], [0, 0, 0], range(-170, 170)),
      joint("lift", "rotary", [0, -1, 0], [0, 0, 0.06], range(-50, 60)),
      joint("boom", "linear", [1, 0, 0], [0, 0, 0], { positions: [0.9, 1.2, 1.5], role: "setup" }),
      joint("level", "rotary", [0, -1, 0], [0, 0, 0], {
        role: "follows",
        follows: { leader: 3, ratio: -1, offset: 0 },
      }),
      joint("pan", "rotary", [0, 0, 1], [0.1, 0, -0.08], range(-200, 200)),
      joint("tilt", "rotary", [0, -1, 0], [0, 0, -0.14], range(-100, 100)),
      joint("roll", "rotary", [1, 0, 0], [0, 0, 0], range(-180, 180)),
    ],
    { head: { pan: 6, tilt: 7, roll: 8 }, mount: { at: [0.04, 0, 0.02], turn: [0, 0, 0, 1] }, ...more },
  );
}

/** One row of a table of Denavit and Hartenberg: lengths [m], twist [rad]. */
export interface LinkRow {
  readonly a: number;
  readonly alpha: number;
  readonly d: number;
}

/** Standard convention, T = Rz(q) Tz(d) Tx(a) Rx(alpha): what follows the turn is the next joint's origin. */
export function standardArm(rows: readonly LinkRow[]): ResolvedRig {
  const after = rows.map(({ a, alpha, d }): Pose => ({ at: [a, 0, d], turn: quatAbout([1, 0, 0], alpha) }));
  const joints = rows.map((_, i) =>
    joint(`q${i + 1}`, "rotary", [0, 0, 1], undefined, { origin: after[i - 1] ?? IDENTITY_POSE }),
  );
  return rigOf(joints, { mount: after[after.length - 1] });
}

/** Modified convention, T = Rx(alpha) Tx(a) Rz(q) Tz(d), the row's own alpha and a before its turn. */
export function modifiedArm(rows: readonly LinkRow[]): ResolvedRig {
  const joints = rows.map(({ a, alpha, d }, i) => {
    const at: Vec3 = [a, -Math.sin(alpha) * d, Math.cos(alpha) * d];
    return joint(`q${i + 1}`, "rotary", [0, 0, 1], at, { origin: { at, turn: quatAbout([1, 0, 0], alpha) } });
  });
  return rigOf(joints);
}

/** Dolly, swing, lift, telescope, pan, tilt, roll: seven axes of which two translate. */
export function slidingArm(): ResolvedRig {
  return rigOf(
    [
      joint("dolly", "linear", [1, 0, 0]),
      joint("swing", "rotary", [0, 0, 1], [0, 0, 1.2]),
      joint("lift", "rotary", [0, 1, 0], [0, 0, 0.1]),
      joint("boom", "linear", [1, 0, 0], [1.5, 0, 0]),
      joint("pan", "rotary", [0, 0, 1], [0.2, 0, -0.25]),
      joint("tilt", "rotary", [0, 1, 0], [0, 0, -0.1]),
      joint("roll", "rotary", [1, 0, 0], [0.05, 0, 0]),
    ],
    { mount: { at: [0.12, 0, 0.03], turn: [0, 0, 0, 1] } },
  );
}

const part = (size: number): fc.Arbitrary<number> => fc.double({ min: -size, max: size, noNaN: true });
const vector = (size: number): fc.Arbitrary<Vec3> => fc.tuple(part(size), part(size), part(size));

/** Unit vectors: those along the frame's axes, both ways, and oblique ones. */
export const unitVector: fc.Arbitrary<Vec3> = fc.oneof(
  fc.constantFrom<Vec3>([1, 0, 0], [0, 1, 0], [0, 0, 1], [-1, 0, 0], [0, -1, 0], [0, 0, -1]),
  fc.tuple(part(1), fc.double({ min: -Math.PI, max: Math.PI, noNaN: true })).map(([z, turn]): Vec3 => {
    const flat = Math.sqrt(1 - z * z);
    return [flat * Math.cos(turn), flat * Math.sin(turn), z];
  }),
);

const originPose: fc.Arbitrary<Pose> = fc
  .tuple(vector(1.5), fc.oneof(fc.constant<Vec3>([0, 0, 0]), vector(3)))
  .map(([at, [r, p, y]]) => ({ at, turn: quatFromRollPitchYaw(r, p, y) }));

export interface RiggedPose {
  readonly rig: ResolvedRig;
  /** One value a joint, followers filled. */
  readonly q: Float64Array;
}

/** Rigs of 2 to 10 joints of every type, followers of earlier and later leaders among them, with a pose each. */
export const riggedPose: fc.Arbitrary<RiggedPose> = fc
  .array(
    fc.record({
      type: fc.constantFrom<ResolvedJoint["type"]>("rotary", "rotary", "rotary", "linear", "linear", "fixed"),
      along: unitVector,
      origin: originPose,
      value: part(3),
      leader: fc.option(fc.nat(9), { freq: 4 }),
      ratio: part(2),
      offset: part(1),
    }),
    { minLength: 2, maxLength: 10 },
  )
  .chain((rows) => originPose.map((mount) => ({ rows, mount })))
  .map(({ rows, mount }) => {
    const follows = rows.map(() => -1);
    rows.forEach((row, i) => {
      if (row.type === "fixed" || row.leader === null) return;
      const leader = row.leader % rows.length;
      // No cycles: walk the leaders that are already bound.
      let end = leader;
      while (end !== i && 0 <= follows[end]) end = follows[end];
      if (end !== i && rows[leader].type !== "fixed") follows[i] = leader;
    });
    const joints = rows.map((row, i) =>
      joint(`axis-${i}`, row.type, row.along, undefined, {
        origin: row.origin,
        ...(0 <= follows[i] && {
          role: "follows" as const,
          follows: { leader: follows[i], ratio: row.ratio, offset: row.offset },
        }),
      }),
    );
    const rig = rigOf(joints, { mount });
    const q = Float64Array.from(rows, (row) => row.value);
    fillFollowers(compileRig(rig), q);
    return { rig, q };
  });
