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

/** What lies over the view through the lens in the last picture, in CSS px from its top left. */
export interface StageLensShown {
  /** [left, top, width, height] of what has to stay round the crop, and whether the picture is too small for it. */
  readonly margin: readonly number[];
  readonly marginShort: boolean;
  /** [left, top, width, height] of the inner frame of the framing marks. */
  readonly framing: readonly number[];
  /** The region in which the subject may be; `null` while nothing is aimed at. */
  readonly tolerance: {
    readonly at: readonly [number, number];
    readonly radii: readonly [number, number];
    readonly out: boolean;
  } | null;
  /** What the glass says that shows the region larger; `null` without it. */
  readonly glass: string | null;
  /** Of each target the arrow of its blur [from, to], or `null`; arrows are drawn so many times their length. */
  readonly blur: readonly (readonly number[] | null)[];
  readonly blurFactor: number;
  /** Surveyed marks; `null` for one that is not seen. */
  readonly marks: readonly (readonly [number, number] | null)[];
  /** What is shown of the plate: its [left, top, width, height] and how much it covers; `null` without a plate. */
  readonly plate: {
    readonly box: readonly number[];
    readonly opacity: number;
    readonly behind: boolean;
    readonly size: readonly number[];
  } | null;
}
