/** An object of a JSON text whose fields are not known to be what they should. */
export type Json = Readonly<Record<string, unknown>>;

export const isRecord = (value: unknown): value is Json =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** The list of a field; empty for anything else. */
export function listAt(json: Json, name: string): readonly unknown[] {
  const value = json[name];
  return Array.isArray(value) ? value : [];
}

/** The object at a place of a list; `undefined` for anything else. */
export function recordAt(list: readonly unknown[], index: number): Json | undefined {
  const value = list[index];
  return isRecord(value) ? value : undefined;
}

/** The number of a field; `fallback` when there is none. */
export function numberAt(json: Json, name: string, fallback: number): number {
  const value = json[name];
  return typeof value === "number" ? value : fallback;
}
