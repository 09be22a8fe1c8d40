import assert from "node:assert/strict";
import { createRequire } from "node:module";
import Ajv, { type ValidateFunction } from "ajv";
import { finding, moveDocument, ODD_TEXT, report, TOP } from "../../test/fixtures/check-report.ts";
import { DOCUMENT_CODES, MOTION_CODES } from "../base/finding-code.ts";
import type { CheckReport } from "./check-report.ts";
import { MOST_LOCATIONS } from "./sarif-result.ts";
import { renderSarif } from "./sarif.ts";

/* eslint-disable @typescript-eslint/no-explicit-any -- a log is read as a host would, without our types */

/**
 * The schema of OASIS as the package `@microsoft/jest-sarif` has it (2.1.0-rtm.5, by the editors of the standard). It is of
 * JSON Schema's draft 4, of which ajv 8 reads all that stands in it but the older name of `$id`.
 */
function publishedSchema(): ValidateFunction {
  const require = createRequire(import.meta.url);
  const schema = require("@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json") as Record<string, unknown>;
  const { id, $schema, ...rest } = schema;
  assert.match(String($schema), /draft-04/);
  const ajv = new Ajv({ strict: false, allErrors: true, unicodeRegExp: false });
  for (const format of ["uri", "uri-reference", "date-time"]) ajv.addFormat(format, FORMATS[format]);
  return ajv.compile({ ...rest, $id: String(id) });
}

/** RFC 3986: no letter beyond ASCII, no blank, `%` in front of two digits only. */
const REFERENCE = /^(?:[A-Za-z0-9\-._~:/?#[\]@!$&'()*+,;=]|%[0-9A-Fa-f]{2})*$/;
const FORMATS: Readonly<Record<string, RegExp>> = {
  uri: new RegExp(`^[a-z][a-z0-9+.-]*:${REFERENCE.source.slice(1)}`),
  "uri-reference": REFERENCE,
  "date-time": /^\d{4}-\d\d-\d\dT/,
};

describe("SARIF", () => {
  let validate: ValidateFunction;
  before(() => (validate = publishedSchema()));

  const runOf = (told: CheckReport, options?: Parameters<typeof renderSarif>[1]): any => {
    const log: any = JSON.parse(renderSarif(told, options));
    const isValid: unknown = validate(log);
    assert.ok(isValid, JSON.stringify(validate.errors?.slice(0, 3)));
    assert.equal(log.runs.length, 1);
    return log.runs[0];
  };

  it("is refused by the schema where it is broken, so that the schema does look", () => {
    const log: any = JSON.parse(renderSarif(report([moveDocument([finding()])])));
    log.runs[0].results[0].locations[0].physicalLocation.artifactLocation.uri = "with blank.yaml";
    assert.equal(validate(log), false);
    const other = JSON.parse(renderSarif(report([moveDocument([finding()])])));
    other.runs[0].results[0].level = "bad";
    assert.equal(validate(other), false);
  });

  it("tells a finding with its rule, its place from 1 in UTF-16 units, its related places and its figures", () => {
    const run = runOf(report([moveDocument([finding()])]), { helpPage: "https://docs.example/findings.md" });
    const [result] = run.results;
    assert.deepEqual(
      [result.ruleId, result.level, result.kind, run.columnKind],
      ["axis-speed", "error", "fail", "utf16CodeUnits"],
    );
    assert.deepEqual(result.locations[0].physicalLocation, {
      artifactLocation: { uri: "moves/lid.move.yaml", uriBaseId: "%SRCROOT%" },
      region: { startLine: 8, startColumn: 20, endLine: 8, endColumn: 23 },
    });
    assert.ok("%SRCROOT%" in run.originalUriBaseIds);
    assert.equal(result.relatedLocations[0].physicalLocation.artifactLocation.uri, "kit/slider.rig.yaml");
    assert.equal(result.relatedLocations[0].message.text, "The limit.");
    assert.deepEqual(
      [result.properties.value, result.properties.limit, result.properties.unit, result.properties.axis],
      [0.9375, 0.5, "m/s", "slide"],
    );
    const { driver } = run.tool;
    assert.equal(driver.rules.length, 1);
    const rule = driver.rules[result.ruleIndex];
    assert.equal(rule.id, "axis-speed");
    assert.match(rule.help.text, /Cure: /);
    assert.match(rule.help.markdown, /\*\*Cure:\*\* /);
    assert.equal(rule.helpUri, "https://docs.example/findings.md#axis-speed");
    assert.deepEqual(rule.defaultConfiguration, { level: "error" });
    assert.equal(run.automationDetails.id, "movewright/check/");
    assert.equal(run.invocations[0].executionSuccessful, true);
    assert.equal(runOf(report([moveDocument([finding()])])).tool.driver.rules[0].helpUri, undefined);
  });

  it("has a rule for every code, with at most 20 tags", () => {
    const all = [...DOCUMENT_CODES, ...MOTION_CODES].map((code) => finding({ code }));
    const run = runOf(report([moveDocument(all)]));
    assert.deepEqual(
      run.tool.driver.rules.map(({ id }: any) => id).sort(),
      [...DOCUMENT_CODES, ...MOTION_CODES].sort(),
    );
    for (const result of run.results) assert.equal(run.tool.driver.rules[result.ruleIndex].id, result.ruleId);
    for (const { properties, help } of run.tool.driver.rules) {
      assert.ok(1 <= properties.tags.length && properties.tags.length <= 20);
      assert.ok(help.text.length > 20);
    }
    // The program failed in a part: the host is told so.
    assert.equal(run.invocations[0].executionSuccessful, false);
  });

  it("has fingerprints that stay when lines and values move, and that tell equal findings apart", () => {
    const prints = (...findings: ReturnType<typeof finding>[]): string[] =>
      runOf(report([moveDocument(findings)])).results.map(
        ({ partialFingerprints }: any) => partialFingerprints.primaryLocationLineHash,
      );
    const moved = finding({
      range: { start: { line: 70, character: 3 }, end: { line: 70, character: 9 } },
      message: "`slide` reaches 2 m/s.",
      value: 2,
      severity: "warning",
    });
    assert.deepEqual(prints(moved), prints(finding()));
    assert.match(prints(finding())[0], /^[0-9a-f]{16}:1$/);
    const [one, two, other, third] = prints(finding(), finding(), finding({ code: "axis-jerk" }), finding({ element: "keys.end" })); // prettier-ignore
    assert.deepEqual([one.slice(0, 16), two], [two.slice(0, 16), `${one.slice(0, 16)}:2`]);
    assert.equal(new Set([one, two, other, third]).size, 4);
  });

  it("tells what a document allows, and what a baseline lists, as suppressed", () => {
    const documents = [moveDocument([finding({ allowed: "rehearsed", severity: "hint" }), finding({ known: "baseline" }), finding()])]; // prettier-ignore
    const { results } = runOf(report(documents, { baseline: "known.json" }));
    const suppressions = results.map(({ suppressions: each }: any) => each);
    // What counts comes first.
    assert.deepEqual(suppressions, [
      [],
      [{ kind: "external", status: "accepted", justification: "Listed in known.json." }],
      [{ kind: "inSource", status: "accepted", justification: "rehearsed" }],
    ]);
    assert.equal(results[0].baselineState, undefined);
  });

  it("tells against a base what is new and what is not", () => {
    const documents = [moveDocument([finding({ known: "base" }), finding({ code: "axis-jerk" })])];
    const { results } = runOf(report(documents, { since: "main" }));
    assert.deepEqual(
      results.map(({ ruleId, baselineState }: any) => [ruleId, baselineState]),
      [
        ["axis-jerk", "new"],
        ["axis-speed", "unchanged"],
      ],
    );
  });

  it("offers each cure as a fix, an insertion too", () => {
    const at = { line: 8, character: 0 };
    const cures = [
      { title: "Add `ease`", file: `${TOP}/moves/lid.move.yaml`, edits: [{ range: { start: at, end: at }, text: "  ease: in\n" }] }, // prettier-ignore
      { title: "Nothing", file: `${TOP}/moves/lid.move.yaml`, edits: [] },
    ];
    const [{ fixes }] = runOf(report([moveDocument([finding({ cures })])])).results;
    assert.equal(fixes.length, 1);
    assert.deepEqual(fixes[0].artifactChanges[0].replacements, [
      {
        deletedRegion: { startLine: 9, startColumn: 1, endLine: 9, endColumn: 1 },
        insertedContent: { text: "  ease: in\n" },
      },
    ]);
  });

  it("tells a change that breaks moves on its own line, first, with what it breaks", () => {
    const change = {
      file: `${TOP}/kit/slider.rig.yaml`,
      range: { start: { line: 4, character: 40 }, end: { line: 4, character: 47 } },
      severity: "error" as const,
      change: "`joints.slide.limits.speed` was 0.5 m/s and is 0.3 m/s",
      breaks: [`${TOP}/moves/a.move.yaml`, `${TOP}/moves/lid.move.yaml`],
      findings: [finding({ file: `${TOP}/moves/a.move.yaml` }), finding()],
    };
    const run = runOf(report([moveDocument([finding()])], { since: "main", breaking: [change] }));
    const [result] = run.results;
    assert.equal(result.ruleId, "breaks-moves");
    assert.equal(
      result.message.text,
      "`joints.slide.limits.speed` was 0.5 m/s and is 0.3 m/s: this change breaks 2 moves: moves/a.move.yaml, moves/lid.move.yaml.",
    );
    assert.equal(result.locations[0].physicalLocation.artifactLocation.uri, "kit/slider.rig.yaml");
    assert.equal(result.relatedLocations.length, 2);
    assert.equal(run.tool.driver.rules[result.ruleIndex].id, "breaks-moves");
  });

  it("keeps the limits of a host: the worst results, and as many places as it takes", () => {
    const notes = Array.from({ length: 25_000 }, (_, i) =>
      finding({ severity: "information", code: "near-limit", element: `keys[${i}]`, related: [], cures: [] }),
    );
    const run = runOf(report([moveDocument([...notes, finding()])]));
    assert.equal(run.results.length, 25_000);
    assert.equal(run.results[0].ruleId, "axis-speed");
    const [{ level, message }] = run.invocations[0].toolExecutionNotifications;
    assert.equal(level, "warning");
    assert.match(message.text, /^1 more result, none worse/);
    const related = Array.from({ length: 1_500 }, () => finding().related[0]);
    const [many] = runOf(report([moveDocument([finding({ related })])])).results;
    assert.equal(many.locations.length + many.relatedLocations.length, MOST_LOCATIONS);
  }).timeout(60_000);

  it("takes text of documents as words: no link, no control character, no half of one", () => {
    const odd = `${TOP}/moves/a b#c%é:1/\ud800?.move.yaml`;
    const run = runOf(report([moveDocument([finding({ message: ODD_TEXT, file: odd, element: ODD_TEXT })])]));
    const [{ message, locations }] = run.results;
    assert.ok(message.text.includes("<script>"));
    // eslint-disable-next-line no-control-regex -- it is these that must be gone
    assert.doesNotMatch(message.text, /[\u0000-\u001f\u202e]|(?<!\\)\]\(/);
    assert.equal(
      locations[0].physicalLocation.artifactLocation.uri,
      "moves/a%20b%23c%25%C3%A9%3A1/%EF%BF%BD%3F.move.yaml",
    );
    const outside = runOf(report([moveDocument([finding({ file: "/other/a b.move.yaml" })])])).results[0];
    assert.deepEqual(outside.locations[0].physicalLocation.artifactLocation, { uri: "file:///other/a%20b.move.yaml" });
    assert.equal(runOf(report([moveDocument([finding({ message: "" })])])).results[0].message.text, "(no words)");
  });

  it("is valid without a finding, and the same to the byte each time", () => {
    assert.deepEqual(runOf(report([moveDocument([])])).results, []);
    assert.equal(renderSarif(report([moveDocument([finding()])])), renderSarif(report([moveDocument([finding()])])));
  });
});
