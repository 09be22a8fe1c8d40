/** What the view through the lens shows beside the samples. A move that states none of something has none of it here. */
export interface StageLens {
  readonly margin?: StageMargin;
  readonly plate?: StagePlate;
}

/** What has to stay round the delivered crop, on each side, across and down [captured px]. */
export interface StageMargin {
  readonly need: readonly [number, number];
  /** What there is. */
  readonly left: readonly [number, number];
  /** What `need` is made of: half of what is cropped to stabilise, how far the framing may be off, how far passes may be at 95 %. */
  readonly stabilise: readonly [number, number];
  readonly framing: number;
  readonly passes: number;
}

/** A picture over the view through the lens. The page asks for its bytes as for those of a mesh. */
export interface StagePlate {
  readonly file: string;
  /** Another one when the file changes; absent where the page can't have it. */
  readonly stamp?: string;
  /** How much it covers at first, 0..1. */
  readonly opacity: number;
  readonly fills: "captured" | "delivered";
}
