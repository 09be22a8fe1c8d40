import assert from "node:assert/strict";
import { finding, moveDocument, ODD_TEXT, report, TOP } from "../../test/fixtures/check-report.ts";
import { renderAnnotations } from "./annotations.ts";
import type { CheckReport } from "./check-report.ts";

interface Read {
  readonly command: string;
  readonly properties: Readonly<Record<string, string>>;
  readonly message: string;
}

/**
 * Lines as a runner reads them: `::NAME KEY=VALUE,…::TEXT`, with `%25`, `%0D` and `%0A`, and in values `%3A` and `%2C`, taken
 * back (`@actions/core`, `command.ts`, has the other direction).
 */
function read(told: CheckReport): Read[] {
  const lines = renderAnnotations(told).split("\n").slice(0, -1);
  return lines.map((line) => {
    const [, command, written, text] = /^::([a-z]+) ([^:]*)::(.*)$/.exec(line) ?? assert.fail(line);
    const properties = written.split(",").map((pair) => {
      const at = pair.indexOf("=");
      return [
        pair.slice(0, at),
        plain(
          pair
            .slice(at + 1)
            .replaceAll("%3A", ":")
            .replaceAll("%2C", ","),
        ),
      ];
    });
    return { command, properties: Object.fromEntries(properties) as Record<string, string>, message: plain(text) };
  });
}

const plain = (text: string): string => text.replaceAll("%0D", "\r").replaceAll("%0A", "\n").replaceAll("%25", "%");

describe("annotations", () => {
  it("tell file, line and column from 1, code and message", () => {
    assert.deepEqual(read(report([moveDocument([finding()])])), [
      {
        command: "error",
        properties: {
          file: "moves/lid.move.yaml",
          line: "8",
          endLine: "8",
          col: "20",
          endColumn: "22",
          title: "axis-speed",
        },
        message: finding().message,
      },
    ]);
    const range = { start: { line: 1, character: 2 }, end: { line: 3, character: 1 } };
    const [{ properties }] = read(report([moveDocument([finding({ range })])]));
    assert.deepEqual([properties.line, properties.endLine, properties.col], ["2", "4", undefined]);
  });

  it("are ten of a level at most, the worst first, and the last says how many more there are", () => {
    const many = (count: number, severity: "error" | "warning" | "information") =>
      Array.from({ length: count }, () => finding({ severity }));
    const all = read(report([moveDocument([...many(3, "information"), ...many(10, "warning"), ...many(25, "error")])]));
    assert.deepEqual(
      all.map(({ command }) => command),
      [...Array<string>(10).fill("error"), ...Array<string>(10).fill("warning"), ...Array<string>(3).fill("notice")],
    );
    assert.equal(all[9].message, "+16 more errors");
    assert.equal(all[9].properties.file, undefined);
    assert.ok(all.slice(10, 20).every(({ message }) => message === finding().message));
  });

  it("leave out what is allowed, known or a hint", () => {
    const none = [finding({ allowed: "rehearsed", severity: "hint" }), finding({ known: "base" }), finding({ severity: "hint" })]; // prettier-ignore
    assert.equal(renderAnnotations(report([moveDocument(none)])), "");
  });

  it("tell changes that break moves first", () => {
    const change = {
      file: `${TOP}/kit/slider.rig.yaml`,
      range: { start: { line: 4, character: 40 }, end: { line: 4, character: 47 } },
      severity: "error" as const,
      breaks: [`${TOP}/moves/lid.move.yaml`],
      findings: [finding()],
    };
    const [first] = read(report([moveDocument([finding()])], { since: "main", breaking: [change] }));
    assert.deepEqual([first.properties.title, first.properties.file], ["breaks-moves", "kit/slider.rig.yaml"]);
    assert.equal(first.message, "This change breaks 1 move: moves/lid.move.yaml.");
  });

  it("take text of documents as words: it starts no command and no property", () => {
    const file = `${TOP}/moves/a,b: 100 %0A\n::error::.move.yaml`;
    const message = `50 %\n::error file=x::${ODD_TEXT}`;
    const text = renderAnnotations(report([moveDocument([finding({ file, message })])]));
    assert.equal(text.split("\n").length, 2);
    const [{ properties, message: words }] = read(report([moveDocument([finding({ file, message })])]));
    assert.equal(properties.file, file.slice(TOP.length + 1));
    assert.match(words, /^50 %\\x0a::error file=x::<script>.* %0A ]]>/);
  });

  it("name no file outside of the repository", () => {
    const [{ properties }] = read(report([moveDocument([finding({ file: "/other/a.move.yaml" })])]));
    assert.deepEqual(Object.keys(properties), ["title"]);
  });
});
