/** Frames per second as an exact rational, and the label's way of counting. 29.97df = { num: 30000, den: 1001, drop: true }. */
export interface Rate {
  readonly num: number;
  readonly den: number;
  /** Frames a label second counts: 24 at 23.976, 30 at 29.97. */
  readonly nominal: number;
  readonly drop: boolean;
}
