import type { AskedPlace } from "./proposal.ts";

/**
 * Where a whole item would go: the path of its list or map. `undefined` where the cursor is no place for one. For a list that
 * is its own path, be the cursor in it, at a fresh item of it, or behind its colon.
 */
export function pathText({ cursor: { path }, place: { shape } }: AskedPlace): string | undefined {
  if (shape.kind === "list" || shape.kind === "record") return path.join("/");
  const isItem = shape.kind === "map" && typeof path[path.length - 1] === "number";
  return isItem ? path.slice(0, -1).join("/") : undefined;
}
