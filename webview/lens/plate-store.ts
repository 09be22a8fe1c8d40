import { decodeBase64 } from "../../core/base/base64.ts";
import { baseName } from "../../core/base/path.ts";
import type { StageMeshAnswer, StageMeshPart } from "../../protocol/stage.ts";
import type { StagePlate } from "../../protocol/stage-lens.ts";

/** The plate of the take that is shown: asked for once, and again when its file changes. */
export interface PlateStore {
  load(plate: StagePlate | undefined): void;
  /** True for an answer that was for a plate. */
  receive(answer: StageMeshAnswer): boolean;
  /** `undefined` while it is not there, and for one that can't be shown. */
  picture(): ImageBitmap | undefined;
  /** How it is shown in all views: as the text says until a person sets it otherwise. */
  look(): PlateLook;
  setLook(look: PlateLook): void;
  /** Why it is not shown, as a sentence; empty while there is nothing to say. */
  problem(): string;
}

export interface PlateLook {
  /** How much it covers, 0..1. */
  readonly opacity: number;
  /** It lies behind the scene, not over it. */
  readonly behind: boolean;
}

/** Pictures are decoded no larger than this [px]: the view through the lens is no larger than a screen. */
const WIDEST = 2048;

/**
 * @param ask     Asks for the file of a plate; its answer goes to `receive`.
 * @param changed Called when the plate can be shown, or can't.
 * @param stale   Called when it is to be shown otherwise.
 */
export function createPlateStore(
  ask: (part: StageMeshPart) => void,
  changed: () => void,
  stale: () => void,
): PlateStore {
  let file: string | undefined;
  let stamp: string | undefined;
  let picture: ImageBitmap | undefined;
  let problem = "";
  let look: PlateLook = { opacity: 0, behind: false };
  let stated = "";
  /** Counts what was asked for: pictures of older questions are dropped. */
  let turn = 0;

  const settle = (next: ImageBitmap | undefined, words: string): void => {
    picture?.close();
    picture = next;
    problem = words === "" ? "" : `The plate ${baseName(file ?? "")} is not shown. ${words}`;
    changed();
  };
  const decode = async (data: string): Promise<void> => {
    const now = turn;
    const blob = new Blob([decodeBase64(data) as Uint8Array<ArrayBuffer>]);
    const next = await createImageBitmap(blob)
      .then(smaller)
      .catch(() => undefined);
    if (now !== turn) next?.close();
    else settle(next, next ? "" : "Its picture can't be read.");
  };

  return {
    load(plate) {
      // What a person has set stays until the text says something else.
      const says = plate ? `${plate.file} ${plate.opacity}` : "";
      if (plate && says !== stated) look = { ...look, opacity: plate.opacity };
      stated = says;
      if (plate?.file === file && plate?.stamp === stamp) return;
      turn += 1;
      [file, stamp] = [plate?.file, plate?.stamp];
      if (file !== undefined && stamp !== undefined) {
        problem = "";
        ask({ file });
        return;
      }
      picture?.close();
      picture = undefined;
      // Why its file can't be had is told by the findings.
      problem = "";
    },
    receive(answer) {
      if (answer.file !== file || answer.part !== undefined) return false;
      if ("data" in answer) void decode(answer.data);
      else {
        // Another try may mend it.
        stamp = undefined;
        settle(undefined, answer.problem);
      }
      return true;
    },
    picture: () => picture,
    look: () => look,
    setLook(next) {
      look = next;
      stale();
    },
    problem: () => problem,
  };
}

async function smaller(picture: ImageBitmap): Promise<ImageBitmap> {
  if (picture.width <= WIDEST) return picture;
  const small = await createImageBitmap(picture, { resizeWidth: WIDEST, resizeQuality: "high" });
  picture.close();
  return small;
}
