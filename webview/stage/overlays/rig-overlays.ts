import type { StagePicturedOverlays } from "../../../protocol/stage-overlays.ts";
import type { Overlay } from "../../overlays.ts";
import type { OpenTake } from "../../take/open-take.ts";
import type { Parts } from "../parts.ts";
import { createNearestModel } from "./nearest-model.ts";
import type { OverlayPart, PixelsOf } from "./overlay-part.ts";
import { createRangeOverlay } from "./range-overlay.ts";

/** The overlays that are about the rig. */
export interface RigOverlays {
  load(open: OpenTake): Partial<Record<Overlay, OverlayPart>>;
  /** What they show, for tests. */
  report(pixelsOf: PixelsOf): StagePicturedOverlays;
}

export function createRigOverlays(parts: Parts): RigOverlays {
  let report: RigOverlays["report"] = () => ({});
  return {
    load(open) {
      const { rig, base, axes, turntables } = open.stage;
      const made = [rig, base, axes, turntables];
      const ranges = parts.keep("ranges", made, () => createRangeOverlay(open));
      const nearest = parts.keep("nearest", made, () => createNearestModel(open));
      nearest.load(open);
      report = (pixelsOf) => ({
        ranges: ranges.object.visible ? [...pixelsOf(ranges.places())] : undefined,
        nearest: nearest.object.visible
          ? { words: nearest.told().words, at: [...pixelsOf(nearest.told().place)] }
          : undefined,
      });
      return { ranges, nearest };
    },
    report: (pixelsOf) => report(pixelsOf),
  };
}
