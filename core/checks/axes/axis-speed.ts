import { limitCheck } from "./axis-limit.ts";

/** `axis-speed`: see the catalogue. */
export const axisSpeed = limitCheck("speed");
