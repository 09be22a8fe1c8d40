import { parseQuantity } from "../core/base/units.ts";
import { Failure } from "./failure.ts";

/**
 * The focus distance of `--focus`, from the sensor plane [m], for lenses whose pupil goes with it; NaN without the option and
 * for `infinity`, which the pupil counts alike. Throws `Failure` for what is no distance, and without a lens.
 */
export function focusOf(written: string | undefined, hasLens: boolean): number {
  if (written === undefined) return NaN;
  if (!hasLens) throw new Failure("--focus needs --camera and --lens");
  if (written.trim() === "infinity") return NaN;
  const parsed = parseQuantity(written, "length");
  if (!parsed.ok) throw new Failure(`--focus: ${parsed.message}`);
  if (!(0 < parsed.value))
    throw new Failure("--focus is a distance of more than 0 from the sensor plane, or `infinity`");
  return parsed.value;
}
