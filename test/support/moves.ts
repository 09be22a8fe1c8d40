// Resolved moves for tests: short ways to write them, and random ones of every form.
import { RATES } from "../../core/base/rate.ts";
import { seededRandom, type Random } from "../../core/base/random.ts";
import { quatFromRollPitchYaw } from "../../core/base/quat.ts";
import type { Vec3 } from "../../core/base/vec3.ts";
import type { MoveAxis, ResolvedAim, ResolvedKey, ResolvedMove } from "../../core/motion/resolved-move.ts";
import type { ResolvedRig } from "../../core/rig/resolved-rig.ts";
import { pupilTable } from "../../core/lens/pupil-table.ts";
import { optics } from "./lenses.ts";
import { floorRig, joint, rigOf, standardArm } from "./rigs.ts";

const NOWHERE = { self: 0, range: 0, speed: 0, accel: 0, jerk: 0 };

/** A key as a test writes it: axes by name. */
export type KeyText = Omit<Partial<ResolvedKey>, "axes"> & {
  readonly time: number;
  readonly axes?: Readonly<Record<string, number>>;
};

export function axesOf(rig: ResolvedRig, turntables: ResolvedMove["turntables"] = []): MoveAxis[] {
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

export function moveOf(rig: ResolvedRig, keys: readonly KeyText[], more: Partial<ResolvedMove> = {}): ResolvedMove {
  const axes = axesOf(rig, more.turntables);
  return {
    title: "test move",
    rig,
    base: { x: 0, y: 0, floor: 0, heading: 0, lean: [0, 0] },
    setup: {},
    optics: optics({}),
    axes,
    targets: [],
    turntables: [],
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
    stabilise: 0,
    tolerance: { match: 1, aim: 4, clearance: 0.06, nearLimit: 0.9 },
    toleranceOrigin: 0,
    uses: { rig: 0, camera: 0, set: 0, place: 0 },
    passes: [],
    origin: 0,
    ...more,
    keys: keys.map((key, i) => ({
      label: `key ${i + 1}`,
      stop: false,
      framingOrigin: 0,
      origin: 0,
      timeOrigin: 0,
      ...key,
      axes: Object.entries(key.axes ?? {}).map(([name, value]) => {
        const axis = axes.findIndex((one) => one.name === name);
        if (axis < 0) throw new Error(`no axis ${name}`);
        return { axis, value, origin: 0 };
      }),
    })),
  };
}

export const aimAt = (target: number): ResolvedAim => ({ kind: "target", target, origin: 0 });
export const NO_AIM: ResolvedAim = { kind: "none", origin: 0 };

export const still = (name: string, at: Vec3): ResolvedMove["targets"][number] => ({ name, at, origin: 0 });

/** A slide with a pan and tilt head, the pupil 52 mm in front of a flange off both axes. */
export function sliderRig(more: Partial<ResolvedRig> = {}): ResolvedRig {
  return rigOf(
    [
      joint("slide", "linear", [0, 1, 0], [0, 0, 1]),
      joint("pan", "rotary", [0, 0, 1], [0, 0, 0.05]),
      joint("tilt", "rotary", [0, -1, 0], [0, 0, 0.12]),
    ],
    { head: { pan: 1, tilt: 2 }, mount: { at: [0.03, 0, 0.06], turn: [0, 0, 0, 1] }, ...more },
  );
}

/** A head whose axes are neither upright nor square, on a lift whose own tilt is geared to the slide. */
function obliqueRig(random: Random): ResolvedRig {
  const turn = (): [number, number, number, number] =>
    quatFromRollPitchYaw(0.3 * random() - 0.15, 0.3 * random() - 0.15, 0.3 * random() - 0.15) as [
      number,
      number,
      number,
      number,
    ];
  return rigOf(
    [
      joint("slide", "linear", [0.6, 0.8, 0], [0, 0, 1]),
      joint("rock", "rotary", [0, 0, 1], [0, 0, 0.1], {
        role: "follows",
        follows: { leader: 0, ratio: 0.3, offset: 0.1 },
      }),
      joint("pan", "rotary", [0, 0, 1], undefined, { origin: { at: [0.1, 0.02, 0.05], turn: turn() } }),
      joint("plate", "fixed", [0, 0, 1], undefined, { origin: { at: [0.02, 0.03, 0.1], turn: turn() } }),
      joint("tilt", "rotary", [0, -1, 0], undefined, { origin: { at: [0.01, 0, 0.03], turn: turn() } }),
      joint("roll", "rotary", [1, 0, 0], [0.02, 0, 0.01]),
    ],
    { head: { pan: 2, tilt: 4, roll: 5 }, mount: { at: [0.04, 0.01, 0.02], turn: turn() } },
  );
}

/** The published arm's proportions on a track, without a head: its wrist aims. */
export function armOnTrack(): ResolvedRig {
  const h = Math.PI / 2;
  const arm = standardArm([
    { a: 0, alpha: h, d: 0.6 },
    { a: 0.4318, alpha: 0, d: 0 },
    { a: 0.0203, alpha: -h, d: 0.15005 },
    { a: 0, alpha: h, d: 0.4318 },
    { a: 0, alpha: -h, d: 0 },
    { a: 0, alpha: 0, d: 0.05 },
  ]);
  // The camera looks along the last axis.
  const mount = { at: [0, 0, 0.08] as const, turn: quatFromRollPitchYaw(0, -h, 0) };
  return rigOf([joint("track", "linear", [1, 0, 0]), ...arm.joints], { mount });
}

/** A lens whose pupil goes far with focus, farther than any is built. */
const BREATHING = pupilTable([
  { focal: 0.04, near: 0, at: 0.03 },
  { focal: 0.04, near: 0.4, at: 0.05 },
  { focal: 0.04, near: 0.9, at: 0.08 },
  { focal: 0.04, near: 2, at: 0.1 },
  { focal: 0.05, near: 0.3, at: 0.06 },
  { focal: 0.05, near: 0.8, at: 0.075 },
  { focal: 0.06, near: 0, at: 0.05 },
  { focal: 0.06, near: 0.7, at: 0.11 },
]);

/** Focus of a key of a random move: on a target, at a distance, or as it was. */
function focusOf(seed: number, key: number): Pick<ResolvedKey, "focus"> {
  const random = seededRandom(7 * seed + key);
  const what = Math.floor(random() * 5);
  if (what === 4) return {};
  const focus =
    what === 3
      ? ({ kind: "distance", distance: 1 + 2 * random(), origin: 0 } as const)
      : ({ kind: "target", target: what, origin: 0 } as const);
  return { focus };
}

export interface RandomMove {
  readonly move: ResolvedMove;
  readonly kind: string;
}

/** A move of 2 to 8 keys on one of four rigs, aimed at targets at rest, on a turntable or on paths of their own. */
export function randomMove(seed: number): RandomMove {
  const random = seededRandom(seed);
  const part = (size: number): number => (2 * random() - 1) * size;
  const kind = ["floor", "slider", "oblique", "arm"][Math.floor(random() * 4)];
  const rig =
    kind === "floor"
      ? floorRig()
      : kind === "slider"
        ? sliderRig()
        : kind === "oblique"
          ? obliqueRig(random)
          : armOnTrack();
  const turntables = [
    { name: "plate", at: [2.2, 0.1, 0.9] as Vec3, along: [0, 0, 1] as Vec3, limits: {}, origins: NOWHERE },
  ];
  const path = [0, 1, 2].map((i) => ({
    time: i * (0.5 + 2 * random()),
    to: [2.3 + part(0.2), part(0.3), 1 + part(0.2)] as Vec3,
  }));
  const targets = [
    still("still", [2.1 + part(0.3), part(0.4), 1 + part(0.2)]),
    { ...still("riding", [part(0.15), part(0.15), 0.1]), on: 0 },
    { ...still("moving", path[0].to), follow: path },
  ];
  const levels = kind === "floor" && random() < 0.3;
  let time = 0;
  const count = 2 + Math.floor(random() * 7);
  const keys = Array.from({ length: count }, (_, i): KeyText => {
    if (0 < i) time += 0.4 + 3 * random();
    const sometimes = (share: number): boolean => i === 0 || random() < share;
    const axes: Record<string, number> = {};
    const give = (name: string, middle: number, size: number): void => {
      if (sometimes(0.7)) axes[name] = middle + part(size);
    };
    if (kind === "floor") {
      give("dolly", 0.5, 0.4);
      give("swing", 0, 0.4);
      give("lift", 0.2, 0.3);
    } else if (kind === "arm") {
      give("track", 0.4, 0.4);
      give("q1", 0.1, 0.3);
      give("q2", 0.9, 0.2);
      give("q3", -1.2, 0.3);
    } else give("slide", 0, 0.6);
    if (random() < 0.4) axes.plate = part(2);
    return {
      time,
      axes,
      stop: 0 < i && random() < 0.1,
      ...(sometimes(0.4) && { aim: aimAt(Math.floor(random() * 3)) }),
      ...(sometimes(0.5) && { framing: [0.5 + part(0.2), 0.5 + part(0.2)] as const }),
      ...(random() < 0.3 && { zoom: { focal: 0.04 + 0.02 * random(), origin: 0 } }),
      ...(levels && i === 0
        ? { roll: { kind: "level" as const, origin: 0 } }
        : !levels &&
          kind !== "slider" &&
          random() < 0.4 && { roll: { kind: "angle" as const, angle: part(0.3), origin: 0 } }),
    };
  });
  const breathes = seed % 3 === 0;
  const lens = optics({
    focal: { low: 0.04, high: 0.06 },
    pupil: breathes
      ? BREATHING
      : pupilTable([
          { focal: 0.04, at: 0.05 },
          { focal: 0.06, at: 0.09 },
        ]),
    squeeze: random() < 0.3 ? 1.33 : 1,
    centre: breathes ? [0.03, -0.02] : [0, 0],
    ...(random() < 0.5 && { distortion: { k1: part(0.1), k2: part(0.03), p1: part(0.003), p2: part(0.003), k3: 0 } }),
  });
  const base = { x: 0.2, y: part(0.4), floor: part(0.05), heading: part(0.2), lean: [part(0.03), part(0.03)] as const };
  const move = moveOf(rig, breathes ? keys.map((key, i) => ({ ...key, ...focusOf(seed, i) })) : keys, {
    targets,
    turntables,
    optics: lens,
    base,
  });
  const setup = Object.fromEntries(
    move.axes.flatMap((axis, index) =>
      axis.name === "column" ? [[index, 0.7]] : axis.name === "boom" ? [[index, 0.4]] : [],
    ),
  );
  return { kind, move: { ...move, setup } };
}
