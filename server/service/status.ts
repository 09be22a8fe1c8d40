import { findingsOf } from "../../core/checks/analysis.ts";
import type { Severity } from "../../core/base/finding-code.ts";
import type { Place } from "../../core/base/span.ts";
import { formatQuantity, trimmed } from "../../core/base/units.ts";
import type { PlacedFinding } from "../../core/checks/finding.ts";
import { worstShare } from "../../core/motion/peaks.ts";
import type { MoveStatus, StatusState } from "../../protocol/status.ts";
import { dimensionOf } from "./axis-dimension.ts";
import { placeOf, placeOfKey } from "./key-place.ts";
import { timeText } from "./key-table.ts";
import { LIMIT_WORDS } from "./peak-words.ts";
import type { Solved, View } from "./view.ts";

/** What is shown of a move in one line, with its place in a text in place of an editor's. */
export interface Status extends Omit<MoveStatus, "place" | "checksStopped"> {
  readonly place?: Place;
}

/** The highest share of a limit, of an axis or a turntable, or of a lens motor that is over one. */
interface Worst {
  /** `pan speed`. */
  readonly name: string;
  readonly share: number;
  /** `28.8 deg/s of 30 deg/s`; empty for an unbounded one. */
  readonly figures: string;
  /** Played time [s]. */
  readonly t: number;
  readonly place: Place | undefined;
}

const STATES: Readonly<Record<StatusState, string>> = {
  solved: "Solved: the figures are of the text as it stands.",
  solving: "Solving: the figures are of the last text that could be solved.",
  "last-good": "This text can't be solved: the figures are of the last one that could be.",
  unsolved: "This move could not be solved yet.",
};
const CARE = "A share below 100 % says that a stated limit is kept, and no more. The rig's manual decides.";

/**
 * The status of a move; `undefined` for other documents.
 *
 * @param checked Whether the motion of this text was checked: what was found before is not counted.
 */
export function statusOf(view: View, checked: boolean): Status | undefined {
  if (view.kind !== "move") return undefined;
  const { solved } = view;
  const state = stateOf(solved, checked);
  const findings = findingsOf(view.analysis);
  const count = (severity: Severity): number => findings.filter((each) => each.severity === severity).length;
  const [errors, warnings] = [count("error"), count("warning")];
  const worst = solved && worstOf(view, solved);
  const figures = worst ? shareWords(worst) : solved ? "no limits stated" : "not solved";
  const mark = state === "last-good" ? " (last good)" : "";
  const place = worst?.place ?? findings.find(({ severity }) => severity === "error")?.place;
  return {
    state,
    label: `${figures}${mark}${errors > 0 ? `, ${counted(errors, "error")}` : ""}`,
    over: worst !== undefined && worst.share > 1,
    errors,
    warnings,
    lines: [
      ...(solved && worst ? [worstLine(solved, worst)] : []),
      ...(checked ? [countLine(findings)] : []),
      STATES[state],
      ...(worst ? [CARE] : []),
    ],
    ...(place ? { place } : {}),
  };
}

function stateOf(solved: Solved | undefined, checked: boolean): StatusState {
  if (!checked) return "solving";
  if (!solved) return "unsolved";
  return solved.stale ? "last-good" : "solved";
}

function worstOf(view: View, solved: Solved): Worst | undefined {
  const { trajectory } = solved;
  const axis = axisWorst(view, solved);
  const motors = solved.stale ? [] : motionFindings(view).flatMap(motorWorst);
  const worst = [...(axis ? [axis] : []), ...motors].reduce<Worst | undefined>(
    (most, each) => (!most || each.share > most.share ? each : most),
    undefined,
  );
  return trajectory.duration > 0 ? worst : undefined;
}

function axisWorst({ file }: View, solved: Solved): Worst | undefined {
  const { move, trajectory } = solved;
  const peak = worstShare(trajectory, 0, trajectory.duration);
  if (!peak) return undefined;
  const { order, share, t, value, limit } = peak;
  const axis = trajectory.axes[peak.axis];
  const shown = (size: number): string => formatQuantity(size, dimensionOf(axis, order));
  const key = wayTo(solved, t);
  const own = move.keys[key].axes.find((each) => each.axis === peak.axis);
  const span = own && placeOf(solved, file, own.origin);
  return {
    name: `${axis.name} ${LIMIT_WORDS[order]}`,
    share,
    figures: Number.isFinite(share) ? `${shown(value)} of ${shown(limit)}` : "",
    t,
    place: span ? { file, span } : placeOfKey(solved, key),
  };
}

const motionFindings = ({ analysis }: View): readonly PlacedFinding[] => analysis.motionFindings;

/** Motors of the lens have no channels of their own in a trajectory: what is known of them is where they go over a limit. */
function motorWorst({ code, axis, value, limit, unit, peak, place }: PlacedFinding): Worst[] {
  if (code !== "focus-speed" || value === undefined || limit === undefined || !(limit > 0)) return [];
  const of = LIMIT_WORDS[unit?.endsWith("s3") ? 3 : unit?.endsWith("s2") ? 2 : 1];
  const figures = [value, limit].map((each) => `${trimmed(each, 2)} ${unit ?? ""}`).join(" of ");
  return [{ name: `${axis ?? "lens"} motor ${of}`, share: value / limit, figures, t: peak ?? 0, place }];
}

/** The key at the end of the way on which an instant is. */
function wayTo({ move: { keys } }: Solved, t: number): number {
  const next = keys.findIndex(({ time }) => t <= time);
  return next < 0 ? keys.length - 1 : next;
}

/** Never 100 % of what is more than it, nor of what is less. */
function shareWords({ name, share }: Worst): string {
  if (!Number.isFinite(share)) return `${name} unbounded, over the limit`;
  const whole = Math.round(share * 100);
  if (share > 1) {
    const shown = whole > 100 ? String(whole) : `${(Math.ceil(share * 1000) / 10).toFixed(1)}`;
    return `${name} ${shown} %, over the limit`;
  }
  return `${name} ${share < 1 ? Math.min(99, whole) : 100} %`;
}

function worstLine(solved: Solved, worst: Worst): string {
  const { move } = solved;
  const key = wayTo(solved, worst.t);
  const way = key === 0 ? `at ${move.keys[0].label}` : `from ${move.keys[key - 1].label} to ${move.keys[key].label}`;
  const figures = worst.figures === "" ? "" : ` (${worst.figures})`;
  return `Highest share of a limit: ${shareWords(worst)}${figures}, ${way}, at ${timeText(move, worst.t)}.`;
}

function countLine(findings: readonly PlacedFinding[]): string {
  const nouns: Readonly<Record<Severity, string>> = {
    error: "error",
    warning: "warning",
    information: "note",
    hint: "hint",
  };
  const parts = (["error", "warning", "information", "hint"] as const).flatMap((severity) => {
    const count = findings.filter((each) => each.severity === severity).length;
    return count === 0 ? [] : [counted(count, nouns[severity])];
  });
  return parts.length === 0 ? "Nothing was found." : `Found: ${parts.join(", ")}.`;
}

const counted = (count: number, noun: string): string => `${count} ${noun}${count === 1 ? "" : "s"}`;
