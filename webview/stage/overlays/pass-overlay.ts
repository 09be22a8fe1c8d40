import { unproject } from "../../../core/lens/project.ts";
import type { StagePasses } from "../../../protocol/stage-passes.ts";
import type { Moment } from "../../take/moment.ts";
import type { OpenTake } from "../../take/open-take.ts";
import type { Label } from "../labels.ts";
import { Group } from "three";
import type { Palette } from "../../palette.ts";
import type { OverlayPart } from "./overlay-part.ts";
import { createPassPlay, passWords, type PassPlay } from "./pass-play.ts";
import { createStrokes, type Strokes } from "./strokes.ts";

export interface PassOverlay extends OverlayPart {
  load(open: OpenTake): void;
  receive(answer: StagePasses): void;
  /** What plays; `undefined` before it is known. */
  play(): PassPlay | undefined;
  words(): string;
  /** Ends of the strokes that are drawn, shape (count, 2, 3) in the set [m]. */
  strokes(): Float32Array;
  dispose(): void;
}

/** Straight parts of the envelope, and half an arm of a target's cross [m]. */
const ROUND = 40;
const ARM = 0.03;
/** A dash with its gap [m]. */
const PERIOD = 0.12;

/** Rigs of the passes as light lines, their targets, and how far the subject may be off in each, about it. */
export function createPassOverlay(first: OpenTake, ask: () => void, changed: () => void): PassOverlay {
  const object = new Group();
  let open = first;
  let [shown, asked] = [false, ""];
  let strokes: Strokes | undefined;
  let play: PassPlay | undefined;
  let [problem, palette] = ["", undefined as Palette | undefined];
  let last: Moment | undefined;
  const direction = new Float64Array(3);

  const find = (): void => {
    const wanted = `${open.stage.uri} ${open.stage.version}`;
    if (!shown || asked === wanted) return;
    asked = wanted;
    ask();
  };
  const drop = (): void => {
    if (strokes) {
      object.remove(strokes.object);
      strokes.dispose();
    }
    strokes = undefined;
  };

  /** The rig, from its base through the joints to the flange and the pupil, and the targets. */
  const addRig = (pass: PassPlay["passes"][number], look: number): void => {
    const { positions, mountPosition } = pass.pose;
    let [x, y, z] = open.base.position;
    let along = 0;
    const to = (p: Float64Array, at: number): void => {
      strokes!.add(x, y, z, p[at], p[at + 1], p[at + 2], look, along);
      along += Math.hypot(p[at] - x, p[at + 1] - y, p[at + 2] - z);
      [x, y, z] = [p[at], p[at + 1], p[at + 2]];
    };
    for (let i = 0; i < positions.length; i += 3) to(positions, i);
    to(mountPosition, 0);
    to(pass.pupil, 0);
    const t = pass.targets;
    for (let i = 0; i < t.length; i += 3) {
      strokes!.add(t[i] - ARM, t[i + 1], t[i + 2], t[i] + ARM, t[i + 1], t[i + 2], 0);
      strokes!.add(t[i], t[i + 1] - ARM, t[i + 2], t[i], t[i + 1] + ARM, t[i + 2], 0);
      strokes!.add(t[i], t[i + 1], t[i + 2] - ARM, t[i], t[i + 1], t[i + 2] + ARM, 0);
    }
  };

  /** Where the rays through the circle in the picture come to the subject's distance along the view. */
  const addRound = (moment: Moment, radius: number, look: number): void => {
    const { optics } = open.stage;
    const at = 3 * moment.aimed;
    const r = moment.pose.mountRotation;
    const depth = [0, 1, 2].reduce((sum, k) => sum + r[3 * k] * (moment.targets[at + k] - moment.pupil[k]), 0);
    const [cx, cy] = [moment.framing[2 * moment.aimed], moment.framing[2 * moment.aimed + 1]];
    let [x, y, z, along] = [NaN, NaN, NaN, 0];
    for (let i = 0; i <= ROUND; i++) {
      const turn = (2 * Math.PI * i) / ROUND;
      const across = cx + (radius * Math.cos(turn)) / optics.resolution[0];
      const down = cy + (radius * Math.sin(turn)) / optics.resolution[1];
      if (!unproject(optics, moment.focal, across, down, direction)) return;
      const [a, b, c] = [0, 1, 2].map((k) => moment.pupil[k] + depth * (r[3 * k] * direction[0] + r[3 * k + 1] * direction[1] + r[3 * k + 2] * direction[2])); // prettier-ignore
      if (i > 0) {
        strokes!.add(x, y, z, a, b, c, look, along);
        along += Math.hypot(a - x, b - y, c - z);
      }
      [x, y, z] = [a, b, c];
    }
  };

  const draw = (moment: Moment): void => {
    if (!strokes || !play) return;
    play.update(moment);
    strokes.begin();
    play.passes.forEach((pass, i) => {
      if (pass.isOwn) addRig(pass, i);
      if (moment.aimed >= 0 && pass.radius > 0) addRound(moment, pass.radius * play!.magnified, i);
    });
    strokes.end();
  };

  return {
    object,
    load(next) {
      open = next;
      if (play) {
        play = undefined;
        drop();
      }
      find();
    },
    show(on) {
      shown = on;
      find();
    },
    receive(answer) {
      // Of another version of the move it was asked for anew, or will be.
      if (answer.uri !== open.stage.uri || answer.version !== open.stage.version) return;
      drop();
      play = undefined;
      problem = "problem" in answer ? answer.problem : "";
      if ("passes" in answer) {
        play = createPassPlay(open, answer);
        const each = open.chain.count + 2 + open.stage.targets.length * 3 + ROUND;
        const looks = play.dashes.map((dash) => ({
          colour: "key-chosen" as const,
          width: 1.5,
          dash: dash && ([PERIOD * dash[0], dash[1]] as const),
        }));
        strokes = createStrokes(each * looks.length, looks, 15);
        if (palette) strokes.paint(palette);
        object.add(strokes.object);
        if (last) draw(last);
      } else asked = "";
      changed();
    },
    update(moment) {
      last = moment;
      draw(moment);
    },
    paint(next) {
      palette = next;
      strokes?.paint(next);
    },
    setPicture: (width, height, ratio) => strokes?.setPicture(width, height, ratio),
    labels(pixelsOf) {
      const labels: Label[] = [];
      for (const pass of play?.passes ?? []) {
        if (!pass.isOwn) continue;
        const [x, y] = pixelsOf(pass.pupil);
        labels.push({ text: passWords(pass), kind: "pass", rank: 6, x, y });
      }
      return labels;
    },
    play: () => (shown ? play : undefined),
    words() {
      if (!shown) return "";
      if (!play) return problem || "Passes: being solved …";
      if (play.passes.every(({ isOwn }) => !isOwn) && play.magnified === 1) return "All passes play as the move does.";
      return "";
    },
    strokes: () => strokes?.places() ?? new Float32Array(0),
    dispose: drop,
  };
}
