import {
  DocumentHighlightKind,
  FoldingRangeKind,
  LSPErrorCodes,
  ResponseError,
  SymbolKind,
  type Connection,
  type FoldingRange,
  type SelectionRange,
  type TextEdit,
} from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import type { Span } from "../core/base/span.ts";
import { toOffset } from "./from-lsp.ts";
import { guarded } from "./guard.ts";
import { workspaceNames } from "./neighbours.ts";
import { foldsOf } from "./service/outline/folding.ts";
import { highlightsAt } from "./service/names/highlights.ts";
import { renamable, renamePlaces } from "./service/names/rename.ts";
import { selectionsAt } from "./service/outline/selection.ts";
import { workspaceSymbols, type WorkspaceSymbol } from "./service/names/workspace-symbols.ts";
import type { Session } from "./session.ts";
import { toLocation, toRange } from "./to-lsp.ts";
import type { SubjectOf } from "./subject.ts";
import { viewOf } from "./views.ts";

/** As in the outline. */
const WORKSPACE_KINDS: Readonly<Record<WorkspaceSymbol["kind"], SymbolKind>> = {
  document: SymbolKind.File,
  axis: SymbolKind.Property,
  key: SymbolKind.Event,
  target: SymbolKind.Object,
  lens: SymbolKind.Object,
  turntable: SymbolKind.Object,
  mark: SymbolKind.Object,
  pass: SymbolKind.Object,
  body: SymbolKind.Object,
};

/** Requests that find one's way through names and layout, and rename over all files. */
export function registerNavigation(connection: Connection, session: Session, subjectOf: SubjectOf): void {
  const { log, texts } = session;

  connection.onDocumentHighlight(({ textDocument, position }, token) =>
    guarded("highlights", log, token, async () => {
      const subject = await subjectOf(textDocument.uri, viewOf);
      if (!subject) return null;
      const { view, document } = subject;
      return highlightsAt(view, toOffset(document, position)).map(({ role, ...span }) => ({
        range: toRange(document, span),
        kind: role === "definition" ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
      }));
    }),
  );
  connection.onPrepareRename(({ textDocument, position }, token) =>
    guarded("prepare rename", log, token, async () => {
      const subject = await subjectOf(textDocument.uri, viewOf);
      const found = subject && renamable(subject.view, toOffset(subject.document, position));
      if (!subject || !found) return null;
      if ("refused" in found) throw new ResponseError(LSPErrorCodes.RequestFailed, found.refused);
      return { range: toRange(subject.document, found.span), placeholder: found.name };
    }),
  );
  connection.onRenameRequest(({ textDocument, position, newName }, token) =>
    guarded("rename", log, token, async () => {
      const subject = await subjectOf(textDocument.uri, viewOf);
      if (!subject) return null;
      const others = await workspaceNames(session);
      const found = renamePlaces(subject.view, toOffset(subject.document, position), newName, others);
      if (!found) return null;
      if ("refused" in found) throw new ResponseError(LSPErrorCodes.RequestFailed, found.refused);
      const changes: Record<string, TextEdit[]> = {};
      for (const place of found.places) {
        const { uri, range } = toLocation(texts, place);
        (changes[uri] ??= []).push({ range, newText: found.name });
      }
      return { changes };
    }),
  );
  connection.onWorkspaceSymbol(({ query }, token) =>
    guarded("workspace symbols", log, token, async () =>
      workspaceSymbols(await workspaceNames(session), query).map(({ name, kind, file, span, container }) => ({
        name,
        kind: WORKSPACE_KINDS[kind],
        location: toLocation(texts, { file, span }),
        containerName: container,
      })),
    ),
  );
  connection.onSelectionRanges(({ textDocument, positions }, token) =>
    guarded("selection ranges", log, token, async () => {
      const subject = await subjectOf(textDocument.uri, viewOf);
      if (!subject) return null;
      const { view, document } = subject;
      return positions.map((position) => nested(document, selectionsAt(view, toOffset(document, position))));
    }),
  );
  connection.onFoldingRanges(({ textDocument }, token) =>
    guarded("folding ranges", log, token, async () => {
      const subject = await subjectOf(textDocument.uri, viewOf);
      if (!subject) return null;
      return foldsOf(subject.view).map((fold): FoldingRange => {
        const { start, end } = toRange(subject.document, fold);
        const kind = fold.kind === "comment" ? { kind: FoldingRangeKind.Comment } : {};
        const summary = session.client.foldsWithSummary ? { collapsedText: fold.summary } : {};
        return { startLine: start.line, endLine: end.line, ...kind, ...summary };
      });
    }),
  );
}

/** Spans from the innermost to the outermost as LSP nests them. */
function nested(document: TextDocument, spans: readonly Span[]): SelectionRange {
  const whole: SelectionRange = { range: toRange(document, spans[spans.length - 1]) };
  return spans
    .slice(0, -1)
    .reduceRight((parent, span): SelectionRange => ({ range: toRange(document, span), parent }), whole);
}
