import { isRecord } from "../../core/base/is-record.ts";
import { listing } from "../../core/base/listing.ts";
import { nearestName } from "../../core/base/nearest-name.ts";
import { SETTINGS, SETTINGS_SECTION, type SettingRow, type Settings } from "../../protocol/settings.ts";

const ROWS: ReadonlyMap<string, SettingRow> = new Map(Object.entries(SETTINGS));

/** Longest value that a message repeats [UTF-16 units]. */
const LONGEST_VALUE = 40;
/** Most faults that are told of at once. */
const MOST_FAULTS = 20;

export interface SettingsRead {
  readonly settings: Settings;
  /** A sentence for each setting that can't be what it was given, and for each name that is none. */
  readonly faults: readonly string[];
}

/**
 * The settings in what a client sent for the section: nested, or with the dots in the names. What is absent or null, and
 * what has a value that it can't have, is as it is by itself.
 */
export function readSettings(section: unknown): SettingsRead {
  const values = new Map<string, unknown>();
  const faults: string[] = [];
  if (isRecord(section)) gather(section, "", values, faults);
  else if (!isAbsent(section)) faults.push(`${quoted("")} is ${shown(section)}: settings by their names are expected.`);
  for (const [name, value] of values) {
    const row = ROWS.get(name)!;
    if (allows(row, value)) continue;
    values.delete(name);
    faults.push(`${quoted(name)} is ${shown(value)}: use ${allowed(row)}. Until then it is ${shown(row.default)}.`);
  }
  const settings = Object.fromEntries([...ROWS].map(([name, row]) => [name, values.get(name) ?? row.default]));
  return { settings: settings as unknown as Settings, faults: faults.slice(0, MOST_FAULTS) };
}

/** What a setting may be, in words. */
export function allowed(row: SettingRow): string {
  if (row.type === "boolean") return "`true` or `false`";
  if (row.type === "integer") return `a whole number from ${row.least} to ${row.most}`;
  return listing(Object.keys(row.words));
}

function allows(row: SettingRow, value: unknown): boolean {
  if (row.type === "boolean") return typeof value === "boolean";
  if (row.type === "word") return typeof value === "string" && Object.hasOwn(row.words, value);
  return Number.isInteger(value) && row.least <= Number(value) && Number(value) <= row.most;
}

function gather(
  group: Readonly<Record<string, unknown>>,
  before: string,
  values: Map<string, unknown>,
  faults: string[],
): void {
  for (const [word, value] of Object.entries(group)) {
    const name = `${before}${word}`;
    if (isAbsent(value)) continue;
    const within = [...ROWS.keys()].filter((each) => each.startsWith(`${name}.`));
    if (ROWS.has(name)) values.set(name, value);
    else if (within.length > 0 && isRecord(value)) gather(value, `${name}.`, values, faults);
    else if (within.length > 0) {
      const instead = listing(within.map((each) => `${SETTINGS_SECTION}.${each}`));
      faults.push(`${quoted(name)} is ${shown(value)}, but it is a group of settings: use ${instead}.`);
    } else faults.push(unknownName(name, value));
  }
}

function unknownName(name: string, value: unknown): string {
  // In a group that is none the nearest name is that of what stands in it.
  const inner = isRecord(value) ? Object.keys(value)[0] : undefined;
  const written = inner === undefined ? name : `${name}.${inner}`;
  const nearest = nearestName(written, ROWS.keys());
  const advice = nearest === undefined ? "It does nothing: take it out." : `Did you mean ${code(nearest)}?`;
  return `There is no setting ${code(written)}. ${advice}`;
}

const quoted = (name: string): string => `The setting ${code(name)}`;

const code = (name: string): string => `\`${[SETTINGS_SECTION, ...(name === "" ? [] : [name])].join(".")}\``;

function shown(value: unknown): string {
  const text = JSON.stringify(value) ?? String(value);
  return `\`${text.length > LONGEST_VALUE ? `${text.slice(0, LONGEST_VALUE)}…` : text}\``;
}

const isAbsent = (value: unknown): boolean => value === undefined || value === null;
