import type { Connection, TextDocumentPositionParams } from "vscode-languageserver";
import { registerFileRenames } from "./files/file-rename.ts";
import { registerEdits } from "./actions/edit-flow.ts";
import { registerFixes } from "./actions/fix-flow.ts";
import { registerFormatting } from "./formatting-flow.ts";
import { registerHover } from "./hover-flow.ts";
import { registerLenses } from "./lens-flow.ts";
import { toCompletionItem, toDocumentSymbol, toSymbolInformation } from "./feature-shapes.ts";
import { toOffset, toSpan } from "./from-lsp.ts";
import { guarded } from "./guard.ts";
import { completionSurroundings, workspaceNames } from "./neighbours.ts";
import { completionsAt } from "./service/completion.ts";
import { definitionAt, referencesAt } from "./service/names/definition.ts";
import { inlayHintsIn } from "./service/inlay.ts";
import { linksOf } from "./service/names/links.ts";
import { symbolsOf } from "./service/outline/symbols.ts";
import { registerNavigation } from "./navigation.ts";
import type { Session } from "./session.ts";
import { subjectsOf, type Subject } from "./subject.ts";
import { registerTemplates } from "./templates/template-flow.ts";
import { toLocation, toRange } from "./to-lsp.ts";
import { registerTokens } from "./tokens/tokens-flow.ts";
import { firstSolvedViewOf, readyViewOf, solvedViewOf, viewOf } from "./views.ts";

/** LSP's own requests, each guarded, each answered by one file of `service`. */
export function registerFeatures(connection: Connection, session: Session): void {
  const { log, texts } = session;
  const subjectOf = subjectsOf(session);
  const offsetOf = ({ document }: Subject, { position }: TextDocumentPositionParams) => toOffset(document, position);

  connection.onCompletion((params, token) =>
    guarded("completion", log, token, async () => {
      const subject = await subjectOf(params.textDocument.uri, readyViewOf);
      if (!subject) return null;
      const around = await completionSurroundings(session, subject.view);
      const found = completionsAt(subject.view, offsetOf(subject, params), around);
      return found.map((item) => toCompletionItem(subject.document, item, session.client));
    }),
  );
  connection.onDefinition((params, token) =>
    guarded("definition", log, token, async () => {
      const subject = await subjectOf(params.textDocument.uri, viewOf);
      const definition = subject && definitionAt(subject.view, offsetOf(subject, params));
      return definition ? definition.places.map((place) => toLocation(texts, place)) : null;
    }),
  );
  connection.onReferences((params, token) =>
    guarded("references", log, token, async () => {
      const subject = await subjectOf(params.textDocument.uri, viewOf);
      if (!subject) return null;
      const others = await workspaceNames(session);
      const options = { withDefinition: params.context.includeDeclaration };
      const places = referencesAt(subject.view, offsetOf(subject, params), others, options);
      return places.map((place) => toLocation(texts, place));
    }),
  );
  connection.onDocumentSymbol(({ textDocument: { uri } }, token) =>
    guarded("document symbols", log, token, async () => {
      const subject = await subjectOf(uri, firstSolvedViewOf);
      if (!subject) return null;
      const { view, document } = subject;
      const outcome = await session.run(symbolsOf(view), "shown", () => !token.isCancellationRequested);
      if (outcome.state === "failed") throw outcome.error;
      if (outcome.state === "dropped") return null;
      if (session.client.nestsSymbols) return outcome.value.map((symbol) => toDocumentSymbol(document, symbol));
      return outcome.value.flatMap((symbol) => toSymbolInformation(document, uri, symbol));
    }),
  );
  connection.onDocumentLinks(({ textDocument: { uri } }, token) =>
    guarded("document links", log, token, async () => {
      const subject = await subjectOf(uri, viewOf);
      if (!subject) return null;
      const { view, document } = subject;
      return linksOf(view).map(({ span, file }) => ({ range: toRange(document, span), target: texts.uri(file) }));
    }),
  );
  connection.languages.inlayHint.on(({ textDocument: { uri }, range }, token) =>
    guarded("inlay hints", log, token, async () => {
      const subject = await subjectOf(uri, solvedViewOf);
      if (!subject) return null;
      const { view, document } = subject;
      const { settings } = session;
      const kinds = {
        times: settings["inlayHints.times"],
        solved: settings["inlayHints.solved"],
        peaks: settings["inlayHints.peaks"],
      };
      return inlayHintsIn(view, toSpan(document, range), kinds).map(({ offset, label, tooltip }) => ({
        position: document.positionAt(offset),
        label,
        tooltip,
        paddingLeft: true,
      }));
    }),
  );
  registerNavigation(connection, session, subjectOf);
  registerFileRenames(connection, session);
  registerFormatting(connection, session, subjectOf);
  registerTokens(connection, session, subjectOf);
  registerHover(connection, session, subjectOf);
  registerLenses(connection, session);
  registerFixes(connection, session);
  registerEdits(connection, session);
  registerTemplates(connection, session);
}
