import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { documentsUnder } from "../../host/walk.ts";
import { memorySources } from "../../test/fixtures/memory-sources.ts";
import { runToEnd } from "../base/task.ts";
import { analyse, createMemo } from "../checks/analyse.ts";
import { findingsOf } from "../checks/analysis.ts";
import { checkedDocument, failedDocument } from "./check-document.ts";
import { textBook } from "./text-book.ts";

const EXAMPLES = fileURLToPath(new URL("../../examples", import.meta.url));

describe("what check tells of a document", () => {
  it("is plain data that JSON leaves as it is, findings of the analysis in the order of their places", function () {
    this.timeout(60_000);
    const files = documentsUnder(EXAMPLES);
    const sources = memorySources(new Map(files.map((file) => [file, readFileSync(file, "utf8")])));
    const memo = createMemo();
    const texts = textBook(sources, memo);
    let moves = 0;
    let count = 0;
    for (const file of files) {
      const analysis = runToEnd(analyse(file, sources, memo));
      const told = checkedDocument(analysis, texts);
      assert.deepEqual(JSON.parse(JSON.stringify(told)), told, file);
      const messages = findingsOf(analysis).map(({ message }) => message);
      assert.deepEqual(told.findings.map(({ message }) => message).sort(), messages.sort(), file);
      const starts = told.findings.map(({ range: { start } }) => start.line * 1e6 + start.character);
      assert.deepEqual(
        starts,
        [...starts].sort((a, b) => a - b),
        file,
      );
      for (const [i, at] of starts.entries()) {
        // The place counted by hand: line ends before it, and what stands behind the last of them.
        const text = readFileSync(file, "utf8");
        const line = Math.floor(at / 1e6);
        const start = text.split("\n").slice(0, line).join("\n").length + (line > 0 ? 1 : 0) + (at % 1e6);
        const own = findingsOf(analysis).filter(({ message }) => message === told.findings[i].message);
        assert.ok(own.some(({ place }) => place.span.start === start), `${file}: ${told.findings[i].message}`); // prettier-ignore
      }
      count += starts.length;
      if (told.move) moves++;
      if (told.move?.worst) assert.ok(told.move.worst.share === undefined || told.move.worst.share >= 0);
    }
    assert.ok(moves > 20 && count > 80, `${moves} moves, ${count} findings`);
  });

  it("is one finding where the program itself failed", () => {
    const told = failedDocument("/a/b.move.yaml", "Checking this document", new Error("a wrong index"));
    assert.equal(told.kind, "move");
    assert.deepEqual(
      told.findings.map(({ code, severity, message }) => [code, severity, message]),
      [
        [
          "internal-error",
          "error",
          "Checking this document failed inside the program (a wrong index); the other findings stand, but something may have gone unchecked.",
        ],
      ],
    );
    assert.deepEqual(JSON.parse(JSON.stringify(told)), told);
  });
});
