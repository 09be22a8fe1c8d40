import type { StageTake } from "../../protocol/stage.ts";
import type { StageLensShown } from "../../protocol/stage-lens.ts";
import type { Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";

/** One kind of marks over the view through the lens. */
export interface LensLayer {
  readonly object: SVGGElement;
  load(open: OpenTake | undefined): void;
  /** @param width, height CSS px of the lens picture. */
  draw(moment: Moment, width: number, height: number): void;
  /** What is drawn now, for tests. */
  drawn(): Partial<StageLensShown>;
}

/** CSS px of a captured pixel, across and down. */
export function pixelScale({ optics }: StageTake, width: number, height: number): readonly [number, number] {
  return [width / optics.resolution[0], height / optics.resolution[1]];
}

/** `3.1 px`, `12 px`: captured px as people read them. */
export function pixelReading(px: number): string {
  return `${px < 10 ? px.toFixed(1) : Math.round(px)} px`;
}
