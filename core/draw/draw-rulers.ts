import { dot, type Vec2, type Vec3 } from "../base/vec3.ts";
import type { Eye, Rectangle } from "./eye.ts";
import { roomOf } from "./signs.ts";
import { pixels, tag, way } from "./svg.ts";

/** Length of the longest arrow, and of the scale at least and at most [px]. */
const ARROW = 34;
const LEAST_SCALE = 90;
const LENGTHS = [0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50] as const;

/** Which way the set's directions go, and in a parallel view how long a length is. */
export function drawRulers(
  eye: Eye,
  area: Rectangle,
  gridStep: number,
): { readonly svg: string; readonly rooms: readonly Rectangle[] } {
  const middle: Vec2 = [area.left + 58, area.bottom - 58];
  const directions: readonly (readonly [string, Vec3])[] = [
    ["x", [1, 0, 0]],
    ["y", [0, 1, 0]],
    ["z", [0, 0, 1]],
  ];
  const arrows = directions.map(([name, along]) => {
    const [dx, dy] = [ARROW * dot(along, eye.right), ARROW * dot(along, eye.down)];
    const long = Math.hypot(dx, dy);
    // What comes towards the eye is a point and tells nothing.
    if (long < ARROW / 6) return "";
    const [ux, uy] = [dx / long, dy / long];
    const tip: Vec2 = [middle[0] + dx, middle[1] + dy];
    const barb = (turn: number): Vec2 => [tip[0] - 7 * ux + turn * 4 * uy, tip[1] - 7 * uy - turn * 4 * ux];
    const name_ = tag("text", { class: "quiet", x: tip[0] + 9 * ux - 3.5, y: tip[1] + 9 * uy + 4 }, name);
    return tag("path", { class: "line ring", d: way([middle, tip]) + way([barb(1), tip, barb(-1)]) }) + name_;
  });
  const rooms = [roomOf(middle, ARROW + 18)];
  const [x, y] = [area.right - 16, area.bottom - 18];
  if (eye.kind === "perspective") {
    const words = `floor grid ${gridStep} m`;
    rooms.push({ left: x - 110, right: x, top: y - 14, bottom: y + 6 });
    return { svg: [...arrows, tag("text", { class: "quiet", x, y, "text-anchor": "end" }, words)].join("\n"), rooms };
  }
  const scale = eye.page(1, 0)[0] - eye.page(0, 0)[0];
  const length = LENGTHS.find((one) => one * scale >= LEAST_SCALE) ?? 100;
  const left = x - length * scale;
  const bar = `M${pixels(left)} ${y - 5}V${y + 3}M${pixels(left)} ${y - 1}H${x}M${x} ${y - 5}V${y + 3}`;
  const words = tag("text", { class: "quiet", x: (left + x) / 2, y: y - 9, "text-anchor": "middle" }, `${length} m`);
  rooms.push({ left: left - 4, right: x + 4, top: y - 24, bottom: y + 6 });
  return { svg: [...arrows, tag("path", { class: "line ring", d: bar }) + words].join("\n"), rooms };
}
