import { shareLeft, turnArm, type Arm } from "../../load/arm.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { isWorse, refinePeak, type Peak } from "../scan/peak.ts";

/** Places of a lift between its ends that are looked at; what is worst between them is refined. */
const PLACES = 48;

/**
 * Values of the axis that lifts an arm, ascending [rad or m]: its positions, else its range from end to end, else a whole
 * turn. None for an axis that slides without an end.
 */
export function liftValues({ rig }: ResolvedMove, { leader }: Arm): readonly number[] {
  const { type, range, positions } = rig.joints[leader];
  if (positions && positions.length > 0) return positions;
  if (!range && type === "linear") return [];
  const { low, high } = range ?? { low: -Math.PI, high: Math.PI };
  return Array.from({ length: PLACES + 1 }, (_, i) => low + ((high - low) * i) / PLACES);
}

/**
 * Where over a lift a counterweight of `mass` kg leaves most: the value of the axis as `t`, and the share that it leaves.
 *
 * @param arm Posed; its other axes stay where they are.
 */
export function worstOfLift(arm: Arm, values: readonly number[], mass: number): Peak | undefined {
  const shareAt = (value: number): number => {
    turnArm(arm, value);
    return shareLeft(arm.moment, mass);
  };
  const row = values.map(shareAt);
  let worst: Peak | undefined;
  row.forEach((value, i) => {
    if (!worst || isWorse(value, worst.value)) worst = { t: values[i], value };
  });
  // Positions have nothing between them.
  if (!worst || values.length !== PLACES + 1) return worst;
  for (let i = 0; i <= PLACES; i++) {
    const [before, after] = [Math.max(0, i - 1), Math.min(PLACES, i + 1)];
    const rise = row[i] - Math.min(row[before], row[after]);
    const isPeak = row[before] <= row[i] && row[after] <= row[i] && 0 < rise;
    if (!isPeak || !isWorse(row[i] + rise, worst.value)) continue;
    const peak = refinePeak(values[before], values[after], { t: values[i], value: row[i] }, shareAt);
    if (isWorse(peak.value, worst.value)) worst = peak;
  }
  return worst;
}
