import type { QuantityName } from "../../base/quantities.ts";
import { leastClearance } from "./least-clearance.ts";
import { axisDerivative, axisShare } from "./axis-quantities.ts";
import { backgroundCrossing, targetBlur, targetMotion } from "./image-quantities.ts";
import { sampled, type Measured } from "./measured.ts";
import { focusDistance, focusSpeed, targetDefocus } from "./focus-quantities.ts";
import { passError, planError } from "./pass-quantities.ts";
import { supportMargin } from "./support-margin.ts";

const BEHIND = "the target is behind the camera";

/** How each quantity of `core/base/quantities.ts` is computed. */
export const MEASURED: Readonly<Record<QuantityName, Measured>> = {
  "AXIS.value": axisDerivative(0),
  "AXIS.speed": axisDerivative(1),
  "AXIS.accel": axisDerivative(2),
  "AXIS.jerk": axisDerivative(3),
  "AXIS.share": axisShare,
  "TARGET.framing.across": sampled(
    (target) =>
      ({ framing }) =>
        framing[2 * target],
    "poses",
    BEHIND,
  ),
  "TARGET.framing.down": sampled(
    (target) =>
      ({ framing }) =>
        framing[2 * target + 1],
    "poses",
    BEHIND,
  ),
  "TARGET.distance": sampled(
    (target) =>
      ({ distance }) =>
        distance[target],
    "poses",
  ),
  "TARGET.pass-error": passError,
  "TARGET.plan-error": planError,
  "TARGET.defocus": targetDefocus,
  "focus.distance": focusDistance,
  "focus.speed": focusSpeed,
  "camera.speed": sampled(
    () =>
      ({ velocity: [x, y, z] }) =>
        Math.hypot(x, y, z),
    "rates",
  ),
  "TARGET.motion": targetMotion,
  "TARGET.blur": targetBlur,
  "camera.crossing": backgroundCrossing,
  "camera.height": sampled(
    () =>
      ({ position }, { floor }) =>
        position[2] - floor,
    "poses",
  ),
  "support.margin": supportMargin,
  clearance: leastClearance,
  duration: {
    // eslint-disable-next-line require-yield -- A task like the costly ones, done at once.
    *extremes({ trajectory: { duration } }) {
      const peak = { t: duration, value: duration };
      return { low: peak, high: peak };
    },
    evidence: "exact",
    timeless: true,
  },
};
