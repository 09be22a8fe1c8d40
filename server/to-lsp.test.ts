import assert from "node:assert/strict";
import { TextDocument } from "vscode-languageserver-textdocument";
import type { PlacedFinding } from "../core/checks/finding.ts";
import { toDiagnostics } from "./to-lsp.ts";

const FILE = "/job/a.move.yaml";

function diagnosticsOf(text: string, spans: readonly (readonly [start: number, end: number])[], most = 500) {
  const document = TextDocument.create("file:///job/a.move.yaml", "yaml", 1, text);
  const findings = spans.map(([start, end], idx): PlacedFinding => ({
    code: "unknown-field",
    severity: (["hint", "warning", "error"] as const)[idx % 3],
    message: `finding ${idx}`,
    place: { file: FILE, span: { start, end } },
    related: [],
    cures: [],
  }));
  const lines = { uri: () => document.uri, document: () => document };
  return toDiagnostics(lines, document, findings, undefined, most).map((each) => ({
    ...each,
    said: document.getText(each.range),
  }));
}

describe("diagnostics", () => {
  for (const end of ["\n", "\r\n"]) {
    const text = Array.from({ length: 60 }, (_, idx) => `line ${idx}`).join(end);

    it(`stand where the finding stands, ${JSON.stringify(end)}`, () => {
      const from = text.indexOf("line 3");
      const to = text.indexOf("line 9");
      const [found] = diagnosticsOf(text, [[from, to]]);
      assert.equal(found.said, text.slice(from, to));
    });

    it(`over very many lines are cut to the first, without its end, ${JSON.stringify(end)}`, () => {
      const from = text.indexOf("line 3") + 2;
      const [found] = diagnosticsOf(text, [[from, text.length]]);
      assert.equal(found.said, "ne 3");
    });
  }

  it("stay within the text, however a span came to be", () => {
    for (const span of [
      [5, 2],
      [0, 99],
      [99, 100],
      [3, 3],
    ] as const) {
      const [{ range, said }] = diagnosticsOf("line 0\nline 1", [span]);
      assert.ok(range.start.line <= range.end.line, JSON.stringify(span));
      assert.ok(said.length <= Math.max(0, span[1] - span[0]), JSON.stringify(span));
    }
  });

  it("are as many as are wanted, the gravest, and one that says how many more there are", () => {
    const spans = Array.from({ length: 30 }, () => [0, 4] as const);
    const found = diagnosticsOf("line 0", spans, 12);
    assert.equal(found.length, 13);
    assert.deepEqual(
      found.slice(0, 12).map(({ severity }) => severity),
      [1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 2, 2],
    );
    assert.equal(found[12].message, "18 more findings are not shown here; `movewright check` lists all.");
    assert.equal(diagnosticsOf("line 0", spans, 30).length, 30);
  });
});
