import { leavesAt, shareOfWay, type KeyTiming } from "./key-timing.ts";
import type { ResolvedEase, ResolvedKey } from "./resolved-move.ts";

/** What is aimed at in a stretch of time [s]. Targets by index, -1 for nothing; `from` differs from `to` in a switch. */
export interface AimStretch {
  readonly start: number;
  readonly end: number;
  readonly fromTarget: number;
  readonly toTarget: number;
  /** Shape of a switch; absent: least jerk. */
  readonly ease?: ResolvedEase;
}

/** What a key says of a thing that goes over from one to the next. */
export interface Stated {
  readonly time: number;
  /** When it may be left: after the hold of its key [s]. */
  readonly leaves: number;
  readonly target: number;
  /** How it is come to from another. */
  readonly switch?: ResolvedKey["switch"];
}

export function statedAt(key: ResolvedKey, target: number): Stated {
  const stated = { time: key.time, leaves: leavesAt(key), target };
  return key.switch ? { ...stated, switch: key.switch } : stated;
}

/**
 * Stretches of the aim that cover 0..duration. A statement holds from its key on. Between the last key that states one
 * target and the next that states another the sight goes over from one to the other. An aim holds until the key that
 * ends it, through that key's hold, and begins at the first key that states it.
 */
export function aimStretches(keys: readonly ResolvedKey[], duration: number, timing: KeyTiming): AimStretch[] {
  const stated = keys.flatMap((key): Stated[] => {
    if (!key.aim) return [];
    if (key.aim.kind === "target") return [statedAt(key, key.aim.target)];
    return [{ ...statedAt(key, -1), time: leavesAt(key) }];
  });
  return goOver(stated, duration, timing);
}

/** The same for any thing that keys state and that goes over from one to the next. */
export function goOver(stated: readonly Stated[], duration: number, timing: KeyTiming): AimStretch[] {
  const stretches: AimStretch[] = [];
  const add = (start: number, end: number, fromTarget: number, toTarget: number, ease?: ResolvedEase): void => {
    if (!(start < end) && 0 < duration) return;
    const before = stretches[stretches.length - 1];
    if (before && before.fromTarget === fromTarget && before.toTarget === toTarget && fromTarget === toTarget) {
      stretches[stretches.length - 1] = { ...before, end };
    } else stretches.push({ start, end, fromTarget, toTarget, ...(ease && { ease }) });
  };
  if (stated.length === 0 || 0 < stated[0].time) add(0, stated.length === 0 ? duration : stated[0].time, -1, -1);
  stated.forEach(({ time, leaves, target }, i) => {
    const next = stated[i + 1];
    if (next === undefined) add(time, Math.max(duration, time), target, target);
    else if (target < 0 || next.target < 0 || target === next.target) add(time, next.time, target, target);
    else {
      const { begin, end, ease } = next.switch ?? { begin: 0, end: 1, ease: undefined };
      const from = shareOfWay(timing, leaves, next.time, begin);
      const to = shareOfWay(timing, leaves, next.time, end);
      add(time, from, target, target);
      add(from, to, target, next.target, ease);
      add(to, next.time, next.target, next.target);
    }
  });
  return stretches;
}

/**
 * Stretches in which the horizon is kept: from a key that says `level` until the last such key before an angle, through
 * its hold.
 */
export function levelStretches(keys: readonly ResolvedKey[], duration: number): { start: number; end: number }[] {
  const stated = keys.filter((key) => key.roll);
  const isLevel = (key: ResolvedKey | undefined): boolean => key?.roll?.kind === "level";
  const stretches: { start: number; end: number }[] = [];
  stated.forEach((key, i) => {
    if (!isLevel(key)) return;
    const next = stated[i + 1];
    const end = next === undefined ? duration : isLevel(next) ? next.time : leavesAt(key);
    const before = stretches[stretches.length - 1];
    if (before?.end === key.time) before.end = end;
    else if (key.time < end || duration === 0) stretches.push({ start: key.time, end });
  });
  return stretches;
}

/** Times of keys that say `level` outside every stretch: the horizon is level just there. */
export function levelMoments(
  keys: readonly ResolvedKey[],
  stretches: readonly { readonly start: number; readonly end: number }[],
): number[] {
  return keys
    .filter((key) => key.roll?.kind === "level")
    .map((key) => key.time)
    .filter((time) => !stretches.some(({ start, end }) => start <= time && time <= end));
}

/** The aim that begins at the last key, after none: without a hold there it holds at that instant alone. */
export function lastMoment(keys: readonly ResolvedKey[]): { readonly target: number } | undefined {
  const last = keys[keys.length - 1];
  const before = keys.slice(0, -1).filter((key) => key.aim);
  if (last?.aim?.kind !== "target" || before[before.length - 1]?.aim?.kind === "target") return undefined;
  return leavesAt(last) === last.time ? { target: last.aim.target } : undefined;
}
