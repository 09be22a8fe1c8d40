import { unpackNumbers } from "../../../protocol/codec.ts";
import type { ReachWish, StageReach } from "../../../protocol/stage-reach.ts";
import type { OpenTake } from "../../take/open-take.ts";
import type { OverlayPart } from "./overlay-part.ts";
import { Group } from "three";
import { createShell } from "./shell.ts";
import { createStrokes } from "./strokes.ts";

export interface ReachOverlay extends OverlayPart {
  load(open: OpenTake): void;
  choose(wish: ReachWish): void;
  wish(): ReachWish;
  receive(answer: StageReach): void;
  words(): string;
  /** Lowest and highest place that the pupil comes to [m]; `undefined` before it is known. */
  heights(): readonly [number, number] | undefined;
  /** Corners of the triangles that are drawn, shape (n, 3, 3) in the set [m]. */
  triangles(): Float32Array;
  dispose(): void;
}

const MOST_OUTLINE = 20_000;

/**
 * Where the entrance pupil can be brought to: asked for when it is shown, and again when rig, base or set-up are others.
 *
 * @param ask     Asks for a region; its answer goes to `receive`.
 * @param changed What is drawn or said is another.
 */
export function createReachOverlay(first: OpenTake, ask: (wish: ReachWish) => void, changed: () => void): ReachOverlay {
  const shell = createShell("camera", 0.28);
  const outline = createStrokes(MOST_OUTLINE, [{ colour: "camera", width: 2.5 }], 6);
  const object = new Group().add(shell.object, outline.object);
  let open = first;
  let wish: ReachWish = { kind: "section", height: NaN };
  let shown = false;
  let asked = "";
  let words = "";
  let heights: readonly [number, number] | undefined;
  let triangles: Float32Array = new Float32Array(0);

  const draw = (faces: Float32Array, lines: Float64Array): void => {
    triangles = faces;
    shell.fill(faces);
    outline.begin();
    for (let i = 0; i + 5 < lines.length; i += 6) {
      outline.add(lines[i], lines[i + 1], lines[i + 2], lines[i + 3], lines[i + 4], lines[i + 5], 0);
    }
    outline.end();
  };
  const find = (): void => {
    const { stage, take } = open;
    if (!shown) return;
    if (wish.kind === "section" && Number.isNaN(wish.height)) {
      // Where the camera is at the beginning: there it reaches for certain.
      wish = { kind: "section", height: Math.round(100 * take.position[2]) / 100 };
    }
    const setup = stage.axes.map(({ role }, axis) => (role === "setup" ? take.value[axis] : 0));
    const wanted = JSON.stringify(
      [stage.uri, stage.rig.joints, stage.rig.mount, stage.base, setup, wish],
      (key, value: unknown) => (/^origins?$/.test(key) && !isPose(value) ? undefined : value),
    );
    if (wanted === asked) return;
    asked = wanted;
    words = "Reach of the camera: being found …";
    changed();
    ask(wish);
  };

  return {
    object,
    load(next) {
      open = next;
      find();
    },
    show(on) {
      shown = on;
      find();
    },
    choose(next) {
      wish = next;
      find();
      changed();
    },
    wish: () => wish,
    receive(answer) {
      if (answer.uri !== open.stage.uri || !isSame(answer.wish, wish)) return;
      if ("problem" in answer) {
        draw(new Float32Array(0), new Float64Array(0));
        words = answer.problem;
        // It may be told after the next edit.
        asked = "";
      } else {
        heights = answer.heights;
        draw(Float32Array.from(unpackNumbers(answer.triangles)), unpackNumbers(answer.outline));
        const nothing = triangles.length === 0 ? "Nothing is reached there. " : "";
        const cut = answer.open ? " Axes without an end are cut off." : "";
        words = `${nothing}Entrance pupil, looking any way, tried every ${answer.step * 100} cm.${cut}`;
      }
      changed();
    },
    paint(palette) {
      shell.paint(palette);
      outline.paint(palette);
    },
    setPicture: outline.setPicture,
    words: () => (shown ? words : ""),
    heights: () => heights,
    triangles: () => triangles,
    dispose() {
      shell.dispose();
      outline.dispose();
    },
  };
}

const isPose = (value: unknown): boolean => typeof value === "object" && value !== null && "turn" in value;

const isSame = (a: ReachWish, b: ReachWish): boolean =>
  a.kind === b.kind && (a.kind === "shell" || (b.kind === "section" && a.height === b.height));
