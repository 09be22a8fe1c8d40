/**
 * The one file that the program is bundled into, which it starts again as a thread; `undefined` when it runs from its
 * sources, as in tests: then it starts none.
 */
export function programScript(): string | undefined {
  return typeof __filename === "string" && __filename.endsWith(".cjs") ? __filename : undefined;
}
