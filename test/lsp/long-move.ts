import { MOVE } from "./documents.ts";

/** A move of many keys with an aim: planning takes far longer than a slice. Nothing is found in it. */
export function longMove(keys: number): string {
  const head = MOVE.slice(0, MOVE.indexOf("keys:"));
  const items = Array.from({ length: keys }, (_, idx) => {
    const aim = idx === 0 ? "\n    aim: { at: lid, framing: [0.5, 0.5] }" : "";
    return `  - at: ${idx * 4} s\n    axes: { slide: ${idx % 2 ? -0.3 : 0.3}, plate: ${idx % 3} }${aim}`;
  });
  return `${head}keys:\n${items.join("\n")}\n`;
}
