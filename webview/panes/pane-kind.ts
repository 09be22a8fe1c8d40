import type { Vec3 } from "../../core/base/vec3.ts";

/** Directions that the stage is looked at from. */
export const SIDES = ["free", "top", "side", "front"] as const;
export type Side = (typeof SIDES)[number];

/** What a pane can show. */
export const PANE_KINDS = [...SIDES, "lens"] as const;
export type PaneKind = (typeof PANE_KINDS)[number];

export const PANE_NAMES: Readonly<Record<PaneKind, string>> = {
  free: "Free",
  top: "Top",
  side: "Side",
  front: "Front",
  lens: "Lens",
};

/** How the stage is looked at: towards `centre` [m, set frame] from a direction [rad], `span` [m] of height in view there. */
export interface Viewpoint {
  readonly centre: Vec3;
  /** Of the eye seen from the centre, about z from x. */
  readonly azimuth: number;
  /** Above the horizontal; pi/2 looks straight down. */
  readonly elevation: number;
  readonly span: number;
}
