import type { Vec2 } from "../base/vec3.ts";
import type { Rectangle } from "./eye.ts";

/** A name to be written beside a place, where there is room. */
export interface WantedLabel {
  readonly text: string;
  readonly at: Vec2;
  /** How far the mark that it names reaches [px]; 0 for a name that may stand on the place itself. */
  readonly reach: number;
  readonly style: string;
}

export interface PlacedLabel {
  readonly text: string;
  /** Left end of its base line [px]. */
  readonly x: number;
  readonly y: number;
  readonly style: string;
  /** From the place to a name that stands off. */
  readonly leader?: readonly [Vec2, Vec2];
}

export const LABEL_SIZE = 12;
/** Of the size: how high a line of text is, and how far its base line is below its middle. */
const LINE = 1.25;
const BASE = 0.35;
/** Between a mark and its name, and how far a name may stand off with a line to its place [px]. */
const SPACE = 4;
const OFF = [0, 22, 44] as const;
/** Beside, over and under, and between them: where a name stands from its place. */
const SIDES: readonly Vec2[] = [[1, 0], [-1, 0], [0, -1], [0, 1], [1, -1], [1, 1], [-1, -1], [-1, 1]]; // prettier-ignore

/** Width of a text, as a common sans-serif face has it, on the wide side [px]: nothing here can measure one. */
export function textWidth(text: string, size: number): number {
  let width = 0;
  for (const letter of text) {
    const isNarrow = /[ijl.,:;|!'()[\]{} ]/.test(letter);
    const isWide = (letter.codePointAt(0) ?? 0) >= 0x1100;
    width += size * (isWide ? 1.05 : isNarrow ? 0.36 : /[A-ZmwMW%@]/.test(letter) ? 0.76 : 0.61);
  }
  return width;
}

/**
 * Finds room for names, the first ones first, so that none lies on another or on a mark. One for which there is none is
 * left out.
 *
 * @param area  Where names may stand.
 * @param marks What they keep clear of.
 */
export function placeLabels(
  wanted: readonly WantedLabel[],
  area: Rectangle,
  marks: readonly Rectangle[],
): readonly PlacedLabel[] {
  const taken = [...marks];
  return wanted.flatMap((label): PlacedLabel[] => {
    const [width, height] = [textWidth(label.text, LABEL_SIZE), LABEL_SIZE * LINE];
    for (const off of OFF) {
      for (const [sx, sy] of label.reach === 0 && off === 0 ? [[0, 0] as const, ...SIDES] : SIDES) {
        const away = sx === 0 && sy === 0 ? 0 : label.reach + SPACE + off;
        const slant = sx !== 0 && sy !== 0 ? Math.SQRT1_2 : 1;
        const x = label.at[0] + sx * (away * slant + width / 2) - width / 2;
        const middle = label.at[1] + sy * (away * slant + height / 2);
        const box = { left: x, right: x + width, top: middle - height / 2, bottom: middle + height / 2 };
        if (!isWithin(box, area) || taken.some((other) => meet(box, other))) continue;
        taken.push(box);
        const end: Vec2 = [
          Math.min(Math.max(label.at[0], box.left), box.right),
          Math.min(Math.max(label.at[1], box.top), box.bottom),
        ];
        const leader = off > 0 ? { leader: [label.at, end] as const } : {};
        return [{ text: label.text, x, y: middle + BASE * LABEL_SIZE, style: label.style, ...leader }];
      }
    }
    return [];
  });
}

/** A text cut so that it is no wider than `most` px. */
export function fitted(text: string, size: number, most: number): string {
  if (textWidth(text, size) <= most) return text;
  const letters = [...text];
  while (letters.length > 1 && textWidth(`${letters.join("")}…`, size) > most) letters.pop();
  return `${letters.join("").trimEnd()}…`;
}

const isWithin = (box: Rectangle, area: Rectangle): boolean =>
  area.left <= box.left && box.right <= area.right && area.top <= box.top && box.bottom <= area.bottom;

const meet = (a: Rectangle, b: Rectangle): boolean =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
