import type { FileId } from "../../core/base/span.ts";
import { seconds } from "../../core/checks/figures.ts";
import type { CheckedDocument } from "../../core/exchange/checked-document.ts";
import { countedFindings, findingList } from "./finding-list.ts";
import { worstWords } from "./move-page.ts";
import { CAUTION, htmlTable, reportPage, words } from "./page-shell.ts";

export interface IndexMove {
  readonly name: string;
  /** False where the program failed on it. */
  readonly hasPage: boolean;
  readonly checked: CheckedDocument;
  /** What changed in a clause, as HTML. */
  readonly change?: string;
}

export interface IndexParts {
  readonly moves: readonly IndexMove[];
  /** Rigs, cameras, sets, shoots and settings. */
  readonly others: readonly CheckedDocument[];
  readonly nameOf: (file: FileId) => string;
  /** Of the whole change, as HTML, with what its side before is called. */
  readonly change?: { readonly html: string; readonly before: string };
}

/** The first page of a report: its moves with the worst first, and findings of all other documents. */
export function indexPage({ moves, others, nameOf, change }: IndexParts): string {
  const sorted = [...moves].sort((a, b) => weightOf(b.checked) - weightOf(a.checked));
  const rows = sorted.map(({ name, hasPage, checked, change: told }) => {
    const { move, file } = checked;
    const title = words(move?.title ?? nameOf(file));
    return [
      hasPage ? `<a href="moves/${name}.html">${title}</a>` : title,
      `<code>${words(nameOf(file))}</code>`,
      move ? seconds(move.duration) : "not solved",
      move ? String(move.keys) : "",
      move?.worst ? words(worstWords(move.worst)) : "",
      countedFindings(checked.findings),
      ...(change ? [told ?? "no motion change"] : []),
      hasPage ? `<a href="stages/${name}.html" aria-label="${words(`Stage of ${move?.title ?? nameOf(file)}`)}">stage</a>` : "", // prettier-ignore
    ];
  });
  const head = ["move", "file", "duration", "keys", "nearest to a limit", "errors and warnings", ...(change ? [`since ${change.before}`] : []), "stage"]; // prettier-ignore
  const found = others.filter(({ findings }) => findings.length > 0);
  const failed = moves.filter(({ hasPage }) => !hasPage).map(({ checked }) => checked);
  return reportPage(
    "Moves",
    [
      `<p class="caution">${words(CAUTION)}</p>`,
      rows.length === 0 ? "<p>No moves.</p>" : htmlTable("Moves", head, rows),
      ...(change ? [`<h2>What changed since ${words(change.before)}</h2>\n${change.html}`] : []),
      "<h2>Rigs, cameras, sets, shoots and settings</h2>",
      `<p>${others.length} looked at${found.length === 0 ? ", without findings" : ""}.</p>`,
      ...[...found, ...failed].map(({ file, findings }) => `<h3><code>${words(nameOf(file))}</code></h3>\n${findingList(findings, nameOf)}`), // prettier-ignore
    ].join("\n"),
  );
}

/** Errors before warnings before how near a limit is; a move that can't be solved has an error. */
function weightOf({ findings, move }: CheckedDocument): number {
  const count = (severity: string): number =>
    findings.filter((one) => one.severity === severity && one.allowed === undefined).length;
  const share = move?.worst ? (move.worst.share ?? 99) : 0;
  return 1e8 * Math.min(count("error"), 999) + 1e4 * Math.min(count("warning"), 999) + Math.min(share, 99);
}
