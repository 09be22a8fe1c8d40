import type { StagePicturedOverlays } from "../../../protocol/stage-overlays.ts";
import type { StagePasses } from "../../../protocol/stage-passes.ts";
import type { ReachWish, StageReach } from "../../../protocol/stage-reach.ts";
import type { MeshStore } from "../../mesh/mesh-store.ts";
import type { Overlay } from "../../overlays.ts";
import type { OpenTake } from "../../take/open-take.ts";
import type { Parts } from "../parts.ts";
import { createNearestModel } from "./nearest-model.ts";
import { createOverlayPanel } from "./overlay-panel.ts";
import { createPairModel, type PairModel } from "./pair-model.ts";
import type { OverlayPart, PixelsOf } from "./overlay-part.ts";
import { createPassOverlay } from "./pass-overlay.ts";
import type { PassPlay } from "./pass-play.ts";
import { createRangeOverlay } from "./range-overlay.ts";
import { createReachOverlay } from "./reach-overlay.ts";
import { createSweptOverlay } from "./swept-overlay.ts";

/** What overlays ask an editor for. */
export type OverlayQuestion = { readonly type: "reach"; readonly wish: ReachWish } | { readonly type: "passes" };

export interface OverlayEvents {
  ask(question: OverlayQuestion): void;
  /** The picture no longer shows what it should. */
  stale(): void;
}

/** The overlays that are about the rig. */
export interface RigOverlays {
  /** What is said of them, with their choices. */
  readonly panel: HTMLElement;
  load(open: OpenTake): Partial<Record<Overlay, OverlayPart>>;
  /** What a chosen finding is about; drawn whatever the menu says. `undefined` before a take. */
  pair(): PairModel | undefined;
  clear(): void;
  /** Something was shown or hidden. */
  changed(): void;
  receiveReach(answer: StageReach): void;
  receivePasses(answer: StagePasses): void;
  /** The passes that play over each other; `undefined` while they are hidden or not known. */
  passPlay(): PassPlay | undefined;
  /** What they show, for tests. */
  report(pixelsOf: PixelsOf): StagePicturedOverlays;
}

type Made = ReturnType<typeof makeParts>;

export function createRigOverlays(parts: Parts, meshes: MeshStore, events: OverlayEvents): RigOverlays {
  let made: Made | undefined;
  let pair: PairModel | undefined;
  const panel = createOverlayPanel({
    swept: (stretch) => made?.swept.choose(stretch),
    reach: (wish) => made?.reach.choose(wish),
  });
  const changed = (): void => {
    panel.update(made ? wordsOf(made) : {});
    events.stale();
  };
  return {
    panel: panel.object,
    load(open) {
      made = makeParts(parts, open, meshes, events, changed);
      pair = parts.keep("pair", 0, () => createPairModel(open, meshes.shape));
      pair.load(open);
      panel.load(open);
      return made;
    },
    clear() {
      made = pair = undefined;
      panel.load(undefined);
      panel.update({});
    },
    pair: () => pair,
    changed: () => panel.update(made ? wordsOf(made) : {}),
    receiveReach: (answer) => made?.reach.receive(answer),
    receivePasses: (answer) => made?.passes.receive(answer),
    passPlay: () => made?.passes.play(),
    report: (pixelsOf) => ({
      ...(made ? reportOf(made, pixelsOf) : {}),
      ...(pair && pair.told().strokes > 0 ? { pair: pair.told() } : {}),
    }),
  };
}

function makeParts(parts: Parts, open: OpenTake, meshes: MeshStore, { ask }: OverlayEvents, changed: () => void) {
  const { rig, base, axes, turntables } = open.stage;
  const about = [rig, base, axes, turntables];
  const made = {
    ranges: parts.keep("ranges", about, () => createRangeOverlay(open)),
    nearest: parts.keep("nearest", about, () => createNearestModel(open)),
    swept: parts.keep("swept", 0, () => createSweptOverlay(open, meshes.shape, changed)),
    reach: parts.keep("reach", 0, () => createReachOverlay(open, (wish) => ask({ type: "reach", wish }), changed)),
    passes: parts.keep("passes", 0, () => createPassOverlay(open, () => ask({ type: "passes" }), changed)),
  };
  for (const part of [made.nearest, made.reach, made.passes]) part.load(open);
  made.swept.load(open, meshes.signature(rig.bodies));
  return made;
}

function wordsOf({ swept, reach, passes }: Made): Parameters<ReturnType<typeof createOverlayPanel>["update"]>[0] {
  return {
    ...(swept.object.visible ? { swept: swept.words() } : {}),
    ...(reach.object.visible ? { reach: { words: reach.words(), wish: reach.wish(), heights: reach.heights() } } : {}),
    ...(passes.object.visible ? { passes: { words: passes.words(), play: passes.play() } } : {}),
  };
}

function reportOf({ ranges, nearest, swept, reach, passes }: Made, pixelsOf: PixelsOf): StagePicturedOverlays {
  const pixels = (places: ArrayLike<number>): number[] => [...pixelsOf(places)];
  return {
    ...(ranges.object.visible ? { ranges: pixels(ranges.places()) } : {}),
    ...(nearest.object.visible ? { nearest: { words: nearest.told().words, at: pixels(nearest.told().place) } } : {}),
    ...(swept.object.visible ? { swept: { words: swept.words(), triangles: swept.triangles() } } : {}),
    ...(reach.object.visible ? { reach: { words: reach.words(), triangles: reach.triangles().length / 9 } } : {}),
    ...(passes.object.visible
      ? {
          passes: {
            magnified: passes.play()?.magnified ?? 0,
            radii: (passes.play()?.passes ?? []).map(({ radius }) => radius),
            pupils: (passes.play()?.passes ?? []).flatMap(({ pupil }) => pixels(pupil)),
            targets: (passes.play()?.passes ?? []).flatMap(({ targets }) => pixels(targets)),
          },
        }
      : {}),
  };
}
