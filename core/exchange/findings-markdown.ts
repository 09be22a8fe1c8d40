import { LIMIT_WORDS } from "../base/limits.ts";
import { percent, seconds } from "../checks/figures.ts";
import {
  breakingMessage,
  counts,
  worstFirst,
  type CheckReport,
  type ReportedDocument,
  type ReportedFinding,
} from "./check-report.ts";
import type { CheckedMove } from "./checked-document.ts";
import { countedFindings } from "./counted-findings.ts";
import { cutRows } from "./cut-rows.ts";
import { markdownCode, markdownMessage, markdownText } from "./markdown-text.ts";

/** Bytes that a host takes of a job's summary are 1 MiB; a step that writes more shows nothing. */
export const MOST_BYTES = 1_000_000;

const CAUTION = "_A move without findings isn't one that is safe: it is arithmetic on what the documents say._";

/**
 * What `check` found as Markdown for a summary or a comment: the moves with their worst share of a limit, and the findings,
 * the worse first. What doesn't fit into `most` bytes is counted.
 */
export function renderMarkdown(report: CheckReport, most = MOST_BYTES): string {
  const all = report.documents.flatMap(({ findings }) => findings);
  const title = `## Movewright: ${countedFindings(all.filter(counts)) || "no findings"}`;
  const head = [title, "", ...intro(report, all), ""];
  const room = most - 2_000;
  const breaking = section("### Changes that break moves", [], breakingRows(report), room / 5);
  const moves = section("### Moves", ["| move | nearest to a limit | duration | findings |", "| :-- | :-- | --: | :-- |"], moveRows(report), room / 4); // prettier-ignore
  const findings = section("### Findings", ["| severity | where | finding |", "| :-- | :-- | :-- |"], findingRows(report, true), room / 2); // prettier-ignore
  const known = folded(report, room / 20);
  return `${[...head, ...breaking, ...findings, ...moves, ...known, CAUTION].join("\n")}\n`;
}

function intro({ documents, since, baseline }: CheckReport, all: readonly ReportedFinding[]): string[] {
  const known = all.filter((one) => one.known !== undefined).length;
  const allowed = all.filter((one) => one.allowed !== undefined).length;
  const against = [
    ...(since === undefined ? [] : [`compared with ${markdownCode(since)}`]),
    ...(baseline === undefined ? [] : [`without those of ${markdownCode(baseline)}`]),
  ];
  const counted = `${documents.length} document${documents.length === 1 ? "" : "s"} checked${against.map((words) => `, ${words}`).join("")}.`; // prettier-ignore
  const rest = [
    ...(known === 0 ? [] : [`${known} known finding${known === 1 ? "" : "s"} not counted.`]),
    ...(allowed === 0 ? [] : [`${allowed} allowed with a reason.`]),
  ];
  return [[counted, ...rest].join(" ")];
}

/** Rows below their headline, those that fit; nothing without rows. */
function section(title: string, front: readonly string[], rows: readonly string[], room: number): string[] {
  if (rows.length === 0) return [];
  const { kept, left } = cutRows(rows, room);
  return [title, "", ...front, ...kept, ...(left === 0 ? [] : ["", `… and ${left} more.`]), ""];
}

function folded(report: CheckReport, room: number): string[] {
  const rows = findingRows(report, false);
  if (rows.length === 0) return [];
  const table = section(
    "",
    ["| severity | where | finding | why it does not count |", "| :-- | :-- | :-- | :-- |"],
    rows,
    room,
  ).slice(1);
  return ["<details><summary>Allowed and known findings</summary>", ...table, "</details>", ""];
}

const breakingRows = (report: CheckReport): string[] =>
  report.breaking.map((change) => {
    const place = markdownCode(`${report.nameOf(change.file)}:${change.range.start.line + 1}`);
    return `- ${place} ${markdownMessage(breakingMessage(change, report))}`;
  });

function moveRows(report: CheckReport): string[] {
  const moves = report.documents.flatMap((document) => (document.kind === "move" ? [document] : []));
  return moves.sort((a, b) => nearness(b) - nearness(a)).map((document) => moveRow(document, report));
}

/** What can't be solved comes first, then what is nearest to a limit. */
const nearness = ({ move }: ReportedDocument): number => (move ? (move.worst ? (move.worst.share ?? Infinity) : 0) : Infinity); // prettier-ignore

function moveRow({ file, move, findings }: ReportedDocument, report: CheckReport): string {
  const name = `${markdownCode(report.nameOf(file))}${move && move.title !== "" ? ` ${markdownText(move.title)}` : ""}`;
  const known = findings.filter((one) => one.known !== undefined).length;
  const found = countedFindings(findings.filter(counts)) || (known === 0 ? "none" : `none new, ${known} known`);
  return `| ${name} | ${worstWords(move)} | ${move ? seconds(move.duration) : ""} | ${found} |`;
}

function worstWords(move: CheckedMove | undefined): string {
  if (!move) return "not solved";
  if (!move.worst) return "no limit stated";
  const { share, axis, of, at } = move.worst;
  const much = share === undefined ? "unbounded" : percent(share);
  return `${much} of ${LIMIT_WORDS[of]} of ${markdownCode(axis)} at ${seconds(at)}`;
}

const SIGNS = { error: "**error**", warning: "warning", information: "note", hint: "hint" } as const;

/** Rows of the findings that count, or of those that don't. */
function findingRows(report: CheckReport, counting: boolean): string[] {
  const all = report.documents.flatMap(({ findings }) => findings.map((finding) => ({ finding })));
  const some = all.filter(({ finding }) => counts(finding) === counting);
  return worstFirst(some).map(({ finding }) => {
    const { severity, code, message, file, range, allowed, known } = finding;
    const place = markdownCode(`${report.nameOf(file)}:${range.start.line + 1}`);
    const row = `| ${SIGNS[severity]} | ${place} | ${markdownMessage(message)} ${markdownCode(code)} |`;
    if (counting) return row;
    return `${row} ${allowed === undefined ? `known (${known})` : `allowed: ${markdownText(allowed)}`} |`;
  });
}
