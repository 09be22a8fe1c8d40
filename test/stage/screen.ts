import { PNG } from "pngjs";
import type { Page } from "playwright-core";

/** A picture of the page in CSS px (the pages of these tests have one px a px unless they say so). */
export interface Screen {
  readonly width: number;
  readonly height: number;
  /** Parts 0..255 at a whole px. */
  colour(x: number, y: number): readonly [number, number, number];
}

export async function photograph(page: Page, file?: string): Promise<Screen> {
  const png = PNG.sync.read(await page.screenshot(file ? { path: file } : {}));
  return {
    width: png.width,
    height: png.height,
    colour(x, y) {
      const i = 4 * (y * png.width + x);
      return [png.data[i], png.data[i + 1], png.data[i + 2]];
    },
  };
}

export type Box = readonly [left: number, top: number, width: number, height: number];

function eachPixel(screen: Screen, box: readonly number[], visit: (x: number, y: number) => void): void {
  for (let y = Math.ceil(box[1]); y < Math.min(box[1] + box[3], screen.height); y++) {
    for (let x = Math.ceil(box[0]); x < Math.min(box[0] + box[2], screen.width); x++) visit(x, y);
  }
}

/** Centre of gravity of the px in `box` that `weigh` gives weight to; px centres lie at halves. */
export function centreOf(
  screen: Screen,
  box: readonly number[],
  weigh: (colour: readonly [number, number, number]) => number,
): { readonly x: number; readonly y: number; readonly weight: number } {
  let [x, y, weight] = [0, 0, 0];
  eachPixel(screen, box, (px, py) => {
    const w = weigh(screen.colour(px, py));
    x += w * (px + 0.5);
    y += w * (py + 0.5);
    weight += w;
  });
  return { x: x / weight, y: y / weight, weight };
}

/** Middle of the extent of the px that `counts`: marks that cover a part of the inside do not move it. */
export function middleOf(
  screen: Screen,
  box: readonly number[],
  counts: (colour: readonly [number, number, number]) => number,
): { readonly x: number; readonly y: number; readonly weight: number } {
  let [left, right, top, bottom, weight] = [Infinity, -Infinity, Infinity, -Infinity, 0];
  eachPixel(screen, box, (px, py) => {
    if (!counts(screen.colour(px, py))) return;
    [left, right] = [Math.min(left, px), Math.max(right, px + 1)];
    [top, bottom] = [Math.min(top, py), Math.max(bottom, py + 1)];
    weight += 1;
  });
  return { x: (left + right) / 2, y: (top + bottom) / 2, weight };
}

/** How many px of `box` differ between two pictures. */
export function changedPixels(a: Screen, b: Screen, box: readonly number[]): number {
  let changed = 0;
  eachPixel(a, box, (x, y) => {
    const [p, q] = [a.colour(x, y), b.colour(x, y)];
    if (Math.abs(p[0] - q[0]) + Math.abs(p[1] - q[1]) + Math.abs(p[2] - q[2]) > 24) changed += 1;
  });
  return changed;
}

/** How many different colours `box` holds: one for an empty picture. */
export function coloursIn(screen: Screen, box: readonly number[]): number {
  const colours = new Set<string>();
  eachPixel(screen, box, (x, y) => colours.add(screen.colour(x, y).join()));
  return colours.size;
}
