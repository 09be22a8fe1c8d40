import { parseTime } from "../base/timecode.ts";
import { RATES, type Rate } from "../base/rate.ts";
import type { FileId } from "../base/span.ts";
import type { ResolvedTarget, ResolvedTurntable } from "../motion/resolved-move.ts";
import type { Body } from "../rig/resolved-rig.ts";
import type { setDocument } from "../schema/set-fields.ts";
import { bindName } from "./bind-name.ts";
import { checkSight } from "./check-sight.ts";
import type { Declared, Stated } from "./declared.ts";
import type { Document } from "./load-document.ts";
import { report, type Reporter } from "./report.ts";
import { axisOrigins, orderedRange, resolveRepeat } from "./resolve-joint.ts";
import { resolveBody, type BodyUse } from "./resolve-solid.ts";
import {
  beginResolution,
  finish,
  finishUnopened,
  openFile,
  originOf,
  scopeOf,
  type DocumentMemo,
  type ResolutionFacts,
  type Scope,
} from "./resolution.ts";
import type { Sources } from "./sources.ts";
import { unit, vec2, vec3 } from "./vectors.ts";
import type { Vec3 } from "../base/vec3.ts";

/** All that a set states, bound. */
export interface ResolvedSet {
  readonly targets: readonly ResolvedTarget[];
  readonly turntables: readonly ResolvedTurntable[];
  readonly obstacles: readonly Body[];
  readonly people: readonly Body[];
  readonly dressing: readonly Body[];
  /** [m] */
  readonly floor: number;
  readonly marks: readonly { readonly name: string; readonly at: Vec3; readonly origin: number }[];
  /** Names that the text states, those whose values are broken or not computed included. */
  readonly names: {
    readonly targets: readonly string[];
    readonly turntables: readonly string[];
    readonly marks: readonly string[];
  };
  /** Targets that only sights locate, which is not computed. */
  readonly sightedOnly: ReadonlySet<string>;
}

export const EMPTY_SET: ResolvedSet = {
  targets: [],
  turntables: [],
  obstacles: [],
  people: [],
  dressing: [],
  floor: 0,
  marks: [],
  names: { targets: [], turntables: [], marks: [] },
  sightedOnly: new Set(),
};

export interface SetResolution extends ResolutionFacts {
  readonly set?: ResolvedSet;
}

type SetFields = NonNullable<Declared<typeof setDocument>>["value"];
type EntryOf<M> = NonNullable<M> extends Stated<ReadonlyMap<string, infer Entry>> ? Entry : never;
type TargetFields = NonNullable<EntryOf<SetFields["targets"]>["item"]>["value"];

/** Reads and binds the set of a file. Problems are those of this file. */
export function resolveSet(file: FileId, sources: Sources, memo?: DocumentMemo): SetResolution {
  const resolution = beginResolution(sources, memo);
  const opened = openFile(resolution, file, "set");
  if (!("kind" in opened)) return finishUnopened(resolution);
  const scope = scopeOf(opened, resolution);
  const set = setOf(scope, opened, undefined);
  return set ? { set, ...finish(scope) } : finish(scope);
}

/** The set of a document that is read already. `rate` is the move's, for times in frames; findings go to `scope`. */
export function setOf(scope: Scope, { declared }: Document<"set">, rate: Rate | undefined): ResolvedSet | undefined {
  if (!declared) return undefined;
  const fields = declared.value;
  const turntables = turntablesOf(scope, fields);
  const tableNames = [...(fields.turntables?.value.keys() ?? [])];
  const sightedOnly = new Set<string>();
  const targets: ResolvedTarget[] = [];
  for (const [name, { nameSpan, item }] of fields.targets?.value ?? []) {
    const target = item && targetOf(scope, name, nameSpan, item.value, { turntables, tableNames, rate, sightedOnly });
    if (target) targets.push(target);
  }
  return {
    targets,
    turntables,
    obstacles: standingOf(scope, fields.obstacles, turntables, tableNames),
    people: standingOf(scope, fields.people, turntables, tableNames),
    dressing: standingOf(scope, fields.dressing, turntables, tableNames, "drawn"),
    floor: fields.floor?.value ?? 0,
    marks: [...(fields.marks?.value ?? [])].flatMap(([name, { nameSpan, item }]) =>
      item?.value.at ? [{ name, at: vec3(item.value.at), origin: originOf(scope, nameSpan) }] : [],
    ),
    names: {
      targets: [...(fields.targets?.value.keys() ?? [])],
      turntables: tableNames,
      marks: [...(fields.marks?.value.keys() ?? [])],
    },
    sightedOnly,
  };
}

function turntablesOf(scope: Scope, { turntables }: SetFields): ResolvedTurntable[] {
  return [...(turntables?.value ?? [])].flatMap(([name, { nameSpan, item }]): ResolvedTurntable[] => {
    const { at, along, range, limits, repeat, repeats } = item?.value ?? {};
    if (!at) return [];
    const ends = range && vec2(range);
    const ordered = range && ends && orderedRange(scope, range.span, ends[0], ends[1]);
    const { speed, accel, jerk } = limits?.value ?? {};
    const given = { speed: speed?.value, accel: accel?.value, jerk: jerk?.value };
    return [
      {
        name,
        at: vec3(at),
        along: unit(along),
        ...(ordered ? { range: ordered } : {}),
        limits: Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined)),
        origins: axisOrigins(scope, nameSpan, range?.span, limits?.value),
        ...(repeat ? { repeat: resolveRepeat(scope, { repeat }, "rotary") } : {}),
        ...(repeats ? { repeats: { count: repeats.value, origin: originOf(scope, repeats.span) } } : {}),
      },
    ];
  });
}

interface TargetContext {
  readonly turntables: readonly ResolvedTurntable[];
  readonly tableNames: readonly string[];
  readonly rate: Rate | undefined;
  readonly sightedOnly: Set<string>;
}

function targetOf(
  scope: Scope,
  name: string,
  nameSpan: { readonly start: number; readonly end: number },
  fields: TargetFields,
  context: TargetContext,
): ResolvedTarget | undefined {
  const { at, on, follow, sights } = fields;
  for (const sight of sights?.value ?? []) if (sight) checkSight(scope, sight.value);
  const table = on && bindTurntable(scope, on, context.turntables, context.tableNames);
  const places = follow && followOf(scope, follow, context.rate);
  if (!at && !(places && places.length > 0)) {
    const broken = "at" in fields || "follow" in fields;
    if (!broken && sights) {
      context.sightedOnly.add(name);
      const message = `\`${name}\` is known by its sights only, and locating it from them is not computed yet: give \`at\`.`;
      report(scope, "not-computed", nameSpan, message, { severity: "warning" });
    } else if (!broken) {
      report(scope, "missing-field", nameSpan, `\`${name}\` has no place: give \`at\`, \`follow\` or \`sights\`.`);
    }
    return undefined;
  }
  if ("on" in fields && table === undefined) return undefined;
  return {
    name,
    at: at ? vec3(at) : (places?.[0].to ?? [0, 0, 0]),
    ...(table === undefined ? {} : { on: table }),
    ...(places && places.length > 0 ? { follow: places } : {}),
    origin: originOf(scope, nameSpan),
  };
}

/** The index of a turntable by name, or `undefined` after a finding; a broken one has its own. */
export function bindTurntable(
  to: Reporter,
  stated: Stated<string>,
  turntables: readonly { readonly name: string }[],
  names: readonly string[],
): number | undefined {
  const space = {
    code: "unknown-axis",
    lacks: "There is no turntable",
    known: names,
    none: "The set has none.",
  } as const;
  const name = bindName(to, stated, space);
  const index = turntables.findIndex((table) => table.name === name);
  return index < 0 ? undefined : index;
}

/** Places over real time, in order. Without a move, times that count frames are not looked at. */
function followOf(
  scope: Scope,
  follow: NonNullable<TargetFields["follow"]>,
  rate: Rate | undefined,
): NonNullable<ResolvedTarget["follow"]> {
  const places: { time: number; to: Vec3 }[] = [];
  for (const item of follow.value) {
    if (!item?.value.at || !item.value.to) continue;
    const { at, to } = item.value;
    const parsed = parseTime(at.value, rate ?? RATES["25"], 0);
    if (!parsed.ok) {
      if (rate || parsed.code !== "bad-number") report(scope, parsed.code, at.span, `\`at\`: ${parsed.message}.`);
      continue;
    }
    const last = places[places.length - 1];
    if (last && !(last.time < parsed.value)) {
      const message = "`follow` is in order of time: this one is not later than the one before it.";
      report(scope, "key-order", at.span, message);
      continue;
    }
    places.push({ time: parsed.value, to: vec3(to) });
  }
  if (follow.value.length === 0) report(scope, "wrong-type", follow.span, "`follow` is empty: give places over time.");
  return places;
}

function standingOf(
  scope: Scope,
  stated: SetFields["obstacles"],
  turntables: readonly ResolvedTurntable[],
  tableNames: readonly string[],
  use: BodyUse = "measured",
): Body[] {
  return [...(stated?.value ?? [])].flatMap(([name, { item }]): Body[] => {
    if (!item?.value.at) return [];
    const { on } = item.value;
    const table = on && bindTurntable(scope, on, turntables, tableNames);
    const body = resolveBody(scope, name, -1, item, use);
    // One on a table that is not known stands nowhere.
    if (!body || ("on" in item.value && table === undefined)) return [];
    return [table === undefined ? body : { ...body, table }];
  });
}
