import type { ResolvedKey } from "../../motion/resolved-move.ts";

/** How a message calls the way by which the camera comes to a key. */
export function pathWord({ path }: ResolvedKey): "line" | "arc" {
  return path === undefined || path.kind === "line" ? "line" : "arc";
}
