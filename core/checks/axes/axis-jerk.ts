import { limitCheck } from "./axis-limit.ts";

/** `axis-jerk`: see the catalogue. */
export const axisJerk = limitCheck("jerk");
