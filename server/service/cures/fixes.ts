import { sameData } from "../../../core/base/same-data.ts";
import { passVariant } from "../../../core/motion/pass-variant.ts";
import { planTrajectory } from "../../../core/motion/plan.ts";
import { stretched } from "../../../core/motion/retime.ts";
import type { TextCure } from "../../../core/base/problem.ts";
import type { Task } from "../../../core/base/task.ts";
import type { Span } from "../../../core/base/span.ts";
import { formatQuantity } from "../../../core/base/units.ts";
import { analyse, createMemo } from "../../../core/checks/analyse.ts";
import { findingsOf, type Analysis } from "../../../core/checks/analysis.ts";
import type { PlacedFinding } from "../../../core/checks/finding.ts";
import { applyEdits } from "../../../core/edit/apply-edits.ts";
import { writtenTimesOf } from "../../../core/edit/times/written-times.ts";
import { stretchEdits } from "./stretch-edit.ts";
import { sourcesWith } from "./clear-ground.ts";
import { outcomeOf } from "./clear-outcome.ts";
import { nearsOf } from "./near.ts";
import { findStretch, isStretchable, pictureOf, type Stretch } from "./stretch-search.ts";
import type { View } from "../view.ts";

/** A finding whose text touches `span`, with its position in the list of findings. */
export interface Touched {
  readonly id: number;
  readonly finding: PlacedFinding;
}

export function findingsTouching(view: View, span: Span): readonly Touched[] {
  return findingsOf(view.analysis)
    .map((finding, id) => ({ id, finding }))
    .filter(({ finding: { place } }) => {
      return place.file === view.file && place.span.start <= span.end && span.start <= place.span.end;
    });
}

/** A way to stretch a segment, found but not yet written down. */
export interface StretchOffer {
  readonly title: string;
  readonly stretch: Stretch;
}

/** What more time would do for a finding; `undefined` when it is no question of time or no time would do. */
export function* offerStretch(view: View, finding: PlacedFinding): Task<StretchOffer | undefined> {
  const { solved } = view;
  if (!solved || solved.stale || !isStretchable(finding)) return undefined;
  const pass = solved.move.passes.find(({ name }) => name === finding.pass);
  const move = pass ? passVariant(solved.move, pass) : solved.move;
  const stretch = yield* findStretch(move, finding);
  const edit = stretch && stretchEdits(view, solved, stretch);
  if (!stretch || !edit?.ok) return undefined;
  const { keys } = solved.move;
  const written = writtenTimesOf(solved.move);
  const before = written[stretch.to].at - written[stretch.from].at;
  const after = edit.times[stretch.to] - edit.times[stretch.from];
  const times = `${formatQuantity(before, "time")} to ${formatQuantity(after, "time")}`;
  const way = `the way from ${keys[stretch.from].label} to ${keys[stretch.to].label}`;
  const [own] = nearsOf([finding]);
  const outcome = yield* outcomeOf(own, yield* planTrajectory(stretched(move, stretch, stretch.factor)), stretch);
  return { title: `Stretch ${way} from ${times}: ${outcome}`, stretch };
}

/** Text rounding may fall a hair short of what was found; then a little more is tried, this often. */
const TRIALS = 4;
const MORE = 1.0002;

/**
 * The edit of an offered stretch, checked by analysing the edited document: the finding is gone from the stretched
 * segment. `undefined` when it would not be.
 */
export function* writeStretch(
  view: View,
  finding: PlacedFinding,
  stretch: Stretch,
): Task<TextCure["edits"] | undefined> {
  const { solved } = view;
  if (!solved) return undefined;
  const memo = createMemo();
  for (let trial = 0, factor = stretch.factor; trial < TRIALS; trial += 1, factor *= MORE) {
    const written = stretchEdits(view, solved, { ...stretch, factor });
    if (!written.ok) return undefined;
    const analysis = yield* analyse(view.file, sourcesWith(view, applyEdits(view.text, written.edits)), memo);
    if (isGone(analysis, finding, stretch)) return written.edits;
  }
  return undefined;
}

/** [s] What only touches the end of the segment belongs to its neighbour. */
const TOUCH = 1e-6;

function isGone(analysis: Analysis, finding: PlacedFinding, { from, to }: Stretch): boolean {
  const keys = analysis.move?.keys;
  if (!keys?.[to]) return false;
  const [start, end] = [keys[from].time + TOUCH, keys[to].time - TOUCH];
  return !analysis.motionFindings.some(
    (other) => isAlike(finding, other) && other.time && other.time.from < end && start < other.time.to,
  );
}

function isAlike(a: PlacedFinding, b: PlacedFinding): boolean {
  const [one, other] = [pictureOf(a), pictureOf(b)];
  if (one) return other !== undefined && sameData(one, other);
  return a.code === b.code && a.axis === b.axis;
}
