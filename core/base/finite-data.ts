/** Whether JSON leaves plain data as it is: an infinite number and NaN would come back as nothing. */
export function isFiniteData(value: unknown): boolean {
  if (typeof value === "number") return Number.isFinite(value);
  if (typeof value !== "object" || value === null) return true;
  return Object.values(value).every(isFiniteData);
}
