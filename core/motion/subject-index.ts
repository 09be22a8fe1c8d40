import type { Instant } from "./trajectory.ts";

/** Index of the target that is aimed at in an instant, of the nearer one during a switch; -1 without an aim. */
export const subjectIndex = ({ aimFrom, aimTo, aimBlend }: Pick<Instant, "aimFrom" | "aimTo" | "aimBlend">): number =>
  aimFrom < 0 || (aimTo >= 0 && aimBlend >= 0.5) ? aimTo : aimFrom;
