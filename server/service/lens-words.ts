import { formatQuantity, trimmed } from "../../core/base/units.ts";
import { fieldOfView } from "../../core/lens/field-of-view.ts";
import type { ResolvedOptics } from "../../core/lens/resolved-optics.ts";

/** `35 mm`, `24 to 70 mm`. */
export function focalWords({ focal }: ResolvedOptics): string {
  const mm = (value: number): string => trimmed(value * 1000, 1);
  return focal.low === focal.high ? `${mm(focal.low)} mm` : `${mm(focal.low)} to ${mm(focal.high)} mm`;
}

/** `54.4 deg across, 32.2 deg down`; of a zoom at both its ends. */
export function viewWords(optics: ResolvedOptics): string {
  const { low, high } = optics.focal;
  return low === high
    ? viewAt(optics, low)
    : `${viewAt(optics, low)} at ${trimmed(low * 1000, 1)} mm, ${viewAt(optics, high)} at ${trimmed(high * 1000, 1)} mm`;
}

/** Field of view at a focal length [m]. */
export function viewAt(optics: ResolvedOptics, focal: number): string {
  const { across, down } = fieldOfView(optics, focal);
  const deg = (angle: number): string => (Number.isNaN(angle) ? "no picture" : formatQuantity(angle, "angle"));
  return `${deg(across)} across, ${deg(down)} down`;
}

/** `focuses from 0.28 m`, or that no limit is given. */
export function closeFocusWords({ closeFocus }: ResolvedOptics): string {
  return closeFocus > 0 ? `focuses from ${formatQuantity(closeFocus, "length")}` : "no nearest focus given";
}
