import { findingsOf } from "../../core/checks/analysis.ts";
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { runToEnd } from "../../core/base/task.ts";
import { analyse, createMemo } from "../../core/checks/analyse.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import { parseTree } from "../../core/syntax/parse.ts";
import type { Around } from "./hover/around.ts";
import { hoverAt } from "./hover.ts";
import { solvedOf, type View } from "./view.ts";
import { namesFrom } from "./names/written-names.ts";

const EXAMPLES = fileURLToPath(new URL("../../examples", import.meta.url));
const MOVE = "/moves/over-the-lid.move.yaml";
/** Between two cursors [UTF-16 units]: prime, so that they stand at all places of a line. */
const STEP = 13;

/** The demo, and what its documents say when they are cut in the middle. */
function demo(): ReadonlyMap<string, string> {
  const texts = new Map<string, string>();
  const visit = (folder: string): void => {
    for (const entry of readdirSync(path.join(EXAMPLES, folder), { withFileTypes: true })) {
      const file = path.posix.join(folder, entry.name);
      if (entry.isDirectory()) visit(file);
      else if (/\.(yaml|json|urdf|obj)$/.test(file)) texts.set(file, readFileSync(path.join(EXAMPLES, file), "utf8"));
    }
  };
  visit("/");
  return texts;
}

describe("hover", () => {
  const texts = demo();
  const sources = {
    read: (file: string) => {
      const text = texts.get(file);
      return text === undefined ? ({ state: "missing" } as const) : ({ state: "text", text } as const);
    },
  };
  const memo = createMemo();
  const parse = (file: string) => (text: string) => parseTree(text, file.endsWith("json") ? "json" : "yaml");
  const names = namesFrom(sources, (file, text) => parse(file)(text));
  const move = runToEnd(analyse(MOVE, sources, memo));
  const solved = solvedOf(move);
  assert.ok(solved);
  const around: Around = {
    users: [{ title: solved.move.title, solved }],
    moveOf: () => ({ solved, findings: findingsOf(move) }),
  };
  const viewOf = (file: string, text: string): View => ({
    file,
    kind: documentKind(file)!.kind,
    text,
    tree: parse(file)(text),
    parse: parse(file),
    analysis: file === MOVE ? move : runToEnd(analyse(file, sources, memo)),
    solved: file === MOVE ? solved : undefined,
    sources,
    names,
  });

  const used = move.inputs.filter((file) => file !== MOVE && documentKind(file) && texts.has(file));
  assert.ok(used.length >= 3);
  for (const file of [MOVE, ...used, "/teapots.shoot.yaml"]) {
    it(`answers at any place of ${file}, whole and cut short, with tables of ten rows at most`, () => {
      const whole = texts.get(file)!;
      let answers = 0;
      for (const text of [whole, whole.slice(0, whole.length * 0.6)]) {
        const view = viewOf(file, text);
        for (let offset = 0; offset <= text.length; offset += STEP) {
          const hover = runToEnd(hoverAt(view, offset, around, offset % (7 * STEP) === 0));
          if (!hover) continue;
          answers += 1;
          assert.ok(hover.span.start <= offset && offset <= hover.span.end);
          const rows = hover.markdown.split("\n\n").map((part) => part.split("\n").filter((line) => /^\|/.test(line)));
          // Two lines are the head of a table; a key lists all axes of its rig.
          for (const table of rows)
            if (!/^\| axis \|/.test(table[0] ?? "")) assert.ok(table.length <= 12, hover.markdown);
          assert.doesNotMatch(hover.markdown, /undefined|NaN|\[object/);
        }
      }
      assert.ok(answers > 10, `${answers} answers`);
    });
  }
});
