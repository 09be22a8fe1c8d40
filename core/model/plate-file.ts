import { baseName } from "../base/path.ts";
import type { FileId } from "../base/span.ts";
import { megabytes, sizeMessage } from "./mesh-file.ts";
import { readInput, type Resolution } from "./resolution.ts";
import type { SourceState } from "./sources.ts";

/** Largest file of a plate that the stage is given [bytes]. */
export const MAX_PLATE_BYTES = 8_000_000;

const PLATE = /\.(png|jpe?g|webp)$/i;

/** True for a file that is a picture of a format that the stage shows, by its name. */
export const isPlateFile = (file: FileId): boolean => PLATE.test(file);

/** What a file of a plate begins with, kept by its stamp: it is read once. */
export interface PlateFile {
  readonly kind: "plate";
  readonly stamp: string;
  /** True where it begins as a PNG, JPEG or WebP file does. */
  readonly isPicture: boolean;
}

/** Whether the file begins as a picture does; `undefined` for one that is missing, too large, or not looked at yet. */
export function openPlate(resolution: Resolution, file: FileId): PlateFile | undefined {
  const source = readInput(resolution, file);
  if (source.state !== "bytes" || source.size > MAX_PLATE_BYTES) return undefined;
  const { stamp } = source;
  const kept = resolution.memo.get(file);
  const known = kept?.kind === "plate" && kept.stamp === stamp ? kept : undefined;
  const plate: PlateFile = known ?? { kind: "plate", stamp, isPicture: beginsAsPicture(source.content()) };
  // What was asked for last stands last: the memo's owner lets go of the first ones.
  resolution.memo.delete(file);
  resolution.memo.set(file, plate);
  return plate;
}

/** What to say of a plate that is there but larger than the stage is given, or `undefined`. */
export function plateSizeMessage(file: FileId, source: SourceState): string | undefined {
  if (source.state !== "bytes" || source.size <= MAX_PLATE_BYTES) return undefined;
  const most = megabytes(MAX_PLATE_BYTES);
  return `\`${baseName(file)}\` has ${megabytes(source.size)}: the stage shows plates of ${most} or less. Save it smaller: the lens view is no larger than a screen.`;
}

/** The same for any file that the stage asks for. */
export const largeFileMessage = (file: FileId, source: SourceState): string | undefined =>
  isPlateFile(file) ? plateSizeMessage(file, source) : sizeMessage(file, source);

/** First bytes: of PNG (RFC 2083, 3.1), of JPEG (ITU-T T.81, B.1.1.3: SOI and the next marker), of WebP (RFC 9649, 2.4). */
function beginsAsPicture(bytes: Uint8Array | undefined): boolean {
  if (!bytes) return false;
  const begins = (signs: readonly number[], at = 0): boolean => signs.every((sign, i) => bytes[at + i] === sign);
  if (begins([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])) return true;
  if (begins([0xff, 0xd8, 0xff])) return true;
  return begins([0x52, 0x49, 0x46, 0x46]) && begins([0x57, 0x45, 0x42, 0x50], 8);
}
