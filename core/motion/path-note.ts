import type { Joint } from "./path-joint.ts";
import type { WayFault } from "./path-shape.ts";
import type { SolveStatus } from "./trajectory.ts";

/** What there is to say of a path. `key`: position of the key that the way leads to, or at which two meet; times [s]. */
export type PathNote = { readonly key: number; readonly from: number; readonly to: number } & (
  | { readonly kind: "corner"; readonly joint: Exclude<Joint, { readonly kind: "smooth" }> }
  | { readonly kind: "idle-blend" }
  | { readonly kind: "no-arc"; readonly fault: WayFault }
  | {
      /** The rig cannot follow, worst at `worst`: the pupil stays `distance` [m] off; axes by index that are at their ends. */
      readonly kind: "out-of-reach";
      readonly worst: number;
      readonly status: SolveStatus;
      readonly distance?: number;
      readonly nearest?: readonly [number, number, number];
      readonly stoppedBy: readonly number[];
    }
  | {
      /** The axes would have to change over to another way of standing: within the way, or to meet the key that ends it. */
      readonly kind: "branch-change";
      readonly where: "within" | "at-end";
      /** Axis by index that jumps farthest, and from and to which value; SI. */
      readonly axis: number;
      readonly left: number;
      readonly right: number;
    }
);
