import type { Instant } from "../motion/trajectory.ts";

/** The target aimed at, by index, or -1; in a switch the second counts once it is the nearer of the two. */
export const aimedAt = ({ aimBlend, aimFrom, aimTo }: Instant): number => (aimBlend < 0.5 ? aimFrom : aimTo);

/** What is said of an instant whose values are not what the move asks for. */
export const solveFacts = ({ status }: Instant): readonly string[] =>
  status === "converged" ? [] : ["not solved here: the nearest that was found"];
