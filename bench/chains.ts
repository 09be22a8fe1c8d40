import { readFileSync } from "node:fs";
import { quatAbout } from "../core/base/quat.ts";
import type { Vec3 } from "../core/base/vec3.ts";
import { resolveRig } from "../core/model/resolve-rig.ts";
import type { ResolvedJoint, ResolvedRig } from "../core/rig/resolved-rig.ts";

const DEG = Math.PI / 180;
const NOWHERE = { self: 0, range: 0, speed: 0, accel: 0, jerk: 0 };
const X: Vec3 = [1, 0, 0];
const Y: Vec3 = [0, 1, 0];
const Z: Vec3 = [0, 0, 1];

/**
 * PUMA 560 by modified (Craig) Denavit and Hartenberg parameters; lengths and ranges as in the Robotics Toolbox for Python,
 * ranges there after Wang and Chen 1991, shifted with the convention's joint zeros.
 */
export function pumaRig(): ResolvedRig {
  const quarter = 90 * DEG;
  const rows: readonly [a: number, alpha: number, d: number, low: number, high: number][] = [
    [0, 0, 0, -160, 160],
    [0, -quarter, 0, -225, 45],
    [0.4318, 0, 0.15005, -45, 225],
    [0.0203, -quarter, 0.4318, -110, 170],
    [0, quarter, 0, -100, 100],
    [0, -quarter, 0, -266, 266],
  ];
  const joints = rows.map(([a, alpha, d, low, high], i) =>
    axis(`q${i + 1}`, "rotary", Z, [a, -Math.sin(alpha) * d, Math.cos(alpha) * d], [low, high], alpha),
  );
  return rigOf("PUMA 560", joints, [0, 0, 0]);
}

/** Dolly, swing, lift, telescope, pan, tilt, roll: an invented rig of the trade's form. */
export function slidingRig(): ResolvedRig {
  const joints = [
    axis("dolly", "linear", X, [0, 0, 0], [0, 6]),
    axis("swing", "rotary", Z, [0, 0, 1.2], [-170, 170]),
    axis("lift", "rotary", Y, [0, 0, 0.1], [-50, 40]),
    axis("boom", "linear", X, [1.5, 0, 0], [0, 1.5]),
    axis("pan", "rotary", Z, [0.2, 0, -0.25], [-180, 180]),
    axis("tilt", "rotary", Y, [0, 0, -0.1], [-100, 100]),
    axis("roll", "rotary", X, [0.05, 0, 0], [-90, 90]),
  ];
  return rigOf("PRRPRRR", joints, [0.12, 0, 0.03]);
}

/** A rig of `examples/kit`, in the folder that the benchmark runs in. */
export function kitRig(name: string): ResolvedRig {
  const file = `examples/kit/${name}.rig.yaml`;
  const { rig, problems } = resolveRig(file, { read: () => ({ state: "text", text: readFileSync(file, "utf8") }) });
  if (!rig) throw new Error(`${file} cannot be read: ${problems[0]?.message}`);
  return rig;
}

/** Ranges in metres or degrees; `twist` turns the axis's frame about x. */
function axis(
  name: string,
  type: "linear" | "rotary",
  along: Vec3,
  at: Vec3,
  [low, high]: readonly [number, number],
  twist = 0,
): ResolvedJoint {
  const unit = type === "linear" ? 1 : DEG;
  const origin = { at, turn: quatAbout(X, twist) };
  const range = { low: low * unit, high: high * unit };
  return { name, type, role: "driven", origin, along, range, limits: {}, origins: NOWHERE };
}

function rigOf(name: string, joints: readonly ResolvedJoint[], at: Vec3): ResolvedRig {
  return { name, joints, mount: { at, turn: [0, 0, 0, 1] }, bodies: [], masses: [], origin: 0 };
}
