import type { StageSegment, StageTake } from "../../protocol/stage.ts";
import type { Moment } from "../take/moment.ts";
import type { Label } from "./labels.ts";

/** Added to the rank of what is chosen or aimed at: it is named whatever else is. */
const FIRST = 100;

/**
 * Names of what the stage shows.
 *
 * @param keyPixels Of the keys' marks, shape (keys, 2).
 * @param ways      Shortest ways that are drawn, each with its length.
 * @param pixelsOf  Pixels of places in the set, as `projectPlaces` gives them.
 */
export function sceneLabels(
  stage: StageTake,
  moment: Moment,
  chosenKey: number,
  keyPixels: Float32Array,
  pixelsOf: (places: ArrayLike<number>) => Float32Array,
  ways: readonly StageSegment[],
): Label[] {
  const labels: Label[] = [];
  const add = (names: readonly string[], pixels: Float32Array, kind: Label["kind"], rank: number): void => {
    names.forEach((text, i) => labels.push({ text, kind, rank, x: pixels[2 * i], y: pixels[2 * i + 1] }));
  };
  const lift = (index: number, kind: Label["kind"]): void => {
    if (labels[index]) labels[index] = { ...labels[index], kind, rank: labels[index].rank + FIRST };
  };
  const namesOf = (things: readonly { readonly name: string }[]): string[] => things.map((thing) => thing.name);
  const placesOf = (things: readonly { readonly at: readonly number[] }[]): number[] => things.flatMap(({ at }) => at);
  add(namesOf(stage.targets), pixelsOf(moment.targets), "target", 5);
  lift(moment.aimed, "aimed");
  const firstKey = labels.length;
  add(
    stage.keys.map((key) => key.label),
    keyPixels,
    "key",
    4,
  );
  if (chosenKey >= 0) lift(firstKey + chosenKey, "key-chosen");
  add(namesOf(stage.turntables), pixelsOf(placesOf(stage.turntables)), "turntable", 2);
  add(namesOf(stage.marks), pixelsOf(placesOf(stage.marks)), "mark", 1);
  const middles = ways.flatMap(({ from, to }) => from.map((part, k) => (part + to[k]) / 2));
  add(
    ways.map(({ label }) => label),
    pixelsOf(middles),
    "way",
    2 * FIRST,
  );
  return labels;
}
