// Invented moves for the stage's tests, as the engine resolves them.
import { RATES } from "../../core/base/rate.ts";
import type { MoveAxis, ResolvedKey, ResolvedMove } from "../../core/motion/resolved-move.ts";
import type { Body, ResolvedJoint, ResolvedRig, Solid } from "../../core/rig/resolved-rig.ts";
import { DEG, floorRig, joint, rigOf } from "../support/rigs.ts";
import { optics } from "../support/lenses.ts";

const NOWHERE = { self: 0, range: 0, speed: 0, accel: 0, jerk: 0 };

function body(
  name: string,
  link: number,
  solid: Solid,
  at: [number, number, number],
  turn: [number, number, number, number] = [0, 0, 0, 1],
): Body {
  return { name, link, solid, pose: { at, turn }, origin: 0 };
}

const box = (x: number, y: number, z: number): Solid => ({ shape: "box", size: [x, y, z] });
const rod = (radius: number, height: number): Solid => ({ shape: "cylinder", radius, height });
const ALONG_Y: [number, number, number, number] = [Math.SQRT1_2, 0, 0, Math.SQRT1_2];

/** Every axis with limits that the moves below use well, but for pan, which they break. */
function limited(rig: ResolvedRig, limits: Readonly<Record<string, ResolvedJoint["limits"]>>): ResolvedRig {
  return { ...rig, joints: rig.joints.map((one) => ({ ...one, limits: limits[one.name] ?? one.limits })) };
}

export const boomRig = limited(
  floorRig({
    name: "Floor dolly with boom",
    bodies: [
      body("track", -1, box(3.9, 0.5, 0.05), [1.5, 0, 0.06]),
      body("chassis", 0, box(0.9, 0.62, 0.14), [0, 0, -0.03]),
      body("mast foot", 0, rod(0.13, 0.7), [0, 0, 0.35]),
      body("mast", 1, rod(0.075, 0.9), [0, 0, -0.45]),
      body("turret", 2, rod(0.12, 0.09), [0, 0, 0]),
      body("arm", 3, box(1.1, 0.09, 0.12), [0.35, 0, 0]),
      body("counterweight", 3, rod(0.15, 0.16), [-0.42, 0, 0], ALONG_Y),
      body("inner arm", 4, box(1.2, 0.06, 0.08), [-0.6, 0, 0]),
      body("head plate", 5, box(0.14, 0.14, 0.03), [0.06, 0, -0.02]),
      body("pan", 6, rod(0.055, 0.08), [0, 0, -0.02]),
      body("yoke", 6, box(0.07, 0.18, 0.06), [0, 0, -0.08]),
      body("camera body", 8, box(0.11, 0.1, 0.11), [-0.02, 0, 0.02]),
    ],
  }),
  {
    dolly: { speed: 0.5, accel: 0.4, jerk: 2 },
    swing: { speed: 30 * DEG, accel: 40 * DEG, jerk: 200 * DEG },
    lift: { speed: 20 * DEG, accel: 30 * DEG, jerk: 150 * DEG },
    pan: { speed: 40 * DEG, accel: 60 * DEG, jerk: 400 * DEG },
    tilt: { speed: 40 * DEG, accel: 80 * DEG, jerk: 400 * DEG },
    roll: { speed: 40 * DEG, accel: 80 * DEG, jerk: 400 * DEG },
  },
);

/** Without bodies: drawn as plain links. */
export const sliderRig = rigOf(
  [
    joint("slide", "linear", [0, 1, 0], [0, -0.6, 1.1], {
      range: { low: 0, high: 1.2 },
      limits: { speed: 0.4, accel: 0.5, jerk: 4 },
    }),
    joint("pan", "rotary", [0, 0, 1], [0, 0, 0.1], { limits: { speed: 40 * DEG, accel: 60 * DEG, jerk: 300 * DEG } }),
    joint("tilt", "rotary", [0, -1, 0], [0, 0, 0.12], {
      limits: { speed: 40 * DEG, accel: 60 * DEG, jerk: 300 * DEG },
    }),
  ],
  { name: "Slider", head: { pan: 1, tilt: 2 }, mount: { at: [0.03, 0, 0.05], turn: [0, 0, 0, 1] } },
);

/** Axes of a rig and turntables in the order the engine counts them. */
export function axesOf(rig: ResolvedRig, turntables: ResolvedMove["turntables"]): MoveAxis[] {
  const joints = rig.joints.flatMap((one, index): MoveAxis[] =>
    one.type === "fixed" || one.role === "none"
      ? []
      : [
          {
            name: one.name,
            type: one.type,
            role: one.role,
            joint: index,
            turntable: -1,
            range: one.range,
            positions: one.positions,
            limits: one.limits,
            origins: NOWHERE,
          },
        ],
  );
  const tables = turntables.map((table, index): MoveAxis => ({
    name: table.name,
    type: "rotary",
    role: "turntable",
    joint: -1,
    turntable: index,
    range: table.range,
    limits: table.limits,
    origins: NOWHERE,
  }));
  return [...joints, ...tables];
}

export function moveOf(rig: ResolvedRig, more: Partial<ResolvedMove> & Pick<ResolvedMove, "keys">): ResolvedMove {
  const turntables = more.turntables ?? [];
  return {
    title: "A move",
    rig,
    base: { x: 0, y: 0, floor: 0, heading: 0, lean: [0, 0] },
    setup: {},
    optics: optics({}),
    axes: axesOf(rig, turntables),
    targets: [],
    turntables,
    obstacles: [],
    people: [],
    floor: 0,
    marks: [],
    rate: RATES["25"],
    startFrame: 0,
    speed: 1,
    near: {},
    up: [0, 0, 1],
    deliver: [3840, 2160],
    deliverOrigin: 0,
    stabilise: 0.05,
    tolerance: { match: 1.5, aim: 4, clearance: 0.06, nearLimit: 0.9 },
    toleranceOrigin: 0,
    uses: { rig: 0, camera: 0, set: 0, place: 0 },
    passes: [],
    origin: 0,
    ...more,
  };
}

export function key(
  label: string,
  time: number,
  axes: Readonly<Record<number, number>>,
  more: Partial<ResolvedKey> = {},
): ResolvedKey {
  return {
    label,
    name: label,
    time,
    stop: false,
    axes: Object.entries(axes).map(([axis, value]) => ({ axis: Number(axis), value, origin: 0 })),
    framingOrigin: 0,
    origin: 0,
    timeOrigin: 0,
    ...more,
  };
}

const aimAt = (target: number): Partial<ResolvedKey> => ({
  aim: { kind: "target", target, origin: 0 },
  focus: { kind: "target", target, origin: 0 },
});

const plate = {
  name: "plate",
  at: [2.3, 0.1, 0.9],
  along: [0, 0, 1],
  range: { low: -2 * Math.PI, high: 2 * Math.PI },
  limits: { speed: 40 * DEG, accel: 60 * DEG, jerk: 300 * DEG },
  origins: NOWHERE,
} as const;

const teapotSet = {
  turntables: [plate],
  targets: [
    { name: "lid", at: [2.3, 0.1, 1.05], origin: 0 },
    { name: "spout", at: [0.13, 0, 0.07], on: 0, origin: 0 },
    { name: "handle", at: [-0.11, 0, 0.08], on: 0, origin: 0 },
  ],
  obstacles: [
    body("plinth", -1, box(0.45, 0.45, 0.88), [2.3, 0.1, 0.44]),
    body("plate", -1, rod(0.17, 0.02), [2.3, 0.1, 0.89]),
    body("teapot", -1, { shape: "sphere", radius: 0.085 }, [2.3, 0.1, 0.97]),
    body("backdrop", -1, box(0.06, 3, 2), [3.6, 0, 1]),
  ],
  people: [body("potter", -1, { shape: "capsule", radius: 0.24, height: 1.72 }, [1.9, 1.35, 0.86])],
  marks: [
    { name: "a", at: [0.4, -1.2, 0], origin: 0 },
    { name: "b", at: [2.3, -1.2, 0], origin: 0 },
  ],
} as const satisfies Partial<ResolvedMove>;

/** Top-down to frontal, with the framing keyed. Axes: dolly, column, swing, lift, boom, level, pan, tilt, roll, plate. */
export const topToFront: ResolvedMove = moveOf(boomRig, {
  title: "Lid to spout",
  ...teapotSet,
  base: { x: -0.6, y: -0.5, floor: 0, heading: 6 * DEG, lean: [0.004, -0.003] },
  setup: { 1: 1.1, 4: 0.9 },
  startFrame: 90_000,
  keys: [
    key("top", 0, { 0: 0.9, 2: 4 * DEG, 3: 42 * DEG, 8: 0, 9: 0 }, { ...aimAt(0), framing: [0.5, 0.44] }),
    key("over", 2.4, { 0: 0.82, 2: 7 * DEG, 3: 30 * DEG }, { framing: [0.46, 0.5] }),
    key("turn", 4.4, { 0: 0.6, 2: 12 * DEG, 3: 10 * DEG, 9: 30 * DEG }, { ...aimAt(1), framing: [0.36, 0.55] }),
    key("low", 6.6, { 0: 0.45, 2: 20 * DEG, 3: -8 * DEG, 9: 75 * DEG }, { framing: [0.36, 0.55] }),
    key("front", 9, { 0: 0.7, 2: 14 * DEG, 3: -14 * DEG, 9: 90 * DEG }, { framing: [0.5, 0.5] }),
  ],
});

/** A distorted lens, off its centre and squeezed, on a slider without bodies. */
export const slideBy: ResolvedMove = moveOf(sliderRig, {
  title: "Slide by",
  ...teapotSet,
  base: { x: 0.9, y: 0, floor: 0, heading: 0, lean: [0, 0] },
  optics: optics({
    lensName: "wide-18",
    focal: { low: 0.018, high: 0.018 },
    squeeze: 1.33,
    centre: [0.012, -0.008],
    distortion: { k1: -0.12, k2: 0.02, p1: 0.001, p2: -0.0015, k3: 0 },
    front: { length: 0.09, diameter: 0.08 },
  }),
  deliver: [5120, 2880],
  rate: RATES["29.97df"],
  keys: [
    key("left", 0, { 0: 0.1, 3: 0 }, { ...aimAt(0), framing: [0.4, 0.5] }),
    key("middle", 2, { 0: 0.7, 3: 40 * DEG }, { framing: [0.6, 0.45] }),
    key("right", 4, { 0: 1.15, 3: 60 * DEG }, { ...aimAt(2), framing: [0.5, 0.5] }),
  ],
});
