import { limitCheck } from "./axis-limit.ts";

/** `axis-accel`: see the catalogue. */
export const axisAccel = limitCheck("accel");
