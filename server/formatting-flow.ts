import type { Connection, FormattingOptions } from "vscode-languageserver";
import type { LayoutOptions } from "../core/layout/lay-out.ts";
import { toOffset, toSpan } from "./from-lsp.ts";
import { guarded } from "./guard.ts";
import { formatDocument, formatLines, formatTyped, layoutOptions } from "./service/formatting.ts";
import type { Session } from "./session.ts";
import type { SubjectOf } from "./subject.ts";
import { toTextEdits } from "./to-lsp.ts";
import { viewOf } from "./views.ts";

/** Letters that finish a line or a row of a table. */
export const FORMATTING_LETTERS = ["\n", "}", "]"] as const;

/** Laying out a document, some of its lines, and the line that somebody has just finished. */
export function registerFormatting(connection: Connection, session: Session, subjectOf: SubjectOf): void {
  const { log } = session;
  const optionsOf = (options: FormattingOptions): LayoutOptions =>
    layoutOptions(options, session.settings["format.alignKeys"]);

  connection.onDocumentFormatting(({ textDocument: { uri }, options }, token) =>
    guarded("formatting", log, token, async () => {
      const subject = await subjectOf(uri, viewOf);
      if (!subject) return null;
      const layout = formatDocument(subject.view, optionsOf(options));
      if ("edits" in layout) return toTextEdits(subject.document, layout.edits);
      // No window for it: editors format at every save, and the problems tell of the fault already.
      connection.console.info(`${subject.view.file} is left as it is. ${layout.refusal}`);
      return null;
    }),
  );
  connection.onDocumentRangeFormatting(({ textDocument: { uri }, range, options }, token) =>
    guarded("range formatting", log, token, async () => {
      const subject = await subjectOf(uri, viewOf);
      if (!subject) return null;
      const { view, document } = subject;
      return toTextEdits(document, formatLines(view, optionsOf(options), toSpan(document, range)));
    }),
  );
  connection.onDocumentOnTypeFormatting(({ textDocument: { uri }, position, ch, options }, token) =>
    guarded("formatting while typing", log, token, async () => {
      const subject = await subjectOf(uri, viewOf);
      if (!subject) return null;
      const { view, document } = subject;
      const typed = { letter: ch, cursor: toOffset(document, position) };
      return toTextEdits(document, formatTyped(view, optionsOf(options), typed));
    }),
  );
}
