import { CodeActionKind, type CodeAction, type Connection, type WorkspaceEdit } from "vscode-languageserver";
import type { TextCure } from "../core/base/problem.ts";
import type { FileId } from "../core/base/span.ts";
import { fileOfUri } from "./file-uri.ts";
import { toSpan } from "./from-lsp.ts";
import { guarded } from "./guard.ts";
import { curesOf, findingsTouching, offerStretch, writeStretch, type StretchOffer } from "./service/fixes.ts";
import type { Stretch } from "./service/stretch-search.ts";
import { findingsOf, type View } from "./service/view.ts";
import type { Session } from "./session.ts";
import { toDiagnostic, toRange } from "./to-lsp.ts";
import { solvedViewOf } from "./views.ts";

/** Most findings of one place for which a stretch is searched: each search plans the move many times. */
const SEARCHES_CAP = 3;

/** What an action carries until it is resolved. */
interface ActionData {
  readonly uri: string;
  readonly finding: number;
  readonly stretch: Stretch;
  /** Of the text that the action was made for. */
  readonly version: number | null;
}

/** Quick fixes: the cures that findings bring, and more time for an axis that is too fast. */
export function registerFixes(connection: Connection, session: Session): void {
  const { log, texts } = session;
  // Editors ask at every move of the cursor: what was found for an analysis is kept with it.
  const offers = new WeakMap<object, Map<number, StretchOffer | undefined>>();

  const offerOf = async (view: View, id: number): Promise<StretchOffer | undefined> => {
    const known = offers.get(view.analysis) ?? new Map<number, StretchOffer | undefined>();
    offers.set(view.analysis, known);
    if (known.has(id)) return known.get(id);
    const stillNew = () => session.analyses.current(view.file)?.analysis === view.analysis;
    const outcome = await session.run(offerStretch(view, findingsOf(view.analysis)[id]), "asked", stillNew);
    if (outcome.state === "failed") throw outcome.error;
    if (outcome.state === "done") known.set(id, outcome.value);
    return outcome.state === "done" ? outcome.value : undefined;
  };

  const editOf = (file: FileId, edits: TextCure["edits"]): WorkspaceEdit | undefined => {
    const document = texts.document(file);
    if (!document) return undefined;
    const changes = edits.map(({ span, text }) => ({ range: toRange(document, span), newText: text }));
    return { changes: { [texts.uri(file)]: changes } };
  };

  const stretchEdit = async (view: View, finding: number, stretch: Stretch): Promise<WorkspaceEdit | undefined> => {
    const trial = (text: string) => session.analyses.trial(view.file, text);
    const edits = await writeStretch(view, findingsOf(view.analysis)[finding], stretch, trial);
    return edits && editOf(view.file, edits);
  };

  connection.onCodeAction((params, token) =>
    guarded("code actions", log, token, async () => {
      const { uri } = params.textDocument;
      const file = fileOfUri(uri);
      const view = await solvedViewOf(session, file);
      const document = texts.document(file);
      if (!view || !document) return null;
      const { only } = params.context;
      if (only && !only.some((kind) => CodeActionKind.QuickFix.startsWith(kind))) return [];
      const actions: CodeAction[] = [];
      let searches = 0;
      for (const { id, finding } of findingsTouching(view, toSpan(document, params.range))) {
        const diagnostics = [toDiagnostic(texts, document, finding, session.findingsPage)];
        const base = { kind: CodeActionKind.QuickFix, diagnostics };
        for (const fix of curesOf(finding)) {
          const edit = editOf(fix.file, fix.edits);
          if (edit) actions.push({ ...base, title: fix.title, edit, isPreferred: finding.cures.length === 1 });
        }
        if (searches >= SEARCHES_CAP || !view.solved || view.solved.stale) continue;
        const offer = await offerOf(view, id);
        if (!offer) continue;
        searches += 1;
        const data: ActionData = { uri, finding: id, stretch: offer.stretch, version: texts.version(file) ?? null };
        if (session.client.resolvesActionEdits) actions.push({ ...base, title: offer.title, data });
        else {
          const edit = await stretchEdit(view, id, offer.stretch);
          if (edit) actions.push({ ...base, title: offer.title, edit });
        }
      }
      return actions;
    }),
  );

  connection.onCodeActionResolve((action, token) =>
    guarded("a code action", log, token, async () => {
      const data = action.data as ActionData | undefined;
      if (!data) return action;
      const file = fileOfUri(data.uri);
      const view = await solvedViewOf(session, file);
      const isSame = view && (texts.version(file) ?? null) === data.version;
      const edit = isSame ? await stretchEdit(view, data.finding, data.stretch) : undefined;
      return edit ? { ...action, edit } : action;
    }),
  );
}
