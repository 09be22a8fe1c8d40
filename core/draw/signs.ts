import type { Vec2 } from "../base/vec3.ts";
import type { Rectangle } from "./eye.ts";
import type { LegendEntry } from "./picture-page.ts";
import { pixels, tag } from "./svg.ts";

/** How far the marks reach from their places [px]. */
export const KEY_REACH = 7;
export const TARGET_REACH = 6;
/** Half the side of the corners round the framing that is asked for, and their legs [px]. */
export const WANTED_REACH = 15;
const LEG = 6;

const at = ([x, y]: Vec2): string => `translate(${pixels(x)} ${pixels(y)})`;

/** Marks, each about its place; told apart by their shapes. */
export const keySign = (place: Vec2): string =>
  tag("path", {
    class: "key",
    transform: at(place),
    d: `M0-${KEY_REACH}L${KEY_REACH} 0L0 ${KEY_REACH}L-${KEY_REACH} 0Z`,
  });

export const targetSign = (place: Vec2, isAimed: boolean, name?: string): string =>
  tag("circle", { class: isAimed ? "aimed" : "target", "data-name": name, transform: at(place), r: isAimed ? 5.5 : 4, "stroke-width": 1.5 }); // prettier-ignore

export const crossSign = (place: Vec2, isAimed: boolean, name?: string): string =>
  tag("path", { class: `line cross ${isAimed ? "wanted" : "crop-cross"}`, "data-name": name, transform: at(place), d: `M-${TARGET_REACH} 0H${TARGET_REACH}M0-${TARGET_REACH}V${TARGET_REACH}` }); // prettier-ignore

export const markSign = (place: Vec2): string =>
  tag("path", { class: "line ring", transform: at(place), d: "M-4-4L4 4M-4 4L4-4" });

export function wantedSign(place: Vec2): string {
  const corners = [[-1, -1], [1, -1], [1, 1], [-1, 1]].map(([x, y]) => {
    const [cx, cy] = [x * WANTED_REACH, y * WANTED_REACH];
    return `M${cx} ${cy - y * LEG}V${cy}H${cx - x * LEG}`;
  }); // prettier-ignore
  return tag("path", { class: "line wanted", transform: at(place), d: corners.join("") });
}

/** The room that a mark takes. */
export const roomOf = ([x, y]: Vec2, reach: number): Rectangle => ({
  left: x - reach,
  right: x + reach,
  top: y - reach,
  bottom: y + reach,
});

const line = (style: string): string => tag("path", { class: `line ${style}`, d: "M-13 0H13" });

export const LEGEND = {
  way: { sign: line("way"), words: "way of the camera" },
  over: { sign: line("over"), words: "over a limit" },
  key: { sign: keySign([0, 0]), words: "key" },
  view: { sign: line("view"), words: "captured" },
  crop: { sign: line("view crop-line"), words: "delivered" },
  target: { sign: targetSign([0, 0], false), words: "target" },
  aimed: { sign: targetSign([0, 0], true), words: "aimed at" },
  cross: { sign: crossSign([0, 0], false), words: "target" },
  aimedCross: { sign: crossSign([0, 0], true), words: "aimed at" },
  wanted: { sign: tag("g", { transform: "scale(.55)" }, wantedSign([0, 0])), words: "where the framing wants it" },
  frame: { sign: line("crop"), words: "delivered" },
} as const satisfies Readonly<Record<string, LegendEntry>>;
