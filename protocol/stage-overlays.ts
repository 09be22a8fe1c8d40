/** What overlays of the rig show in a pane, px from its top left; what is hidden is absent. */
export interface StagePicturedOverlays {
  /** Of each axis: the middle of its range, both ends and the tick of its value, shape (axes, 4, 2). */
  readonly ranges?: readonly number[];
  /** What is said of the axis nearest to a limit, and where its ring is. */
  readonly nearest?: { readonly words: string; readonly at: readonly number[] };
}
