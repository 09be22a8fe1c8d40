import { nearestCourse, nearestShare, toldSample, type NearestCourse } from "../../take/nearest-limit.ts";
import type { OpenTake } from "../../take/open-take.ts";
import { shareReading } from "../../take/reading.ts";
import { BAND_STARTS, ORDERS } from "../../take/share.ts";
import { createDots } from "../dots.ts";
import type { OverlayPart } from "./overlay-part.ts";
import { createAxisFrames } from "./axis-frames.ts";

/** A ring about the joint of the axis that is nearest to one of its limits, and what it says. */
export interface NearestModel extends OverlayPart {
  /** Takes up another take of the same rig; what is told of it is found when it is first shown. */
  load(open: OpenTake): void;
  /** What it says, `pan speed 87 %`, empty where no axis has a limit; and where its ring stands in the set [m]. */
  told(): { readonly words: string; readonly place: Float32Array };
  dispose(): void;
}

const NAMES = ["range", ...ORDERS.slice(1)] as const;
/** Shares are told in whole percent: words are made anew when that changes. */
const PERCENT = 100;

/** From this share on it stands out more. */
const HIGH = BAND_STARTS[2];
/** Named before all but what a finding tells and what somebody points at. */
const RANK = 150;

export function createNearestModel(first: OpenTake): NearestModel {
  const ring = createDots(1, { shape: "ring", size: 20, colour: "ink", chosen: "share-near", order: 14 });
  const [origin, at] = [new Float64Array(3), new Float64Array(3)];
  let open = first;
  let course: NearestCourse | undefined;
  let frames = createAxisFrames(open);
  let [axis, order, told] = [-1, 0, NaN];
  let words = "";
  let isHigh = false;
  return {
    object: ring.object,
    load(next) {
      open = next;
      course = undefined;
      frames = createAxisFrames(next);
      axis = -1;
      words = "";
    },
    update(moment) {
      course ??= nearestCourse(open);
      const sample = toldSample(open, moment);
      const next = course.axis[sample];
      const share = nearestShare(open, course, moment);
      const rounded = Math.round(share * PERCENT);
      if (next !== axis || course.order[sample] !== order || !Object.is(rounded, told)) {
        [axis, order, told] = [next, course.order[sample], rounded];
        words = axis < 0 ? "" : `${open.stage.axes[axis].name} ${NAMES[order]} ${shareReading(share)}`;
      }
      isHigh = share >= HIGH;
      ring.choose(isHigh ? 0 : -1);
      if (axis < 0) ring.places.fill(NaN);
      else {
        frames.enter(axis, moment);
        frames.toSet(origin, at);
        ring.places.set(at);
      }
      ring.moved();
    },
    paint: ring.paint,
    setPicture: (_width, _height, ratio) => ring.setRatio(ratio),
    labels(pixelsOf) {
      if (words === "") return [];
      const [x, y] = pixelsOf(ring.places);
      return [{ text: words, kind: isHigh ? "nearest-high" : "nearest", rank: RANK, x, y }];
    },
    told: () => ({ words, place: ring.places }),
    dispose: ring.dispose,
  };
}
