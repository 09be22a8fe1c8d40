import { between, sampleBefore, shareOfWay, throughBoth } from "../base/sampling.ts";
import type { Task } from "../base/task.ts";
import type { Take } from "../motion/take.ts";
import { otherTime, type Alignment, type ComparedMove } from "./compared-move.ts";
import { isDelivered, pictureShift } from "./picture-shift.ts";

/** The largest difference of a kind. `at` is the time of the first move and `otherAt` that of the second [s]. */
export interface Largest {
  readonly value: number;
  readonly at: number;
  readonly otherAt: number;
}

/** What two moves differ in; what only one of them has is named and compared with nothing. SI, and px. */
export interface Comparison {
  readonly duration: number;
  readonly otherDuration: number;
  /** Up to here the first move has something to be compared with [s]. */
  readonly until: number;
  /** Between the entrance pupils in the set [m]. */
  readonly pupil: Largest;
  /**
   * Of each target that both have: how far it goes in the delivered picture of the first move [px], looked at where one of
   * the two has it in its delivered picture. Absent: neither has it there while the other pictures it.
   */
  readonly targets: readonly { readonly name: string; readonly shift?: Largest }[];
  /** Of each axis that both have, under the same name and of the same kind [m or rad]. */
  readonly axes: readonly { readonly name: string; readonly type: "linear" | "rotary"; readonly difference: Largest }[];
  readonly onlyOne: { readonly axes: readonly string[]; readonly targets: readonly string[] };
  readonly onlyOther: { readonly axes: readonly string[]; readonly targets: readonly string[] };
}

/** Instants between two yields. */
const SLICE = 512;

/**
 * What two moves differ in, looked at wherever one of them has a sample. Between its own samples a move's axes follow the
 * cubic through values and speeds, all else a straight line.
 */
export function* compareTakes(one: ComparedMove, other: ComparedMove, alignment: Alignment): Task<Comparison> {
  const times = commonTimes(one, other, alignment);
  const axes = matched(one.axes, other.axes, (a, b) => a.name === b.name && a.type === b.type);
  const targets = matched(one.targets, other.targets, (a, b) => a.name === b.name);
  const pupil = createLargest();
  const [ofAxes, ofTargets] = [axes.map(createLargest), targets.map(createLargest)];
  const [framing, otherFraming, shift] = [new Float64Array(2), new Float64Array(2), new Float64Array(4)];
  const [here, there] = [createPlace(), createPlace()];
  for (let i = 0; i < times.length; i++) {
    const t = times[i];
    const s = otherTime(one, other, t, alignment) ?? other.duration;
    place(one.take, t, here);
    place(other.take, s, there);
    pupil.see(distance(one.take, here, other.take, there), t, s);
    axes.forEach(([a, b], k) => {
      const difference = axisAt(one.take, here, one.axes.length, a) - axisAt(other.take, there, other.axes.length, b);
      ofAxes[k].see(Math.abs(difference), t, s);
    });
    targets.forEach(([a, b], k) => {
      framingAt(one.take, here, one.targets.length, a, framing);
      framingAt(other.take, there, other.targets.length, b, otherFraming);
      if (!isDelivered(one.picture, framing) && !isDelivered(other.picture, otherFraming)) return;
      if (!pictureShift(one.picture, framing, other.picture, otherFraming, shift)) return;
      ofTargets[k].see(Math.hypot(shift[2], shift[3]), t, s);
    });
    if (i % SLICE === SLICE - 1) yield;
  }
  const left = <T extends { readonly name: string }>(all: readonly T[], taken: readonly number[]): string[] =>
    all.filter((_, idx) => !taken.includes(idx)).map(({ name }) => name);
  return {
    duration: one.duration,
    otherDuration: other.duration,
    until: times[times.length - 1],
    pupil: pupil.now() ?? { value: 0, at: 0, otherAt: 0 },
    axes: axes.map(([a], k) => ({ ...named(one.axes[a]), difference: ofAxes[k].now() ?? { value: 0, at: 0, otherAt: 0 } })),
    targets: targets.map(([a], k) => ({ name: one.targets[a].name, shift: ofTargets[k].now() })),
    onlyOne: {
      axes: left(one.axes, axes.map(([a]) => a)),
      targets: left(one.targets, targets.map(([a]) => a)),
    },
    onlyOther: {
      axes: left(other.axes, axes.map(([, b]) => b)),
      targets: left(other.targets, targets.map(([, b]) => b)),
    },
  }; // prettier-ignore
}

const named = ({ name, type }: ComparedMove["axes"][number]): ComparedMove["axes"][number] => ({ name, type });

/** Times of the first move [s], ascending, at which it or the other has a sample, and the last that both have. */
function commonTimes(one: ComparedMove, other: ComparedMove, alignment: Alignment): Float64Array {
  const times = new Set<number>();
  for (const t of one.take.t) if (otherTime(one, other, t, alignment) !== undefined) times.add(t);
  for (const s of other.take.t) {
    const t = otherTime(other, one, s, alignment);
    if (t !== undefined) times.add(t);
  }
  return Float64Array.from(times).sort();
}

/** Pairs of indices of what both have. */
function matched<T>(one: readonly T[], other: readonly T[], same: (a: T, b: T) => boolean): [number, number][] {
  return one.flatMap((a, idx): [number, number][] => {
    const found = other.findIndex((b) => same(a, b));
    return found < 0 ? [] : [[idx, found]];
  });
}

interface LargestSeen {
  /** The first of equal ones counts. */
  see(value: number, at: number, otherAt: number): void;
  now(): Largest | undefined;
}

function createLargest(): LargestSeen {
  let largest: Largest | undefined;
  return {
    see(value, at, otherAt) {
      if (value > (largest?.value ?? -1)) largest = { value, at, otherAt };
    },
    now: () => largest,
  };
}

/** Where a time falls between samples. */
interface SamplePlace {
  sample: number;
  next: number;
  way: number;
  span: number;
}

const createPlace = (): SamplePlace => ({ sample: 0, next: 0, way: 0, span: 0 });

function place(take: Take, t: number, out: SamplePlace): void {
  out.sample = sampleBefore(take.t, t);
  out.next = Math.min(out.sample + 1, take.count - 1);
  out.way = shareOfWay(take.t, out.sample, t);
  out.span = take.t[out.next] - take.t[out.sample];
}

function axisAt({ value, speed }: Take, at: SamplePlace, width: number, axis: number): number {
  const [a, b] = [at.sample * width + axis, at.next * width + axis];
  return at.span > 0 ? throughBoth(value[a], speed[a], value[b], speed[b], at.span, at.way) : value[b];
}

const straight = (table: Float64Array, at: SamplePlace, width: number, column: number): number =>
  between(table[at.sample * width + column], table[at.next * width + column], at.way);

function distance(one: Take, here: SamplePlace, other: Take, there: SamplePlace): number {
  let sum = 0;
  for (let k = 0; k < 3; k++) {
    sum += (straight(one.position, here, 3, k) - straight(other.position, there, 3, k)) ** 2;
  }
  return Math.sqrt(sum);
}

function framingAt(take: Take, at: SamplePlace, targets: number, target: number, out: Float64Array): void {
  for (let k = 0; k < 2; k++) out[k] = straight(take.framing, at, 2 * targets, 2 * target + k);
}
