import { clampTime } from "../take/timeline.ts";
import { createMoment, momentAt } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";
import { timecodeOf } from "../take/words.ts";
import type { Pictures } from "../pictures.ts";
import { CAPTION, copyShot, paintCaption, type PaneShot } from "./copy-shot.ts";
import { encodeFilm } from "./encode-film.ts";

/** Of the delivered picture's height: how high its caption is. */
const CAPTION_SHARE = 1 / 40;

export interface Shooting {
  readonly pictures: Pictures;
  readonly open: OpenTake;
  readonly pane: number;
}

/** What a pane shows at a time [s], at the resolution of the panel, and a line below that says of what and when. */
export function panePicture({ pictures, open, pane }: Shooting, time: number): Promise<Blob> {
  const shot = shotOf(pictures, open, pane, time);
  const onto = document.createElement("canvas");
  const strip = Math.round(CAPTION * shot.ratio);
  [onto.width, onto.height] = [shot.width, shot.height + strip];
  const pen = penOf(onto);
  copyShot(shot, pen);
  paintCaption(pen, captionOf(open, time), { top: shot.height, width: shot.width, unit: shot.ratio, opacity: 1 });
  return pngOf(onto);
}

/** What is delivered of a time [s], px for px; the line about it stands inside. */
export function lensPicture({ pictures, open }: Shooting, time: number): Promise<Blob> {
  const moment = createMoment(open);
  momentAt(open, time, moment);
  const onto = document.createElement("canvas");
  pictures.lensStill(moment, onto);
  const unit = (onto.height * CAPTION_SHARE) / CAPTION;
  const top = onto.height - CAPTION * unit;
  paintCaption(penOf(onto), captionOf(open, time), { top, width: onto.width, unit, opacity: 0.72 });
  return pngOf(onto);
}

/** The whole move in a pane, each frame as long as its rate says. `undefined` when it was stopped. */
export async function paneFilm(
  { pictures, open, pane }: Shooting,
  told: { readonly stop: AbortSignal; progress(share: number): Promise<void> },
): Promise<Blob | undefined> {
  const { rate, duration } = open.stage;
  const frames = Math.floor((duration * rate.num) / rate.den + 1e-6) + 1;
  const moment = createMoment(open);
  const onto = document.createElement("canvas");
  const first = shotOf(pictures, open, pane, 0);
  // Coders take halves of both sides for colour.
  [onto.width, onto.height] = [first.width & ~1, first.height & ~1];
  const pen = penOf(onto);
  return encodeFilm({
    ...{ canvas: onto, rate, frames, stop: told.stop },
    draw(frame) {
      momentAt(open, clampTime((frame * rate.den) / rate.num, duration), moment);
      const shot = pictures.shot(pane, moment);
      if (shot?.width !== first.width || shot.height !== first.height)
        throw new Error("The view changed its size while it was filmed; begin once more.");
      copyShot(shot, pen);
    },
    drawn: (frame) => told.progress((frame + 1) / frames),
  });
}

function shotOf(pictures: Pictures, open: OpenTake, pane: number, time: number): PaneShot {
  const moment = createMoment(open);
  momentAt(open, time, moment);
  const shot = pictures.shot(pane, moment);
  if (shot === undefined) throw new Error("There is no room for a picture; make the panel larger.");
  return shot;
}

function captionOf(open: OpenTake, time: number): { readonly left: string; readonly right: string } {
  return { left: open.stage.title, right: timecodeOf(open, time) };
}

function penOf(canvas: HTMLCanvasElement): CanvasRenderingContext2D {
  const pen = canvas.getContext("2d");
  if (pen === null) throw new Error(`This editor has no canvas of ${canvas.width} × ${canvas.height} px.`);
  return pen;
}

function pngOf(canvas: HTMLCanvasElement): Promise<Blob> {
  return new Promise((resolve, reject) => {
    const done = (blob: Blob | null): void =>
      blob ? resolve(blob) : reject(new Error(`A picture of ${canvas.width} × ${canvas.height} px can't be written here.`)); // prettier-ignore
    canvas.toBlob(done, "image/png");
  });
}
