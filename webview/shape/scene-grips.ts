import { add, scale, type Vec3 } from "../../core/base/vec3.ts";
import type { Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";
import { createGrips, type Grip, type GripName, type SetAxis } from "./grips.ts";
import type { PaneHand } from "./pane-hand.ts";
import { backOf, metresPerPixel, onAxis, onPlane, rayAt, type Look } from "./ray.ts";

/** Length of an arm [px]; one that is seen shorter than its letter is left out. */
const ARM = 38;
const SHORTEST = 12;
/** How far arrow keys move a place [m], and with Shift. */
const STEP = { small: 0.01, large: 0.1 } as const;
const DIRECTIONS: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

export interface SceneGrips {
  readonly layer: HTMLElement;
  /**
   * @param camera   Place of the chosen key's camera as drawn [m]; `undefined` without one.
   * @param pixelsOf Pixels of places, NaN behind the eye.
   */
  draw(
    open: OpenTake,
    moment: Moment,
    camera: Vec3 | undefined,
    look: Look,
    size: readonly [number, number],
    pixelsOf: (places: readonly number[]) => ArrayLike<number>,
  ): void;
}

/** Grips on the chosen key's camera and on what it aims at, in a view of the stage. */
export function createSceneGrips(hand: PaneHand): SceneGrips {
  let look: Look | undefined;
  let size: readonly [number, number] = [1, 1];
  let places: Partial<Record<GripName, Vec3>> = {};
  let target = -1;
  let held: GripName | undefined;
  let start: Vec3 | undefined;
  let at: Vec3 | undefined;
  const want = (name: GripName, place: Vec3): void => {
    at = place;
    const key = hand.key();
    if (key < 0) return;
    hand.want(name === "camera" ? { kind: "camera", key, at: place } : { kind: "target", key, target, at: place });
  };
  const over = (): void => void (start = at = held = undefined);
  const grips = createGrips({
    begin(name) {
      held = name;
      start = at = places[name];
    },
    drag(name, x, y, axis) {
      if (!start || !look) return;
      const ray = rayAt(look, x, y, size[0], size[1]);
      const place = axis === undefined ? onPlane(ray, start, backOf(look)) : onAxis(ray, start, DIRECTIONS[axis]);
      if (place) want(name, place);
    },
    step(name, [right, up, back], axis: SetAxis | undefined, large) {
      if (!at || !look) return;
      const by = large ? STEP.large : STEP.small;
      const toEye = scale(backOf(look), back);
      const free = add(add(scale(look.right as Vec3, right), scale(look.up as Vec3, up)), toEye);
      want(name, add(at, scale(axis === undefined ? free : scale(DIRECTIONS[axis], right + up - back), by)));
    },
    release() {
      over();
      hand.release();
    },
    cancel() {
      over();
      hand.cancel();
    },
  });
  hand.listen(grips.tell);

  return {
    layer: grips.layer,
    draw(open, moment, camera, next, box, pixelsOf) {
      look = next;
      size = box;
      const key = hand.key();
      if (key < 0 || !camera) {
        grips.place([]);
        return;
      }
      const label = open.stage.keys[key]?.label ?? "";
      target = moment.aimed;
      const aimed = target < 0 ? undefined : open.stage.targets[target];
      const place = aimed && ([...moment.targets.subarray(3 * target, 3 * target + 3)] as unknown as Vec3);
      places = { camera, ...(place && !aimed.follow ? { target: place } : {}) };
      const shown = (Object.keys(places) as GripName[]).flatMap((name): Grip[] => {
        const where = places[name]!;
        const metres = metresPerPixel(next, where, box[1]) * ARM;
        const pixels = pixelsOf([...where, ...DIRECTIONS.flatMap((axis) => add(where, scale(axis, metres)))]);
        const [x, y] = [pixels[0], pixels[1]];
        const inside = 0 <= x && x <= box[0] && 0 <= y && y <= box[1];
        if (!inside && name !== held) return [];
        const arms = DIRECTIONS.map((_, i): readonly [number, number] | undefined => {
          const arm = [pixels[2 * i + 2] - x, pixels[2 * i + 3] - y] as const;
          return Math.hypot(arm[0], arm[1]) < SHORTEST ? undefined : arm;
        });
        const what = name === "camera" ? `Camera at ${label}` : `Target ${aimed?.name ?? ""}`;
        return [{ name, label: `${what}: drag it, or move it with the arrow keys`, x, y, arms }];
      });
      grips.place(shown);
    },
  };
}
