/** Residual of the aim [rad], and of the pupil's place on a path [m], above which an instant has no solution. The aim of rigs is held to it in `core/rig/aim.test.ts`. */
export const MISSED = 1e-10;

/** Share by which a path's derivatives may differ from the exact ones within a piece. Pinned by `extremes.test.ts`. */
export const PATH_SHARE = 2e-4;

/** What a derivative of order 0 to 3 may differ by whatever its size [rad, rad/s, …]; far below any limit. */
export const PATH_FLOOR = [1e-6, 1e-7, 1e-6, 1e-5] as const;
