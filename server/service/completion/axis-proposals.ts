import { formatQuantity, toDisplay, trimmed } from "../../../core/base/units.ts";
import { aimAxes } from "../../../core/rig/aim-axes.ts";
import type { MoveAxis, ResolvedMove } from "../../../core/motion/resolved-move.ts";
import { dimensionOf } from "../axis-dimension.ts";
import type { Moment } from "./moment.ts";
import { namesOf } from "./name-proposals.ts";
import { USELESS, type Asked, type Proposal } from "./proposal.ts";

/** Names of axes and turntables with their range and where they stand at the key. */
export function axisNameProposals(asked: Asked): readonly Proposal[] {
  const move = moveOf(asked);
  return namesOf("axis", asked.around).map((proposal): Proposal => {
    const idx = move?.axes.findIndex(({ name }) => name === proposal.label) ?? -1;
    if (!move || idx < 0) return proposal;
    const axis = move.axes[idx];
    const now = asked.moment ? [`${formatAxis(axis, asked.moment.instant.value[idx])} ${asked.moment.when}`] : [];
    const detail = [axis.type, rangeWords(axis), ...now].filter((part) => part !== "").join(", ");
    return { ...proposal, detail, doc: ROLES[axis.role], rank: nameRank(asked, axis, idx) };
  });
}

const ROLES: Readonly<Record<MoveAxis["role"], string>> = {
  driven: "A driven axis of the rig.",
  setup: "Set before the take: it rests in it, and `setup` says where.",
  follows: "Goes along with its leader: no key gives it.",
  turntable: "A turntable of the set.",
};

/** In a key, what it keys first; where the head aims, its axes are solved and a value would be one too many. */
function nameRank({ cursor, moment }: Asked, axis: MoveAxis, idx: number): number {
  const isSetup = cursor.path[0] === "setup";
  if (isSetup !== (axis.role === "setup") || axis.role === "follows") return USELESS;
  if (!moment || isSetup) return 0;
  const { solved, instant } = moment;
  const aims = instant.aimTo >= 0 && aimAxes(solved.move.rig).some((joint) => joint === axis.joint);
  if (aims) return USELESS - 1;
  return solved.trajectory.sources[idx] === "keyed" ? 0 : 1;
}

/** Values for an axis: where it is solved to be, its neighbours' values, the ends of its range, the places it is set to. */
export function axisValueProposals(asked: Asked, name: string): readonly Proposal[] {
  const move = moveOf(asked);
  const idx = move?.axes.findIndex((each) => each.name === name) ?? -1;
  if (!move || idx < 0) return [];
  const axis = move.axes[idx];
  const { moment } = asked;
  const found = [
    ...(moment ? solvedValues(moment, idx) : setupValues(asked, move, idx)),
    ...(axis.positions ?? []).map((value) => ({ value, what: "one of its positions", rank: 3 })),
    ...(axis.range
      ? [
          { value: axis.range.low, what: "the low end of its range", rank: 4 },
          { value: axis.range.high, what: "the high end of its range", rank: 4 },
        ]
      : []),
  ];
  return merged(axis, found);
}

interface Value {
  readonly value: number;
  readonly what: string;
  readonly rank: number;
}

function solvedValues({ solved, instant, when, here, before, after }: Moment, idx: number): readonly Value[] {
  const { move, trajectory } = solved;
  const other = trajectory.createInstant();
  const at = (key: number | undefined, which: string, rank: number): Value[] => {
    if (key === undefined) return [];
    trajectory.poseAt(move.keys[key].time, other);
    return [{ value: other.value[idx], what: `as at ${move.keys[key].label}, the key ${which}`, rank }];
  };
  return [
    ...(here ? [{ value: instant.value[idx], what: `where it is ${when}`, rank: 0 }] : []),
    ...at(before, "before", 1),
    ...at(after, "after", 2),
  ];
}

function setupValues({ cursor }: Asked, { setup }: ResolvedMove, idx: number): readonly Value[] {
  const value = cursor.path[0] === "setup" && Object.hasOwn(setup, idx) ? setup[idx] : undefined;
  return value === undefined ? [] : [{ value, what: "as it was set", rank: 0 }];
}

/** Values that read alike are one; what lies outside the range can't be reached. */
function merged(axis: MoveAxis, values: readonly Value[]): readonly Proposal[] {
  const found = new Map<string, Proposal>();
  for (const { value, what, rank } of values) {
    if (!Number.isFinite(value)) continue;
    const label = trimmed(toDisplay(value, dimensionOf(axis, 0)), axis.type === "rotary" ? 3 : 4);
    const known = found.get(label);
    if (known) {
      found.set(label, { ...known, detail: `${known.detail}; ${what}` });
      continue;
    }
    const isOutside = axis.range && (value < axis.range.low - 1e-9 || axis.range.high + 1e-9 < value);
    const detail = `${formatAxis(axis, value)}: ${isOutside ? "outside its range; " : ""}${what}`;
    found.set(label, { label, kind: "value", detail, rank: isOutside ? USELESS : rank, bare: true });
  }
  return [...found.values()];
}

function moveOf({ moment, view }: Asked): ResolvedMove | undefined {
  return moment?.solved.move ?? view.solved?.move ?? view.analysis.move;
}

function formatAxis(axis: MoveAxis, value: number): string {
  return formatQuantity(value, dimensionOf(axis, 0));
}

function rangeWords(axis: MoveAxis): string {
  if (axis.positions) return axis.positions.map((value) => formatAxis(axis, value)).join(", ");
  return axis.range ? `${formatAxis(axis, axis.range.low)} to ${formatAxis(axis, axis.range.high)}` : "no limit";
}
