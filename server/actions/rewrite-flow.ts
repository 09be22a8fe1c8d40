import { CodeActionKind, type CodeAction, type Command, type Connection } from "vscode-languageserver";
import { capital } from "../../core/base/capital.ts";
import type { Span } from "../../core/base/span.ts";
import { SHIFT_KEYS_COMMAND } from "../../protocol/requests.ts";
import type { ActionSource, EditOf, OfferedAction } from "./action-source.ts";
import { inTime } from "../patience.ts";
import type { Proven, Rewrite } from "../service/rewrites/rewrite.ts";
import { provenEdits, rewritesAt } from "../service/rewrites/rewrites.ts";
import type { View } from "../service/view.ts";
import type { Session } from "../session.ts";
import { tell } from "../tell.ts";

/** What finds a rewrite again when its edit is asked for. */
export interface RewriteRef {
  readonly id: string;
  readonly span: Span;
}

/** How long the offer of what is proven beforehand waits for it; what comes later is there for the next one [ms]. */
const PATIENCE_MS = 400;

/** Other ways to write what stands at the cursor: keys of a move, and quantities of any document. */
export function createRewrites(connection: Connection, session: Session, editOf: EditOf): ActionSource<RewriteRef> {
  // Editors ask at every move of the cursor: what was proven for a text stays so.
  const known = new WeakMap<object, Map<string, Promise<Proven>>>();
  const proven = (view: View, rewrite: Rewrite): Promise<Proven> => {
    const made = known.get(view.analysis) ?? new Map<string, Promise<Proven>>();
    known.set(view.analysis, made);
    const name = JSON.stringify([rewrite.ways, rewrite.proofs]);
    const proving = made.get(name) ?? provenEdits(view, rewrite, (text) => session.analyses.trial(view.file, text));
    made.set(name, proving);
    return proving;
  };
  /** What is known of a rewrite when it is offered; an editor that does not ask again is told all there is to say at once. */
  const beforehand = (view: View, rewrite: Rewrite): Promise<Proven | undefined> => {
    if (rewrite.disabled !== undefined) return Promise.resolve(undefined);
    if (!session.client.resolvesActionEdits) return proven(view, rewrite);
    if (!rewrite.beforehand) return Promise.resolve(undefined);
    return inTime(proven(view, rewrite), PATIENCE_MS);
  };
  return {
    async actions({ view, span, wants }) {
      const all = wants(CodeActionKind.RefactorRewrite) ? rewritesAt(view, span) : [];
      // Where an amount can be asked for, one action does for all amounts.
      const asks = session.client.commands.has(SHIFT_KEYS_COMMAND);
      const offered = await Promise.all(
        all.map(async (rewrite): Promise<OfferedAction<RewriteRef>> => {
          if (asks && rewrite.asks) return { action: shiftAction(session, view, span) };
          const action = actionOf(rewrite, await beforehand(view, rewrite));
          return action.disabled ? { action } : { action, ref: { id: rewrite.id, span } };
        }),
      );
      const shown = offered.filter(({ action }) => !action.disabled || session.client.showsDisabledActions);
      return shown.filter(({ action }, i) => shown.findIndex((other) => other.action.title === action.title) === i);
    },
    async edit(view, { id, span }, tells) {
      const rewrite = rewritesAt(view, span).find((one) => one.id === id);
      if (!rewrite || rewrite.disabled !== undefined) return undefined;
      const made = await proven(view, rewrite);
      const note = "refusal" in made ? `was not done: ${made.refusal}` : made.note && `was done: ${made.note}`;
      if (tells === "tells" && note !== undefined) {
        tell(connection, session, `"${rewrite.title}" ${note}.`);
      }
      return "edits" in made ? editOf(view.file, made.edits) : undefined;
    },
  };
}

/** The action that lets the client ask by how much keys are shifted. */
function shiftAction({ texts }: Session, { file }: View, { start }: Span): CodeAction {
  const title = "Shift this key and all later ones…";
  const position = texts.document(file)?.positionAt(start);
  const command: Command = { title, command: SHIFT_KEYS_COMMAND, arguments: [texts.uri(file), position] };
  return { title, kind: CodeActionKind.RefactorRewrite, command };
}

function actionOf({ title, disabled }: Rewrite, known: Proven | undefined): CodeAction {
  const kind = CodeActionKind.RefactorRewrite;
  const reason = disabled ?? (known && "refusal" in known ? capital(`${known.refusal}.`) : undefined);
  if (reason !== undefined) return { title, kind, disabled: { reason } };
  const note = known && "note" in known ? known.note : undefined;
  return { title: note === undefined ? title : `${title} (${note})`, kind };
}
