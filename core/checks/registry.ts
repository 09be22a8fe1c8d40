import { aimError } from "./aim-error.ts";
import { aimSpin } from "./aim-spin.ts";
import { axisAccel } from "./axis-accel.ts";
import { axisJerk } from "./axis-jerk.ts";
import { axisRange } from "./axis-range.ts";
import { axisSpeed } from "./axis-speed.ts";
import { badArc, idleBlend } from "./path-form.ts";
import { branchChange } from "./branch-change.ts";
import { sharpCorner } from "./sharp-corner.ts";
import type { Check } from "./check.ts";
import { expectations } from "./expect.ts";
import { focusNear } from "./focus-near.ts";
import { nearLimit } from "./near-limit.ts";
import { outOfFrame } from "./out-of-frame.ts";
import { outOfReach } from "./out-of-reach.ts";

/** Every check of a move's motion. To add one: write its file, add it here, and give its code a row in the catalogue. */
export const CHECKS: readonly Check[] = [
  badArc,
  idleBlend,
  sharpCorner,
  outOfReach,
  branchChange,
  axisRange,
  axisSpeed,
  axisAccel,
  axisJerk,
  aimError,
  outOfFrame,
  aimSpin,
  focusNear,
  expectations,
  nearLimit,
];
