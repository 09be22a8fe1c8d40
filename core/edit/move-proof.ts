import type { Analysis } from "../checks/analysis.ts";
import type { PlacedFinding } from "../checks/finding.ts";
import { createInstantPair, differenceAt } from "./instant-difference.ts";

/** What an edited move must still be. */
export type Proof =
  /** Every axis, the camera and the lens go on as they did, at all times. */
  | { readonly kind: "same-motion" }
  /** They are the same at one time [s, played]; `key` names it. */
  | { readonly kind: "same-instant"; readonly time: number; readonly key: string };

/** Instants at which two motions are compared, the ends of their pieces besides. */
const INSTANTS = 96;
/** Largest difference of axes, places and turns that counts as none [m, rad]: values are written to 1e-6 m and 1e-5 deg. */
export const SAME_MOTION = 1e-5;

/**
 * Why an edited move is not what it was to be, as a sentence without its full stop; `undefined` where it is: it still can be
 * solved, it gives no finding of a kind that was not there, and it goes as `proof` says.
 */
export function disproof(before: Analysis, after: Analysis | undefined, proof: Proof): string | undefined {
  const fresh = after && newFinding(before, after);
  if (fresh) return `it would bring a new finding: ${fresh.message.replace(/\.$/, "")}`;
  const [old, now] = [before.trajectory, after?.trajectory];
  if (!old || !now) return "the move could then not be computed";
  const pair = createInstantPair(old, now);
  if (proof.kind === "same-instant") {
    const off = differenceAt(pair, proof.time);
    return off <= SAME_MOTION ? undefined : `the rig would then be elsewhere at ${proof.key}`;
  }
  if (SAME_MOTION < Math.abs(old.duration - now.duration)) return "the move would then take another time";
  const times = Array.from({ length: INSTANTS + 1 }, (_, i) => (i * old.duration) / INSTANTS);
  const moved = [...times, ...old.knots].find((time) => !(differenceAt(pair, time) <= SAME_MOTION));
  return moved === undefined ? undefined : `the move would then go another way, at ${moved.toFixed(2)} s`;
}

/** The first finding of a kind that the move did not have for that axis. */
function newFinding(before: Analysis, after: Analysis): PlacedFinding | undefined {
  const kindOf = ({ code, axis, pass }: PlacedFinding): string => JSON.stringify([code, axis, pass]);
  const all = ({ textFindings, motionFindings }: Analysis) => [...textFindings, ...motionFindings];
  const known = new Set(all(before).map(kindOf));
  return all(after).find((finding) => !known.has(kindOf(finding)));
}
