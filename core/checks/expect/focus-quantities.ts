import { createMotorRoom, writeMotor } from "../../lens/lens-motor.ts";
import { defocusOf } from "../optics/sharpness.ts";
import type { Measured } from "./measured.ts";
import { sampled } from "./measured.ts";

/** How wide a point of the target is pictured, as a share of the circle of confusion: 100 % at the ends of the depth of field. */
export const targetDefocus: Measured = sampled(
  (target) => (instant, move) => defocusOf(move, instant, target),
  "poses",
  "no key gives a focus, or the target is behind the camera",
);

export const focusDistance: Measured = sampled(
  () =>
    ({ focus }) =>
      focus,
  "poses",
  "no key gives a focus",
);

/** The speed of the focus motor on its own scale. */
export const focusSpeed: Measured = sampled(
  () => {
    const room = createMotorRoom();
    return ({ focus, focusRates }, { optics }) => {
      const motor = optics.motors?.find(({ name }) => name === "focus");
      if (!motor) return NaN;
      writeMotor(motor, focus, focusRates, room);
      return Math.abs(room.angle[1]);
    };
  },
  "rates",
  "no key gives a focus, or the lens has no focus motor with a scale",
);
