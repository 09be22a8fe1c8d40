import type { ResolvedKey } from "./resolved-move.ts";

/** What is aimed at in a stretch of time [s]. Targets by index, -1 for nothing; `from` differs from `to` in a switch. */
export interface AimStretch {
  readonly start: number;
  readonly end: number;
  readonly fromTarget: number;
  readonly toTarget: number;
}

/**
 * Stretches of the aim that cover 0..duration. A statement holds from its key on. Between the last key that states one
 * target and the next that states another the sight goes over from one to the other. An aim holds until the key that
 * ends it, and begins at the first key that states it.
 */
export function aimStretches(keys: readonly ResolvedKey[], duration: number): AimStretch[] {
  const stated = keys.flatMap((key) =>
    key.aim ? [{ time: key.time, target: key.aim.kind === "target" ? key.aim.target : -1 }] : [],
  );
  return goOver(stated, duration);
}

/** The same for any thing that keys state and that goes over from one to the next. */
export function goOver(
  stated: readonly { readonly time: number; readonly target: number }[],
  duration: number,
): AimStretch[] {
  const stretches: AimStretch[] = [];
  const add = (start: number, end: number, fromTarget: number, toTarget: number): void => {
    if (!(start < end) && 0 < duration) return;
    const before = stretches[stretches.length - 1];
    if (before && before.fromTarget === fromTarget && before.toTarget === toTarget && fromTarget === toTarget) {
      stretches[stretches.length - 1] = { ...before, end };
    } else stretches.push({ start, end, fromTarget, toTarget });
  };
  if (stated.length === 0 || 0 < stated[0].time) add(0, stated.length === 0 ? duration : stated[0].time, -1, -1);
  stated.forEach(({ time, target }, i) => {
    const next = stated[i + 1];
    if (next === undefined) add(time, Math.max(duration, time), target, target);
    else if (target < 0 || next.target < 0) add(time, next.time, target, target);
    else add(time, next.time, target, next.target);
  });
  return stretches;
}

/** Stretches in which the horizon is kept: from a key that says `level` until the last such key before an angle. */
export function levelStretches(keys: readonly ResolvedKey[], duration: number): { start: number; end: number }[] {
  const stated = keys.flatMap((key) => (key.roll ? [{ time: key.time, level: key.roll.kind === "level" }] : []));
  return stated.flatMap(({ time, level }, i) => {
    const next = stated[i + 1];
    if (!level) return [];
    if (next === undefined) return time < duration || duration === 0 ? [{ start: time, end: duration }] : [];
    return next.level ? [{ start: time, end: next.time }] : [];
  });
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

/** The aim that begins at the last key, after none: it holds at that instant alone. */
export function lastMoment(keys: readonly ResolvedKey[]): { readonly target: number } | undefined {
  const aim = keys[keys.length - 1]?.aim;
  const before = keys.slice(0, -1).filter((key) => key.aim);
  if (aim?.kind !== "target" || before[before.length - 1]?.aim?.kind === "target") return undefined;
  return { target: aim.target };
}
