import { BufferAttribute, BufferGeometry, DynamicDrawUsage, Group, LineBasicMaterial, LineSegments } from "three";
import { unproject } from "../../../core/lens/project.ts";
import type { ResolvedOptics } from "../../../core/lens/resolved-optics.ts";
import type { ColourName } from "../../palette.ts";
import { distanceReading } from "../../take/reading.ts";
import { createSharpness, sensorOffset, sharpAt } from "../../take/sharpness.ts";
import type { Moment } from "../../take/moment.ts";
import { STAGE_ONLY } from "../eye.ts";
import { paintWith } from "../materials.ts";
import type { SharpnessUniforms } from "../sharpness-shader.ts";
import type { Label } from "../labels.ts";
import type { OverlayPart } from "./overlay-part.ts";

/** Steps an edge of a frame is drawn in: enough to show a lens's distortion. */
const EDGE_STEPS = 8;
/** What is farther off than this has no frame [m]. */
const FARTHEST = 60;
/** Stands for what has no far end [m]. */
const ENDLESS = 1e9;
/** CSS px of a stripe on what is not sharp and the gap after it. */
const STRIPE = 7;
const FRAMES = [
  { end: "near", colour: "soft-front" },
  { end: "focused", colour: "sharp" },
  { end: "far", colour: "soft-behind" },
] as const satisfies readonly { end: string; colour: ColourName }[];
const WORDS = { near: "near", focused: "focus", far: "far" } as const;
const CORNERS = [[0, 0], [1, 0], [1, 1], [0, 1]] as const; // prettier-ignore

export interface SharpnessOverlay extends OverlayPart {
  /** Drawn corners of the frames at the near end, the focus and the far end, shape (3, 4, 3) in the set; NaN for one that is not drawn. */
  corners(): Float64Array;
  dispose(): void;
}

/** The depth of field: what surfaces are tinted by, and thin frames at its ends and in focus, as large as the picture is there. */
export function createSharpnessOverlay(optics: ResolvedOptics, uniforms: SharpnessUniforms): SharpnessOverlay {
  const object = new Group();
  const frames = FRAMES.map(({ end, colour }) => ({ end, colour, line: frameLine(), depth: NaN }));
  object.add(...frames.map(({ line }) => line));
  const sharpness = createSharpness();
  const direction = [0, 0, 0];
  const corners = new Float64Array(36).fill(NaN);
  let toSensor = 0;
  let shown = false;

  /** Writes the frame at a depth [m] along the view. */
  const write = (line: LineSegments, depth: number, moment: Moment, into: number): void => {
    const place = line.geometry.getAttribute("position") as BufferAttribute;
    const r = moment.pose.mountRotation;
    for (let k = 0; k < 8 * EDGE_STEPS; k++) {
      const side = Math.floor(k / (2 * EDGE_STEPS));
      const share = (((k % (2 * EDGE_STEPS)) >> 1) + (k & 1)) / EDGE_STEPS;
      const [a, b] = [CORNERS[side], CORNERS[(side + 1) % 4]];
      const across = a[0] + (b[0] - a[0]) * share;
      const down = a[1] + (b[1] - a[1]) * share;
      const found = unproject(optics, moment.focal, across, down, direction);
      const scale = found ? depth : NaN;
      for (let c = 0; c < 3; c++) {
        const at = moment.pupil[c] + scale * (r[3 * c] + r[3 * c + 1] * direction[1] + r[3 * c + 2] * direction[2]);
        place.array[3 * k + c] = at;
        if (share === 0) corners[into + 3 * side + c] = at;
      }
    }
    place.needsUpdate = true;
  };

  return {
    object,
    show(on) {
      shown = on;
      if (!on) uniforms.sharpShown.value = 0;
    },
    update(moment) {
      sharpAt(optics, moment.focal, moment.iris, moment.focus, sharpness);
      const known = Number.isFinite(sharpness.near);
      uniforms.sharpShown.value = shown && known ? 1 : 0;
      const r = moment.pose.mountRotation;
      uniforms.sharpFrom.value.fromArray(moment.pupil);
      uniforms.sharpAlong.value.set(r[0], r[3], r[6]);
      uniforms.sharpNear.value = sharpness.near;
      uniforms.sharpFar.value = Math.min(sharpness.far, ENDLESS);
      toSensor = sensorOffset(optics, moment.focal, moment.focus);
      frames.forEach((frame, i) => {
        frame.depth = sharpness[frame.end];
        frame.line.visible = known && frame.depth <= FARTHEST;
        if (frame.line.visible) write(frame.line, frame.depth, moment, 12 * i);
        else corners.fill(NaN, 12 * i, 12 * i + 12);
      });
    },
    paint(palette) {
      for (const { line, colour } of frames)
        paintWith((line.material as LineBasicMaterial).color, palette.colour[colour]);
    },
    setPicture(_width, _height, ratio) {
      uniforms.sharpStripe.value = STRIPE * ratio;
    },
    labels(pixelsOf) {
      return frames.flatMap(({ end, line, depth }, i): Label[] => {
        if (!line.visible) return [];
        const [x, y] = pixelsOf(corners.subarray(12 * i + 3, 12 * i + 6));
        return [{ text: `${WORDS[end]} ${distanceReading(depth + toSensor)}`, kind: "depth", rank: 6, x, y }];
      });
    },
    corners: () => corners,
    dispose() {
      for (const { line } of frames) {
        line.geometry.dispose();
        (line.material as LineBasicMaterial).dispose();
      }
    },
  };
}

function frameLine(): LineSegments {
  const geometry = new BufferGeometry();
  const places = new BufferAttribute(new Float32Array(24 * EDGE_STEPS), 3).setUsage(DynamicDrawUsage);
  geometry.setAttribute("position", places);
  const line = new LineSegments(geometry, new LineBasicMaterial());
  line.frustumCulled = false;
  line.layers.set(STAGE_ONLY);
  return line;
}
