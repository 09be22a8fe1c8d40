import type { Rate } from "../../core/base/rate.ts";
import { webmOf, type Film, type FilmBlock } from "./webm.ts";

/** Coders to try, the one that makes the smaller file first. */
const CODERS = [
  { codec: "vp09.00.50.08", name: "V_VP9" },
  { codec: "vp8", name: "V_VP8" },
] as const;
/** Bits that a px of a picture may take, and the least for a second. */
const BITS_A_PIXEL = 0.12;
const LEAST_BITS = 1.5e6;
/** A player can begin at each so many seconds. */
const KEY_EVERY = 2;
/** Pictures that may wait for the coder. */
const WAITING = 3;

export const NO_FILM = "This editor cannot write films: it has no video encoder.";

/** Whether films can be made here at all. */
export function canFilm(): boolean {
  return typeof VideoEncoder === "function" && typeof VideoFrame === "function";
}

export interface FilmOrder {
  readonly canvas: HTMLCanvasElement;
  readonly rate: Rate;
  readonly frames: number;
  /** Draws a frame of the move on the canvas. */
  draw(frame: number): void;
  /** Told after each frame; what it waits for leaves the page time for other things. */
  drawn(frame: number): Promise<void>;
  readonly stop: AbortSignal;
}

/**
 * Each frame of a move for exactly as long as its rate says, however long it takes to draw it. `undefined` when it was stopped.
 * Throws an error in words where the film can't be coded.
 */
export async function encodeFilm(order: FilmOrder): Promise<Blob | undefined> {
  const { canvas, rate, frames, stop } = order;
  const { width, height } = canvas;
  const seconds = rate.den / rate.num;
  const coder = await coderFor({ width, height, framerate: 1 / seconds });
  if (coder === undefined) throw new Error(`This editor has no encoder for films of ${width} × ${height} px.`);
  const blocks: FilmBlock[] = [];
  let failed: Error | undefined;
  const encoder = new VideoEncoder({
    output(chunk) {
      const data = new Uint8Array(chunk.byteLength);
      chunk.copyTo(data);
      blocks.push({ time: chunk.timestamp / 1000, key: chunk.type === "key", data });
    },
    error: (error) => void (failed = error),
  });
  encoder.configure(coder.config);
  const between = Math.max(1, Math.round(KEY_EVERY / seconds));
  try {
    for (let frame = 0; frame < frames; frame++) {
      if (stop.aborted) return undefined;
      order.draw(frame);
      const [timestamp, duration] = [frame * seconds, seconds].map((time) => Math.round(time * 1e6));
      const picture = new VideoFrame(canvas, { timestamp, duration });
      encoder.encode(picture, { keyFrame: frame % between === 0 });
      picture.close();
      do await order.drawn(frame);
      while (encoder.encodeQueueSize > WAITING && failed === undefined && !stop.aborted);
      if (failed) throw failed;
    }
    await encoder.flush();
  } finally {
    if (encoder.state !== "closed") encoder.close();
  }
  const [each, duration] = [seconds, frames * seconds].map((time) => time * 1000);
  const film: Film = { codec: coder.name, width, height, each, duration, blocks };
  return new Blob(webmOf(film) as Uint8Array<ArrayBuffer>[], { type: "video/webm" });
}

async function coderFor(
  size: Required<Pick<VideoEncoderConfig, "width" | "height" | "framerate">>,
): Promise<{ readonly config: VideoEncoderConfig; readonly name: Film["codec"] } | undefined> {
  const bitrate = Math.max(LEAST_BITS, Math.round(size.width * size.height * size.framerate * BITS_A_PIXEL));
  for (const { codec, name } of CODERS) {
    const config: VideoEncoderConfig = { ...size, codec, bitrate };
    const { supported } = await VideoEncoder.isConfigSupported(config);
    if (supported) return { config, name };
  }
  return undefined;
}
