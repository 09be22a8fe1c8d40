import { sameNumber } from "../fields/said-same.ts";

/**
 * How two trees of plain data differ: `same` but for rounding of units; `value` where only numbers are other ones; `form`
 * where one has what the other has not.
 */
export type InputDifference = "same" | "value" | "form";

/** @param ignores Names of fields that do not count, wherever they stand. */
export function inputDifference(
  a: unknown,
  b: unknown,
  ignores: (name: string) => boolean = () => false,
): InputDifference {
  if (Object.is(a, b)) return "same";
  if (typeof a === "number" && typeof b === "number") return sameNumber(a, b) ? "same" : "value";
  if (Array.isArray(a) && Array.isArray(b)) {
    return a.length === b.length ? worst(a, (_, idx) => inputDifference(a[idx], b[idx], ignores)) : "form";
  }
  if (!isTree(a) || !isTree(b)) return "form";
  const names = new Set([...Object.keys(a), ...Object.keys(b)].filter((name) => !ignores(name)));
  return worst([...names], (name) => inputDifference(a[name], b[name], ignores));
}

const isTree = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

function worst<T>(all: readonly T[], of: (one: T, idx: number) => InputDifference): InputDifference {
  let found: InputDifference = "same";
  for (let idx = 0; idx < all.length; idx++) {
    const difference = of(all[idx], idx);
    if (difference === "form") return "form";
    if (difference === "value") found = "value";
  }
  return found;
}
