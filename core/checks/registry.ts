import { aimError } from "./picture/aim-error.ts";
import { aimSpin } from "./picture/aim-spin.ts";
import { axisAccel } from "./axes/axis-accel.ts";
import { axisJerk } from "./axes/axis-jerk.ts";
import { axisRange } from "./axes/axis-range.ts";
import { axisSpeed } from "./axes/axis-speed.ts";
import { badArc, idleBlend } from "./path/path-form.ts";
import { branchChange } from "./path/branch-change.ts";
import { sharpCorner } from "./path/sharp-corner.ts";
import type { Check } from "./check.ts";
import { balance } from "./load/balance.ts";
import { payload } from "./load/payload.ts";
import { tipOver } from "./load/tip-over.ts";
import { blur } from "./optics/blur.ts";
import { cropMargin } from "./optics/crop-margin.ts";
import { expectations } from "./expect/expect.ts";
import { focusSpeed } from "./optics/focus-speed.ts";
import { softSubject } from "./optics/soft-subject.ts";
import { focusNear } from "./picture/focus-near.ts";
import { judder } from "./optics/judder.ts";
import { match } from "./passes/match.ts";
import { nearLimit } from "./axes/near-limit.ts";
import { outOfFrame } from "./picture/out-of-frame.ts";
import { outOfReach } from "./path/out-of-reach.ts";
import { clearance } from "./space/clearance.ts";
import { floor } from "./space/floor.ts";
import { inView } from "./space/in-view.ts";
import { selfClearance } from "./space/self-clearance.ts";
import { people } from "./people/people.ts";
import { cut } from "./shoot/cut.ts";
import { passPower } from "./shoot/pass-power.ts";
import { power } from "./shoot/power.ts";
import type { ShootCheck } from "./shoot/shoot-check.ts";

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
  focusSpeed,
  softSubject,
  clearance,
  selfClearance,
  floor,
  inView,
  people,
  judder,
  blur,
  cropMargin,
  match,
  payload,
  balance,
  tipOver,
  passPower,
  expectations,
  nearLimit,
];

/** Every check of a shoot: of its moves beside each other. */
export const SHOOT_CHECKS: readonly ShootCheck[] = [cut, power];
