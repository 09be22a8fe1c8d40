/**
 * True when two values of plain data (numbers, strings, lists, arrays of numbers, maps, sets; no cycles) are equal
 * throughout. NaN equals NaN. Sets and `Map`s are equal in the same order only.
 *
 * @param ignores Names of fields that do not count, wherever they stand.
 */
export function sameData(a: unknown, b: unknown, ignores?: (name: string) => boolean): boolean {
  if (Object.is(a, b) || a === b) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  if (Array.isArray(a) && Array.isArray(b)) {
    if (a.length !== b.length) return false;
    for (let i = 0; i < a.length; i++) if (!sameData(a[i], b[i], ignores)) return false;
    return true;
  }
  if (Object.getPrototypeOf(a) !== Object.getPrototypeOf(b)) return false;
  if (a instanceof Float64Array && b instanceof Float64Array) return sameNumbers(a, b);
  if (isListed(a) && isListed(b)) return a.size === b.size && sameData([...a], [...b], ignores);
  return sameFields(a, b, ignores);
}

/** True for two arrays of the same numbers. NaN equals NaN. */
export function sameNumbers(a: Float64Array, b: Float64Array): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i] && !(Number.isNaN(a[i]) && Number.isNaN(b[i]))) return false;
  return true;
}

const isListed = (value: object): value is Set<unknown> | Map<unknown, unknown> =>
  value instanceof Set || value instanceof Map;

function sameFields(a: object, b: object, ignores?: (name: string) => boolean): boolean {
  const namesOf = (one: object): string[] =>
    ignores ? Object.keys(one).filter((name) => !ignores(name)) : Object.keys(one);
  const names = namesOf(a);
  if (names.length !== namesOf(b).length) return false;
  for (const name of names) {
    if (!Object.hasOwn(b, name)) return false;
    if (!sameData((a as Record<string, unknown>)[name], (b as Record<string, unknown>)[name], ignores)) return false;
  }
  return true;
}
