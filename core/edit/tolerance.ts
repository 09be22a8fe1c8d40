/** Largest difference of axes, places and turns that counts as none [m, rad]: values are written to 1e-6 m and 1e-5 deg. */
export const SAME_MOTION = 1e-5;
