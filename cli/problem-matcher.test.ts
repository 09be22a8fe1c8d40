import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { json, MOVE, shippedProgram } from "../test/support/shipped-program.ts";

interface Matcher {
  readonly name: string;
  readonly pattern: Readonly<Record<"file" | "line" | "column" | "severity" | "code" | "message", number>> & {
    readonly regexp: string;
  };
}

interface Problem {
  readonly path: string;
  readonly line: number;
  readonly character: number;
  readonly severity: string;
  readonly code: string;
  readonly message: string;
}

const MANIFEST = fileURLToPath(new URL("../package.json", import.meta.url));
const { contributes } = JSON.parse(readFileSync(MANIFEST, "utf8")) as {
  contributes: { problemMatchers: readonly Matcher[] };
};
const { pattern } = contributes.problemMatchers.find(({ name }) => name === "movewright")!;

/** The severities that an editor's matcher knows; any other counts as an error. */
const KNOWN = ["error", "warning", "info", "hint"];
const WRITTEN: Readonly<Record<string, string>> = { info: "information" };

/** What an editor makes of the output: it matches line by line, without the ends of lines. */
function problemsIn(output: string): Problem[] {
  const matcher = new RegExp(pattern.regexp);
  return output.split(/\n/).flatMap((line) => {
    const match = matcher.exec(line);
    if (!match) return [];
    const severity = match[pattern.severity];
    assert.ok(KNOWN.includes(severity), severity);
    return [
      {
        path: match[pattern.file],
        line: Number(match[pattern.line]) - 1,
        character: Number(match[pattern.column]) - 1,
        severity: WRITTEN[severity] ?? severity,
        code: match[pattern.code],
        message: match[pattern.message],
      },
    ];
  });
}

describe("the problem matcher", () => {
  const { put, run } = shippedProgram("matcher");

  /** The same findings as the answer in JSON tells them. */
  const expected = (...paths: string[]): Problem[] => {
    interface Found extends Omit<Problem, "path" | "line" | "character"> {
      readonly range: { readonly start: { readonly line: number; readonly character: number } };
      readonly allowed?: string;
    }
    const answer = json<{ files: { path: string; findings: Found[] }[] }>(
      run("check", "--format", "json", "--", ...paths),
    );
    return answer.files.flatMap(({ path, findings }) =>
      findings.map(({ range: { start }, severity, code, message, allowed }) => ({
        path,
        ...start,
        severity,
        code,
        message: allowed === undefined ? message : `${message} (allowed: ${allowed})`,
      })),
    );
  };

  const FAST = MOVE.replace("at: 2 s", "at: 0.6 s").replaceAll("kit/", "../kit/");
  const NAMES = [
    "odd/with space.move.yaml",
    "odd/é 壺.move.yaml",
    "odd/12:3:4: error.move.yaml",
    "odd/quo'te.move.yaml",
    "-dash/one.move.yaml",
  ];

  before(() => {
    for (const name of NAMES) put(name, FAST);
    // Errors, warnings and notes; with other line ends; one that is allowed, with a reason.
    put("odd/crlf.move.yaml", FAST.replaceAll("\n", "\r\n"));
    put("odd/near.move.yaml", MOVE.replace("at: 2 s", "at: 1.2 s").replaceAll("kit/", "../kit/"));
    put("odd/allowed.move.yaml", `${FAST}allow: [{ code: axis-speed, reason: rehearsed }]\n`);
    put("odd/broken.rig.json", '{ "rig": 1, "chain": [ { "axis": "a", "type": "linera" } ] }');
  });

  it("finds in the output every finding of the answer in JSON, with place, severity, code and message", () => {
    const wanted = expected("odd", "-dash");
    assert.deepEqual(problemsIn(run("check", "--", "odd", "-dash").stdout), wanted);
    const severities = new Set(wanted.map(({ severity }) => severity));
    assert.ok(
      ["error", "information", "hint"].every((each) => severities.has(each)),
      [...severities].join(", "),
    );
    for (const name of NAMES)
      assert.ok(
        wanted.some(({ path, code }) => path === name && code === "axis-speed"),
        name,
      );
  });

  it("takes lines that end as on Windows, and paths with drives", () => {
    const line = "C:\\moves\\a b.move.yaml:17:20: warning near-limit slide uses 92 % of its limit: 0.1 of 0.2 m/s.";
    const [found, ...more] = problemsIn(`${line}\r\n1 document checked: 1 warning\r\n`);
    assert.deepEqual(more, []);
    assert.deepEqual(found, {
      path: "C:\\moves\\a b.move.yaml",
      line: 16,
      character: 19,
      severity: "warning",
      code: "near-limit",
      message: "slide uses 92 % of its limit: 0.1 of 0.2 m/s.",
    });
  });

  it("takes nothing else", () => {
    assert.deepEqual(problemsIn(run("check", "good.move.yaml").stdout), []);
    assert.deepEqual(problemsIn("movewright: nothing.move.yaml is not there\n3 documents checked: no findings\n"), []);
  });
});
