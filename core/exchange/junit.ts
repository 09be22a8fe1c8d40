import { plainWords } from "../base/plain-words.ts";
import type { Severity } from "../base/finding-code.ts";
import { xmlAttribute, xmlText } from "../base/xml-text.ts";
import { BREAKS, breakingMessage, counts, type CheckReport, type ReportedDocument } from "./check-report.ts";
import { countedFindings } from "./counted-findings.ts";
import { FAMILIES, familyOf, type FindingFamily } from "./finding-family.ts";
import { documentProperties } from "./junit-properties.ts";
import { reportedLine } from "./reported-line.ts";

export interface JunitOptions {
  /** When the check began, in UTC: `2026-05-04T10:30:00`. */
  readonly timestamp: string;
  /** Severities that fail a case. */
  readonly failing: readonly Severity[];
}

interface TestCase {
  readonly name: string;
  /** Absent for one that passes. */
  readonly failed?: { readonly tag: "error" | "failure"; readonly message: string; readonly lines: readonly string[] };
}

interface TestSuite {
  readonly name: string;
  readonly properties: readonly (readonly [string, string])[];
  readonly cases: readonly TestCase[];
  /** What is told but fails nothing. */
  readonly output: readonly string[];
}

/**
 * What `check` found in the XML of JUnit: a suite a document, a case a family of findings, named the same in each run so that
 * hosts can follow it. It holds to the schemas of both Ant's and Jenkins's readers: figures are properties of the suite, as
 * they have none of a case.
 */
export function renderJunit(report: CheckReport, options: JunitOptions): string {
  const changes = report.since === undefined ? [] : [changeSuite(report)];
  const suites = [...changes, ...report.documents.map((document) => documentSuite(document, report, options))];
  const written = suites.map((suite, id) => writeSuite(suite, id, options.timestamp));
  return `<?xml version="1.0" encoding="UTF-8"?>\n<testsuites>\n${written.join("")}</testsuites>\n`;
}

/** Families that say something of a document: of a move that is solved all, of any other its text and what is found. */
function familiesOf({ kind, move, findings }: ReportedDocument): FindingFamily[] {
  const found = new Set(findings.map(({ code }) => familyOf(code)));
  const ofShoots: readonly FindingFamily[] = ["cuts"];
  const isSaid = (family: FindingFamily): boolean =>
    family === "text" ||
    found.has(family) ||
    (kind === "move" && move !== undefined && !ofShoots.includes(family)) ||
    (kind === "shoot" && ofShoots.includes(family));
  return (Object.keys(FAMILIES) as FindingFamily[]).filter(isSaid);
}

function documentSuite(document: ReportedDocument, report: CheckReport, { failing }: JunitOptions): TestSuite {
  const failed = document.findings.filter((one) => counts(one) && failing.includes(one.severity));
  const told = document.findings.filter((one) => !failed.includes(one));
  const cases = familiesOf(document).map((family): TestCase => {
    const own = failed.filter(({ code }) => familyOf(code) === family);
    if (own.length === 0) return { name: FAMILIES[family] };
    const tag = own.some(({ code }) => code === "internal-error") ? "error" : "failure";
    const message = `${countedFindings(own)}: ${own[0].message}`;
    return { name: FAMILIES[family], failed: { tag, message, lines: own.map((one) => reportedLine(one, report)) } };
  });
  const output = told.map((one) => reportedLine(one, report));
  return { name: report.nameOf(document.file), properties: documentProperties(document), cases, output };
}

function changeSuite(report: CheckReport): TestSuite {
  const name = `changes since ${report.since}`;
  const failed = report.breaking.filter(({ severity }) => severity === "error");
  const lines = report.breaking.map((change) => {
    const { file, range, severity } = change;
    return `${report.nameOf(file)}:${range.start.line + 1}: ${severity} ${BREAKS} ${breakingMessage(change, report)}`;
  });
  const message = `${failed.length} change${failed.length === 1 ? "" : "s"}`;
  const one: TestCase = { name: "changes break no move that they leave as it is" };
  return {
    name,
    properties: [["changes that break moves", String(report.breaking.length)]],
    cases: [failed.length === 0 ? one : { ...one, failed: { tag: "failure", message, lines } }],
    output: failed.length === 0 ? lines : [],
  };
}

function writeSuite({ name, properties, cases, output }: TestSuite, id: number, timestamp: string): string {
  const count = (tag: string): number => cases.filter(({ failed }) => failed?.tag === tag).length;
  const attributes = [
    ["id", id],
    ["package", "movewright"],
    ["name", plainWords(name)],
    ["timestamp", timestamp],
    ["hostname", "localhost"],
    ["tests", cases.length],
    ["failures", count("failure")],
    ["errors", count("error")],
    ["time", 0],
  ];
  return [
    `  <testsuite${attributes.map(([key, value]) => ` ${key}="${xmlAttribute(String(value))}"`).join("")}>\n`,
    "    <properties>\n",
    ...properties.map(([key, value]) => `      <property name="${attribute(key)}" value="${attribute(value)}"/>\n`),
    "    </properties>\n",
    ...cases.map((one) => writeCase(one, name)),
    `    <system-out>${xmlText(output.join("\n"))}</system-out>\n`,
    "    <system-err></system-err>\n",
    "  </testsuite>\n",
  ].join("");
}

const attribute = (text: string): string => xmlAttribute(plainWords(text));

function writeCase({ name, failed }: TestCase, suite: string): string {
  const start = `    <testcase name="${attribute(name)}" classname="${attribute(suite)}" time="0"`;
  if (!failed) return `${start}/>\n`;
  const { tag, message, lines } = failed;
  const written = `<${tag} message="${attribute(message)}" type="finding">${xmlText(lines.join("\n"))}</${tag}>`;
  return `${start}>\n      ${written}\n    </testcase>\n`;
}
