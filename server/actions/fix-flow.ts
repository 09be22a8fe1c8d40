import type { CodeAction, Connection, WorkspaceEdit } from "vscode-languageserver";
import type { ActionPlace, ActionSource, EditOf, OfferedAction, Tells } from "./action-source.ts";
import { createConversions } from "./convert-flow.ts";
import { createCures } from "./cure-flow.ts";
import { createFixAlls } from "./fix-all-flow.ts";
import { fileOfUri } from "../files/file-uri.ts";
import { toSpan } from "../from-lsp.ts";
import { guarded } from "../guard.ts";
import { createRetimings } from "./retime-flow.ts";
import { createRewrites } from "./rewrite-flow.ts";
import type { View } from "../service/view.ts";
import type { Session } from "../session.ts";
import { toTextEdits } from "../to-lsp.ts";
import { solvedViewOf } from "../views.ts";

/** What an action carries until it is resolved. */
interface ActionData {
  readonly uri: string;
  /** Of the text that the action was made for. */
  readonly version: number | null;
  /** Which source of actions knows it, and by what. */
  readonly source: string;
  readonly ref: unknown;
}

/**
 * Code actions, each sort from a source of its own. A client that takes no actions but commands is offered none: an edit
 * would have to be made by the server behind its back.
 */
export function registerFixes(connection: Connection, session: Session): void {
  const { client, log, texts } = session;
  if (!client.takesActions) return;

  const editOf: EditOf = (file, edits) => {
    const document = texts.document(file);
    if (!document) return undefined;
    return { changes: { [texts.uri(file)]: toTextEdits(document, edits) } };
  };
  /** In the order in which they are listed. */
  const sources: Readonly<Record<string, ActionSource<unknown>>> = {
    cures: untyped(createCures(session, editOf)),
    fixAlls: untyped(createFixAlls(connection, session, editOf)),
    retimings: untyped(createRetimings(connection, session, editOf)),
    rewrites: untyped(createRewrites(connection, session, editOf)),
    conversions: untyped(createConversions(connection, session)),
  };
  const editFrom = (source: string, view: View, ref: unknown, tells: Tells): Promise<WorkspaceEdit | undefined> =>
    Object.hasOwn(sources, source) ? sources[source].edit(view, ref, tells) : Promise.resolve(undefined);

  /** The action as the client takes it: its edit made when it is asked for, or at once. */
  const finished = async (
    source: string,
    { view }: ActionPlace,
    { action, ref }: OfferedAction<unknown>,
  ): Promise<CodeAction[]> => {
    if (ref === undefined) return [action];
    if (client.resolvesActionEdits) {
      const version = texts.version(view.file) ?? null;
      const data: ActionData = { uri: texts.uri(view.file), version, source, ref };
      return [{ ...action, data }];
    }
    const edit = await editFrom(source, view, ref, "silent");
    return edit ? [{ ...action, edit }] : [];
  };

  const actionsAt = async (place: ActionPlace): Promise<CodeAction[]> => {
    // Searches of one source go on while another answers: together they wait no longer than the slowest.
    const listed = await Promise.all(
      Object.entries(sources).map(async ([name, source]) => {
        const offered = await source.actions(place);
        return (await Promise.all(offered.map((one) => finished(name, place, one)))).flat();
      }),
    );
    return listed.flat();
  };

  connection.onCodeAction((params, token) =>
    guarded("code actions", log, token, async () => {
      const file = fileOfUri(params.textDocument.uri);
      const view = await solvedViewOf(session, file);
      const document = texts.document(file);
      if (!view || !document) return null;
      const { only } = params.context;
      const wants = (kind: string): boolean =>
        !only || only.some((one) => one === "" || `${kind}.`.startsWith(`${one}.`));
      return actionsAt({ view, document, span: toSpan(document, params.range), wants, only });
    }),
  );

  connection.onCodeActionResolve((action, token) =>
    guarded("a code action", log, token, async () => {
      const data = action.data as ActionData | undefined;
      if (!data) return action;
      const file = fileOfUri(data.uri);
      const view = await solvedViewOf(session, file);
      if (!view || (texts.version(file) ?? null) !== data.version) return action;
      const edit = await editFrom(data.source, view, data.ref, "tells");
      return edit ? { ...action, edit } : action;
    }),
  );
}

/** A reference comes back from the client to the source that gave it. */
function untyped<Ref>(source: ActionSource<Ref>): ActionSource<unknown> {
  return { actions: source.actions, edit: (view, ref, tells) => source.edit(view, ref as Ref, tells) };
}
