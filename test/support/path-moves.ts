// Moves along paths for tests: camera points that rigs of several kinds can get to, and ways of every form between them.
import { seededRandom } from "../../core/base/random.ts";
import type { Vec3 } from "../../core/base/vec3.ts";
import type { ResolvedCameraPoint, ResolvedMove, ResolvedPath } from "../../core/motion/resolved-move.ts";
import { aimAt, armOnTrack, moveOf, still, type KeyText } from "./moves.ts";
import { floorRig, joint, rigOf } from "./rigs.ts";

const NOWHERE = { self: 0, range: 0, speed: 0, accel: 0, jerk: 0 };

export const at = (...place: Vec3): ResolvedCameraPoint => ({ kind: "at", at: place, origin: 0 });
export const LINE: ResolvedPath = { kind: "line", origin: 0 };
export const via = (...place: Vec3): ResolvedPath => ({ kind: "arc-via", via: place, origin: 0 });
export const about = (target: number, along: Vec3 = [0, 0, 1]): ResolvedPath => ({
  kind: "arc-about",
  target,
  along,
  origin: 0,
});

/** A floor rig with set-up axes at their values, as tests of paths use it. */
export function onFloor(keys: readonly KeyText[], more: Partial<ResolvedMove> = {}): ResolvedMove {
  const move = moveOf(floorRig(), keys, { targets: [still("lid", [2.4, 0, 1.02])], ...more });
  const setup = Object.fromEntries(
    move.axes.flatMap((axis, i) => (axis.name === "column" ? [[i, 0.7]] : axis.name === "boom" ? [[i, 1.2]] : [])),
  );
  return { ...move, setup };
}

/** Slides along x, y and z under a head: every place has one solution. */
export function gantryRig(): ReturnType<typeof rigOf> {
  return rigOf(
    [
      joint("x", "linear", [1, 0, 0]),
      joint("y", "linear", [0, 1, 0]),
      joint("z", "linear", [0, 0, 1], [0, 0, 1]),
      joint("pan", "rotary", [0, 0, 1], [0.05, 0, 0.1]),
      joint("tilt", "rotary", [0, -1, 0], [0, 0, 0.12]),
    ],
    { head: { pan: 3, tilt: 4 }, mount: { at: [0.03, 0, 0.06], turn: [0, 0, 0, 1] } },
  );
}

export interface RandomPathMove {
  readonly kind: "floor" | "arm" | "gantry";
  readonly move: ResolvedMove;
}

/** A move of 2 to 5 keys, each come to on a line or an arc, about targets at rest, on a turntable or on a path of their own. */
export function randomPathMove(seed: number): RandomPathMove {
  const random = seededRandom(seed);
  const part = (size: number): number => (2 * random() - 1) * size;
  const kind = (["floor", "arm", "gantry"] as const)[Math.floor(random() * 3)];
  const turntables = [
    { name: "plate", at: [2.4, 0.1, 0.9] as Vec3, along: [0, 0, 1] as Vec3, limits: {}, origins: NOWHERE },
  ];
  const start: Vec3 = [2.4 + part(0.1), part(0.2), 1 + part(0.1)];
  const follow = [0, 3, 7].map((time) => ({ time, to: start.map((v) => v + part(0.1)) as unknown as Vec3 }));
  const targets = [
    still("still", [2.4 + part(0.1), part(0.2), 1 + part(0.1)]),
    { ...still("riding", [part(0.1), part(0.1), 0.1]), on: 0 },
    { ...still("moving", start), follow },
  ];
  const middle: Vec3 = kind === "arm" ? [0.95, 0.2, 1] : [1.6, 0, 1.1];
  const count = 2 + Math.floor(random() * 4);
  let time = 0;
  const keys = Array.from({ length: count }, (_, i): KeyText => {
    if (0 < i) time += 3 + 3 * random();
    const place: Vec3 = [middle[0] + part(0.15), middle[1] + part(0.3), middle[2] + part(0.12)];
    const form = random();
    const path =
      form < 0.5
        ? LINE
        : form < 0.75
          ? via(place[0] + part(0.1), place[1] + 0.2 + part(0.1), place[2] + part(0.1))
          : about(Math.floor(random() * 3));
    const blend = { length: 0.02 + 0.1 * random(), origin: 0 };
    const joins = random() < 0.6 ? { blend } : { stop: true };
    return {
      time,
      camera: at(...place),
      ...(i === 0 && { axes: { plate: 0 }, aim: aimAt(Math.floor(random() * 3)) }),
      ...(i === count - 1 && { axes: { plate: part(1) } }),
      ...(0 < i && { path }),
      ...(0 < i && i < count - 1 && joins),
      ...(random() < 0.3 && { framing: [0.5 + part(0.1), 0.5 + part(0.1)] as const }),
      ...(random() < 0.2 && { ease: { kind: "minimum-jerk" as const } }),
      ...(0 < i && random() < 0.2 && { aim: aimAt(Math.floor(random() * 3)) }),
    };
  });
  const lean = [part(0.03), part(0.03)] as const;
  const base = { x: part(0.1), y: part(0.1), floor: part(0.03), heading: part(0.1), lean };
  const more = { targets, turntables, base };
  if (kind === "floor") return { kind, move: onFloor(keys, more) };
  return { kind, move: moveOf(kind === "arm" ? armOnTrack() : gantryRig(), keys, more) };
}
