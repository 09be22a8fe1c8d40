/** What overlays of the rig show in a pane, px from its top left; what is hidden is absent. */
export interface StagePicturedOverlays {
  /** Of each axis: the middle of its range, both ends and the tick of its value, shape (axes, 4, 2). */
  readonly ranges?: readonly number[];
  /** What is said of the axis nearest to a limit, and where its ring is. */
  readonly nearest?: { readonly words: string; readonly at: readonly number[] };
  /** What is said of swept space and of reach, and how many triangles are drawn. */
  readonly swept?: { readonly words: string; readonly triangles: number };
  readonly reach?: { readonly words: string; readonly triangles: number };
  readonly passes?: {
    /** How many times as large as it is the pass error is drawn. */
    readonly magnified: number;
    /** Of each kind of pass: radius of the pass error [captured px], null where there is none in JSON. */
    readonly radii: readonly (number | null)[];
    /** Where its entrance pupil and its targets are, shape (passes, 2) and (passes, targets, 2). */
    readonly pupils: readonly number[];
    readonly targets: readonly number[];
  };
  /** Names of the two bodies that the chosen finding is about, as far as they are drawn, and how many strokes outline them. */
  readonly pair?: { readonly names: readonly string[]; readonly strokes: number };
}
