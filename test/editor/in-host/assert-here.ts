// Stands in for node:assert/strict where the tests run in a web worker, which has none: the checks that they use, no more.

function fail(message: unknown, said: string): never {
  throw new Error(typeof message === "string" && message !== "" ? `${message}: ${said}` : said);
}

/** Deep equality of plain data, whose fields may stand in any order. */
function same(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const [keys, others] = [Object.keys(a), Object.keys(b)];
  if (keys.length !== others.length) return false;
  return keys.every(
    (key) => Object.hasOwn(b, key) && same((a as Record<string, unknown>)[key], (b as Record<string, unknown>)[key]),
  );
}

const shown = (value: unknown): string => JSON.stringify(value, undefined, 1) ?? String(value);

const assert = {
  ok(value: unknown, message?: string): void {
    if (!value) fail(message, `${shown(value)} is not true`);
  },
  equal(actual: unknown, expected: unknown, message?: string): void {
    if (!Object.is(actual, expected)) fail(message, `${shown(actual)} is not ${shown(expected)}`);
  },
  notEqual(actual: unknown, other: unknown, message?: string): void {
    if (Object.is(actual, other)) fail(message, `it is ${shown(actual)}`);
  },
  deepEqual(actual: unknown, expected: unknown, message?: string): void {
    if (!same(actual, expected)) fail(message, `${shown(actual)} is not ${shown(expected)}`);
  },
  notDeepEqual(actual: unknown, other: unknown, message?: string): void {
    if (same(actual, other)) fail(message, `it is ${shown(actual)}`);
  },
  match(text: string, pattern: RegExp, message?: string): void {
    if (!pattern.test(text)) fail(message, `${shown(text)} does not match ${String(pattern)}`);
  },
};

export default assert;
