/** True when two values of plain data (numbers, strings, lists, maps; no cycles) are equal throughout. NaN equals NaN. */
export function sameData(a: unknown, b: unknown): boolean {
  if (Object.is(a, b) || a === b) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  if (Array.isArray(a) && Array.isArray(b)) {
    if (a.length !== b.length) return false;
    for (let i = 0; i < a.length; i++) if (!sameData(a[i], b[i])) return false;
    return true;
  }
  const names = Object.keys(a);
  if (names.length !== Object.keys(b).length) return false;
  for (const name of names) {
    if (!Object.hasOwn(b, name)) return false;
    if (!sameData((a as Record<string, unknown>)[name], (b as Record<string, unknown>)[name])) return false;
  }
  return true;
}
