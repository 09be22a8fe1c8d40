/** What became of a numeric search. Anything but `converged` means that the values are only the best found. */
export type SolveStatus = "converged" | "stalled" | "out-of-reach" | "iteration-cap";
