import { LSPErrorCodes, ResponseError, type Connection, type TextDocumentPositionParams } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import { OPEN_STAGE_COMMAND } from "../protocol/requests.ts";
import { registerFixes } from "./fix-flow.ts";
import { markdown, toCompletionItem, toDocumentSymbol, toSymbolInformation } from "./feature-shapes.ts";
import { fileOfUri } from "./file-uri.ts";
import { toOffset } from "./from-lsp.ts";
import { guarded } from "./guard.ts";
import { completionSurroundings, usersOf, workspaceNames } from "./neighbours.ts";
import { completionsAt } from "./service/completion.ts";
import { definitionAt, referencesAt } from "./service/definition.ts";
import { hoverAt } from "./service/hover.ts";
import { lensesOf } from "./service/lens.ts";
import { linksOf } from "./service/links.ts";
import { symbolsOf } from "./service/symbols.ts";
import type { View } from "./service/view.ts";
import type { Session } from "./session.ts";
import { toLocation, toRange } from "./to-lsp.ts";
import { solvedViewOf, viewOf } from "./views.ts";

/** A document as a request finds it. */
interface Subject {
  readonly view: View;
  readonly document: TextDocument;
}

/** LSP's own requests, each guarded, each answered by one file of `service`. */
export function registerFeatures(connection: Connection, session: Session): void {
  const { log, texts } = session;

  /** The document of a request, with its motion where the answer needs it. */
  const subjectOf = async (uri: string, read: typeof viewOf): Promise<Subject | undefined> => {
    const file = fileOfUri(uri);
    const asked = texts.version(file);
    const view = await read(session, file);
    const document = texts.document(file);
    // Places in the question are of the text as it was: an answer for another text would be wrong.
    if (texts.version(file) !== asked) throw new ResponseError(LSPErrorCodes.ContentModified, "The text has changed.");
    return view && document ? { view, document } : undefined;
  };
  const offsetOf = ({ document }: Subject, { position }: TextDocumentPositionParams) => toOffset(document, position);

  connection.onHover((params, token) =>
    guarded("hover", log, token, async () => {
      const subject = await subjectOf(params.textDocument.uri, solvedViewOf);
      if (!subject) return null;
      const hover = hoverAt(subject.view, offsetOf(subject, params), usersOf(session, subject.view));
      return hover ? { contents: markdown(hover.markdown), range: toRange(subject.document, hover.span) } : null;
    }),
  );
  connection.onCompletion((params, token) =>
    guarded("completion", log, token, async () => {
      const subject = await subjectOf(params.textDocument.uri, viewOf);
      if (!subject) return null;
      const around = await completionSurroundings(session, subject.view);
      const found = completionsAt(subject.view, offsetOf(subject, params), around);
      return found.map((item) => toCompletionItem(subject.document, item));
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
      const subject = await subjectOf(uri, viewOf);
      if (!subject) return null;
      const { view, document } = subject;
      if (session.client.nestsSymbols) return symbolsOf(view).map((symbol) => toDocumentSymbol(document, symbol));
      return symbolsOf(view).flatMap((symbol) => toSymbolInformation(document, uri, symbol));
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
  connection.onCodeLens(({ textDocument: { uri } }, token) =>
    guarded("code lenses", log, token, async () => {
      const subject = await subjectOf(uri, solvedViewOf);
      if (!subject) return null;
      return lensesOf(subject.view).map(({ title, span }) => ({
        range: toRange(subject.document, span),
        command: { title, command: OPEN_STAGE_COMMAND, arguments: [uri] },
      }));
    }),
  );
  registerFixes(connection, session);
}
