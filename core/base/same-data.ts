/**
 * True when two values of plain data (numbers, strings, lists, maps, sets; no cycles) are equal throughout. NaN equals NaN.
 * Sets and `Map`s are equal in the same order only.
 */
export function sameData(a: unknown, b: unknown): boolean {
  if (Object.is(a, b) || a === b) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  if (Array.isArray(a) && Array.isArray(b)) {
    if (a.length !== b.length) return false;
    for (let i = 0; i < a.length; i++) if (!sameData(a[i], b[i])) return false;
    return true;
  }
  if (Object.getPrototypeOf(a) !== Object.getPrototypeOf(b)) return false;
  if (isListed(a) && isListed(b)) return a.size === b.size && sameData([...a], [...b]);
  return sameFields(a, b);
}

const isListed = (value: object): value is Set<unknown> | Map<unknown, unknown> =>
  value instanceof Set || value instanceof Map;

function sameFields(a: object, b: object): boolean {
  const names = Object.keys(a);
  if (names.length !== Object.keys(b).length) return false;
  for (const name of names) {
    if (!Object.hasOwn(b, name)) return false;
    if (!sameData((a as Record<string, unknown>)[name], (b as Record<string, unknown>)[name])) return false;
  }
  return true;
}
