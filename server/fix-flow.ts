import { CodeActionKind, type CodeAction, type Connection, type WorkspaceEdit } from "vscode-languageserver";
import type { TextCure } from "../core/base/problem.ts";
import type { FileId, Span } from "../core/base/span.ts";
import type { Fit } from "../core/motion/retime-fit.ts";
import { createClearings } from "./clear-flow.ts";
import { fileOfUri } from "./file-uri.ts";
import { toSpan } from "./from-lsp.ts";
import { guarded } from "./guard.ts";
import { createRetimings } from "./retime-flow.ts";
import { createRewrites, type RewriteRef } from "./rewrite-flow.ts";
import { curesOf, findingsTouching, offerStretch, writeStretch, type StretchOffer } from "./service/fixes.ts";
import type { Stretch } from "./service/stretch-search.ts";
import { findingsOf, type View } from "./service/view.ts";
import type { Session } from "./session.ts";
import { toDiagnostic, toRange } from "./to-lsp.ts";
import { solvedViewOf } from "./views.ts";

/** Most findings of one place for which a cure is searched: each search plans the move many times. */
const SEARCHES_CAP = 3;

/** What an action carries until it is resolved: a stretch found for a finding, a way to retime the move, another way to write. */
type ActionData = {
  readonly uri: string;
  /** Of the text that the action was made for. */
  readonly version: number | null;
} & (
  { readonly finding: number; readonly stretch: Stretch } | { readonly fit: Fit } | { readonly rewrite: RewriteRef }
);

/**
 * Code actions: the cures that findings bring, more time for an axis that is too fast, another value for what comes too near to
 * something, new times for the whole move.
 */
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

  const retimings = createRetimings(connection, session, editOf);
  const clearings = createClearings(session);
  const rewrites = createRewrites(connection, session, editOf);

  const stretchEdit = async (view: View, finding: number, stretch: Stretch): Promise<WorkspaceEdit | undefined> => {
    const trial = (text: string) => session.analyses.trial(view.file, text);
    const edits = await writeStretch(view, findingsOf(view.analysis)[finding], stretch, trial);
    return edits && editOf(view.file, edits);
  };

  /** The action as the client takes it: its edit made when it is asked for, or at once. */
  const lazily = async (
    action: CodeAction,
    data: ActionData,
    edit: () => Promise<WorkspaceEdit | undefined>,
  ): Promise<CodeAction[]> => {
    if (session.client.resolvesActionEdits) return [{ ...action, data }];
    const made = await edit();
    return made ? [{ ...action, edit: made }] : [];
  };

  const findingActions = async (view: View, uri: string, span: Span): Promise<CodeAction[]> => {
    const document = texts.document(view.file);
    if (!document) return [];
    const actions: CodeAction[] = [];
    let searches = 0;
    for (const { id, finding } of findingsTouching(view, span)) {
      const diagnostics = [toDiagnostic(texts, document, finding, session.findingsPage)];
      const base = { kind: CodeActionKind.QuickFix, diagnostics };
      for (const fix of curesOf(finding)) {
        const edit = editOf(fix.file, fix.edits);
        if (edit) actions.push({ ...base, title: fix.title, edit, isPreferred: finding.cures.length === 1 });
      }
      if (searches >= SEARCHES_CAP || !view.solved || view.solved.stale) continue;
      const clearing = clearings.offers(view, id);
      if (clearing) {
        searches += 1;
        for (const { title, edits } of await clearing) {
          const edit = editOf(view.file, edits);
          if (edit) actions.push({ ...base, title, edit });
        }
        continue;
      }
      const offer = await offerOf(view, id);
      if (!offer) continue;
      searches += 1;
      const { stretch, title } = offer;
      const data: ActionData = { uri, finding: id, stretch, version: texts.version(view.file) ?? null };
      actions.push(...(await lazily({ ...base, title }, data, () => stretchEdit(view, id, stretch))));
    }
    return actions;
  };

  const retimeActions = async (view: View, uri: string, span: Span, wants: (kind: string) => boolean) => {
    const made = await retimings.actions(view, span, wants);
    const version = texts.version(view.file) ?? null;
    const lazy = made.map(({ fit, action }) => lazily(action, { uri, fit, version }, () => retimings.edit(view, fit)));
    return (await Promise.all(lazy)).flat();
  };

  const rewriteActions = async (view: View, uri: string, span: Span): Promise<CodeAction[]> => {
    const version = texts.version(view.file) ?? null;
    const made: CodeAction[] = [];
    for (const { ref, action } of rewrites.actions(view, span)) {
      if (action.disabled) made.push(action);
      else
        made.push(...(await lazily(action, { uri, rewrite: ref, version }, () => rewrites.edit(view, ref, "silent"))));
    }
    return made;
  };

  connection.onCodeAction((params, token) =>
    guarded("code actions", log, token, async () => {
      const { uri } = params.textDocument;
      const file = fileOfUri(uri);
      const view = await solvedViewOf(session, file);
      const document = texts.document(file);
      if (!view || !document) return null;
      const { only } = params.context;
      const wants = (kind: string): boolean =>
        !only || only.some((one) => one === "" || `${kind}.`.startsWith(`${one}.`));
      const span = toSpan(document, params.range);
      return [
        ...(wants(CodeActionKind.QuickFix) ? await findingActions(view, uri, span) : []),
        ...(await retimeActions(view, uri, span, wants)),
        ...(wants(CodeActionKind.RefactorRewrite) ? await rewriteActions(view, uri, span) : []),
      ];
    }),
  );

  connection.onCodeActionResolve((action, token) =>
    guarded("a code action", log, token, async () => {
      const data = action.data as ActionData | undefined;
      if (!data) return action;
      const file = fileOfUri(data.uri);
      const view = await solvedViewOf(session, file);
      if (!view || (texts.version(file) ?? null) !== data.version) return action;
      const edit = await ("stretch" in data
        ? stretchEdit(view, data.finding, data.stretch)
        : "rewrite" in data
          ? rewrites.edit(view, data.rewrite, "tells")
          : retimings.edit(view, data.fit));
      return edit ? { ...action, edit } : action;
    }),
  );
}
