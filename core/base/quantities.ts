import type { Dimension } from "./dimension.ts";

/** What a name before the dot stands for in the table below. */
export const SUBJECTS = { AXIS: "axis", TARGET: "target" } as const;
export type Subject = keyof typeof SUBJECTS;

interface QuantityRow {
  /** Fixed, or that of the axis: of its value (0), speed (1), acceleration (2) or jerk (3). */
  readonly dimension: Dimension | 0 | 1 | 2 | 3;
  /** Half a sentence that says what it is. */
  readonly doc: string;
}

/**
 * What a move's own tests (`expect`) may measure, each as it is written. AXIS stands for the name of an axis or a turntable,
 * TARGET for that of a target; any other word stands for itself. How each is computed is in `core/checks/expect`.
 */
export const QUANTITIES = {
  "AXIS.value": { dimension: 0, doc: "its value" },
  "AXIS.speed": { dimension: 1, doc: "the size of its speed" },
  "AXIS.accel": { dimension: 2, doc: "the size of its acceleration" },
  "AXIS.jerk": { dimension: 3, doc: "the size of its jerk" },
  "AXIS.share": { dimension: "share", doc: "the largest share of its limits that it uses" },
  "TARGET.framing.across": { dimension: "share", doc: "where it is in the picture, from the left edge" },
  "TARGET.framing.down": { dimension: "share", doc: "where it is in the picture, from the top edge" },
  "TARGET.distance": { dimension: "length", doc: "its distance from the entrance pupil" },
  "TARGET.motion": { dimension: "pixels", doc: "how far it goes in the picture from one frame to the next" },
  "TARGET.blur": { dimension: "pixels", doc: "how far it smears in the picture while the shutter is open" },
  "TARGET.pass-error": {
    dimension: "pixels",
    doc: "how far the last pass may be off the first in the picture of it, 95 times of 100",
  },
  "TARGET.plan-error": {
    dimension: "pixels",
    doc: "how far the last pass may be off what is drawn, 95 times of 100, backlash included",
  },
  "TARGET.defocus": {
    dimension: "share",
    doc: "how wide a point of it is for being out of focus, as a share of the circle of confusion: 100 % at the ends of the depth of field",
  },
  "focus.distance": { dimension: "length", doc: "the distance that the lens is focused at, from the sensor plane" },
  "focus.speed": { dimension: "angle-speed", doc: "the size of the focus motor's speed, on its own scale" },
  "camera.speed": { dimension: "length-speed", doc: "the speed of the entrance pupil" },
  "camera.crossing": {
    dimension: "time",
    doc: "the time in which the far background crosses the delivered picture, as fast as the camera turns then",
  },
  "camera.height": { dimension: "length", doc: "the height of the entrance pupil over the floor" },
  "support.margin": {
    dimension: "share",
    doc: "what the rig's pressure on the floor leaves of the way from the middle of its feet to an edge",
  },
  clearance: {
    dimension: "length",
    doc: "the least distance of the rig and the camera to what stands in the set, below 0 by how far they reach into it",
  },
  duration: { dimension: "time", doc: "how long the move lasts as it is played" },
} as const satisfies Readonly<Record<string, QuantityRow>>;

export type QuantityName = keyof typeof QUANTITIES;

/** What stands before the dot of a quantity, and what after: `["AXIS", "speed"]`; without a subject the whole word. */
export function partsOfQuantity(name: QuantityName): readonly [Subject | undefined, string] {
  for (const subject of Object.keys(SUBJECTS) as Subject[]) {
    if (name.startsWith(`${subject}.`)) return [subject, name.slice(subject.length + 1)];
  }
  return [undefined, name];
}

/** All quantities, in the order of the table. */
export const QUANTITY_NAMES: readonly QuantityName[] = Object.keys(QUANTITIES) as QuantityName[];

/** Those of a subject, each by the word after the dot. */
export function quantitiesOf(subject: Subject): ReadonlyMap<string, QuantityName> {
  const own = QUANTITY_NAMES.filter((name) => partsOfQuantity(name)[0] === subject);
  return new Map(own.map((name) => [partsOfQuantity(name)[1], name]));
}

/** Those that are written as they stand in the table. */
export const PLAIN_QUANTITIES: readonly QuantityName[] = QUANTITY_NAMES.filter((name) => !partsOfQuantity(name)[0]);
