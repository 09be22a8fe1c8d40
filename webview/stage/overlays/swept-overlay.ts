import type { OpenTake } from "../../take/open-take.ts";
import type { ShapeOf } from "../solids.ts";
import type { OverlayPart } from "./overlay-part.ts";
import { createShell } from "./shell.ts";
import { runInSlices } from "../../in-slices.ts";
import { sweptSpace } from "./swept-space.ts";

/** What is swept: from a key to a later one, by index; the whole take with neither. */
export interface SweptStretch {
  readonly from: number;
  readonly to: number;
}

export interface SweptOverlay extends OverlayPart {
  /** @param meshes Another one when a mesh of the rig is another. */
  load(open: OpenTake, meshes: string): void;
  choose(stretch: SweptStretch | undefined): void;
  /** What there is to say of it. */
  words(): string;
  triangles(): number;
  dispose(): void;
}

/** The space that the rig takes, found in slices once it is shown and kept until the motion is another. */
export function createSweptOverlay(first: OpenTake, shapeOf: ShapeOf, changed: () => void): SweptOverlay {
  const shell = createShell("share-calm", 0.4);
  let open = first;
  let [shown, stop] = [false, (): void => undefined];
  let made = "";
  let drawnMeshes = "";
  let stretch: SweptStretch | undefined;
  let words = "";

  const find = (): void => {
    const { keyTimes, stage } = open;
    const [from, to] = stretch
      ? [keyTimes[stretch.from] ?? 0, keyTimes[stretch.to] ?? stage.duration]
      : [0, stage.duration];
    const wanted = `${from} ${to}`;
    if (!shown || wanted === made) return;
    stop();
    made = wanted;
    words = "Swept space: being found …";
    changed();
    stop = runInSlices(sweptSpace(open, shapeOf, from, to), ({ triangles, tolerance }) => {
      shell.fill(triangles);
      const close = `${Math.ceil(tolerance * 1000)} mm`;
      words = Number.isFinite(tolerance)
        ? `Swept by rig, camera and lens, within ${close}; meshes by their hulls.`
        : "The move sweeps too much to be drawn.";
      changed();
    });
  };

  return {
    object: shell.object,
    load(next, meshes) {
      const isSame = meshes === drawnMeshes && sameMotion(open, next);
      open = next;
      // Found once for a motion: comments and findings change none of it.
      if (isSame) return;
      stop();
      drawnMeshes = meshes;
      made = "";
      shell.fill(new Float32Array(0));
      find();
    },
    show(on) {
      shown = on;
      find();
    },
    choose(next) {
      stretch = next;
      find();
    },
    paint: shell.paint,
    words: () => (shown ? words : ""),
    triangles: shell.triangles,
    dispose() {
      stop();
      shell.dispose();
    },
  };
}

/** Whether two takes bring the same bodies through the same places. */
function sameMotion({ stage: a }: OpenTake, { stage: b }: OpenTake): boolean {
  const bodies = ({ rig, base, optics }: typeof a): string =>
    JSON.stringify([rig.joints, rig.bodies, rig.mount, base, optics]);
  const { t, value, focal, focus } = a.samples;
  const same = (one: typeof t, other: typeof t): boolean => one.data === other.data;
  const motion = same(t, b.samples.t) && same(value, b.samples.value);
  return a === b || (motion && same(focal, b.samples.focal) && same(focus, b.samples.focus) && bodies(a) === bodies(b));
}
