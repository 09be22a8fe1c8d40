import type { PictureView } from "../core/draw/picture.ts";
import { Failure } from "./failure.ts";

/** Widths that a PNG may have [px]: narrower no name can be read, wider it takes more memory than it shows. */
const LEAST = 160;
const MOST = 7680;
/** Of a view from outside, where nobody asks for another one [px]. */
const USUAL = 1600;

/** The width that `--width` asks for [px]. Throws `Failure` for one that no PNG may have, and for one of an SVG. */
export function widthOption(written: string | undefined, isPng: boolean): number | undefined {
  if (written === undefined) return undefined;
  if (!isPng)
    throw new Failure(`--width ${written}: an SVG is drawn at any width; --width is for a file that ends in .png`);
  const width = /^\d+$/.test(written) ? Number(written) : NaN;
  if (LEAST <= width && width <= MOST) return width;
  throw new Failure(`--width ${written}: the width of a PNG is a whole number of px from ${LEAST} to ${MOST}`);
}

/** What is asked for, else the delivered picture's width through the lens, and a usual one from outside [px]. */
export function pngWidth(asked: number | undefined, view: PictureView, deliver: readonly [number, number]): number {
  return asked ?? (view === "lens" ? Math.min(Math.max(deliver[0], LEAST), MOST) : USUAL);
}
