import { findingsOf, type Analysis } from "../checks/analysis.ts";
import type { PlacedFinding } from "../checks/finding.ts";
import type { Trajectory } from "../motion/trajectory.ts";
import { createInstantPair, differenceAt, differenceBetween } from "./instant-difference.ts";
import { mirrorDrift, mirrorMiss, type Mirroring } from "./mirror/mirror-miss.ts";
import { motionChange } from "./motion-change.ts";
import { SAME_MOTION } from "./tolerance.ts";

/** What an edited move must still be. */
export type Proof =
  /** Every axis, the camera and the lens go on as they did, at all times. */
  | { readonly kind: "same-motion" }
  /** They are the same at one time [s, played]; `key` names it. What changes elsewhere is told. */
  | { readonly kind: "same-instant"; readonly time: number; readonly key: string }
  /** They are at each time what they were as long before the end. */
  | { readonly kind: "reversed"; readonly findings: NewFindings }
  /** The camera goes and sees as in a mirror: at each time, or at its keys; how far it is off between them is told. */
  | {
      readonly kind: "mirrored";
      readonly by: Mirroring;
      readonly when: "always" | "at-keys";
      readonly findings: NewFindings;
    }
  /** It can be solved and says what it said: how it goes is another matter. */
  | { readonly kind: "solved"; readonly findings: NewFindings };

/** Whether an edit that brings new findings is refused, or made and they are told. */
type NewFindings = "none" | "told";

/** Why an edit is not made; or that it is, with what there is to say of it. Clauses without full stop. */
export type Judgement = { readonly refusal: string } | { readonly note?: string };

/** Instants at which two motions are compared, the ends of their pieces besides. */
const INSTANTS = 96;

/**
 * Whether an edited move is what it was to be: it still can be solved, it gives no finding of a kind that was not there, or
 * that may be told, and it goes as `proof` says.
 */
export function judge(before: Analysis, after: Analysis | undefined, proof: Proof): Judgement {
  const fresh = after && newFinding(before, after);
  const finding = fresh?.message.replace(/\.$/, "");
  const tells = "findings" in proof && proof.findings === "told";
  const [old, now] = [before.trajectory, after?.trajectory];
  if (finding !== undefined && (!tells || !now)) return { refusal: `it would bring a new finding: ${finding}` };
  if (!old || !now) return { refusal: "the move could then not be computed" };
  const refusal = difference(old, now, proof);
  if (refusal !== undefined) return { refusal };
  const notes = [changeOf(old, now, proof), finding && `it brings a new finding: ${finding}`];
  const said = notes.filter((one) => one !== undefined);
  return said.length === 0 ? {} : { note: said.join("; ") };
}

/** What changes although the proof holds, as a clause. */
function changeOf(old: Trajectory, now: Trajectory, proof: Proof): string | undefined {
  if (proof.kind === "same-instant") return motionChange(old, now);
  return proof.kind === "mirrored" && proof.when === "at-keys" ? mirrorDrift(old, now, proof.by) : undefined;
}

function difference(old: Trajectory, now: Trajectory, proof: Proof): string | undefined {
  if (proof.kind === "solved") return undefined;
  const pair = createInstantPair(old, now);
  if (proof.kind === "same-instant") {
    const off = differenceAt(pair, proof.time);
    return off <= SAME_MOTION ? undefined : `the rig would then be elsewhere at ${proof.key}`;
  }
  const { duration } = old;
  if (SAME_MOTION < Math.abs(duration - now.duration)) return "the move would then take another time";
  const even = Array.from({ length: INSTANTS + 1 }, (_, i) => (i * duration) / INSTANTS);
  const times = [...even, ...old.knots];
  if (proof.kind === "mirrored") {
    return mirrorMiss(old, now, proof.by, proof.when === "always" ? times : old.move.keys.map((key) => key.time));
  }
  const isOff = (time: number): boolean =>
    proof.kind === "reversed"
      ? !(differenceBetween(pair, time, "right", Math.max(0, duration - time), "left") <= SAME_MOTION)
      : !(differenceAt(pair, time) <= SAME_MOTION);
  const moved = times.find(isOff);
  if (moved === undefined) return undefined;
  const where = `at ${moved.toFixed(2)} s`;
  return proof.kind === "reversed"
    ? `the move does not go the same way backwards, ${where} of it as it stands`
    : `the move would then go another way, ${where}`;
}

/** The first finding of a kind that the move did not have for that axis; what was allowed must still be. */
function newFinding(before: Analysis, after: Analysis): PlacedFinding | undefined {
  const kindOf = ({ code, axis, pass }: PlacedFinding): string => JSON.stringify([code, axis, pass]);
  const known = new Set(findingsOf(before).map(kindOf));
  const open = new Set(
    findingsOf(before)
      .filter(({ allowed }) => allowed === undefined)
      .map(kindOf),
  );
  return findingsOf(after).find((finding) => !(finding.allowed === undefined ? open : known).has(kindOf(finding)));
}
