import { SemanticTokensRefreshRequest, type Connection, type SemanticTokensLegend } from "vscode-languageserver";
import type { FileId, Span } from "../../core/base/span.ts";
import { toSpan } from "../from-lsp.ts";
import { guarded } from "../guard.ts";
import { semanticTokens } from "../service/tokens/semantic-tokens.ts";
import { TOKEN_MODIFIERS, TOKEN_TYPES } from "../service/tokens/token-legend.ts";
import { valuesOutOfLimit } from "../service/tokens/token-marks.ts";
import type { View } from "../service/view.ts";
import type { Session } from "../session.ts";
import { debounced } from "../signal.ts";
import type { SubjectOf } from "../subject.ts";
import { tokenData, tokenEdits } from "./token-data.ts";
import { readyViewOf } from "../views.ts";

/** The whole legend, for every client: one that doesn't know a type of ours leaves it as the grammar shows it. */
export const TOKEN_LEGEND: SemanticTokensLegend = {
  tokenTypes: [...TOKEN_TYPES],
  tokenModifiers: [...TOKEN_MODIFIERS],
};

/** Documents solved one after the other cause one refresh [ms]. */
const REFRESH_MS = 120;

/** What a client was answered last of a document. */
interface Answered {
  readonly resultId: string;
  readonly data: readonly number[];
}

/** Semantic tokens, whole, as what changed, and of a range. They wait for no motion: when it comes, the client is told to ask again. */
export function registerTokens(connection: Connection, session: Session, subjectOf: SubjectOf): void {
  const { log, texts, analyses, client } = session;
  const answered = new Map<FileId, Answered>();
  /** The values out of a limit that the client was last told of, in words. */
  const told = new Map<FileId, string>();
  let count = 0;

  const keep = (file: FileId, data: readonly number[]): Answered => {
    for (const known of answered.keys()) if (!texts.isOpen(known)) answered.delete(known);
    for (const known of told.keys()) if (!texts.isOpen(known)) told.delete(known);
    count += 1;
    const now = { resultId: String(count), data };
    answered.set(file, now);
    return now;
  };
  const tell = (view: View): void => void told.set(view.file, placesOf(valuesOutOfLimit(view)));

  const { semanticTokens: requests } = connection.languages;
  requests.on(({ textDocument: { uri } }, token) =>
    guarded("semantic tokens", log, token, async () => {
      const subject = await subjectOf(uri, readyViewOf);
      if (!subject) return { data: [] };
      tell(subject.view);
      const { resultId, data } = keep(subject.view.file, tokenData(subject.document, semanticTokens(subject.view)));
      return { resultId, data: [...data] };
    }),
  );
  requests.onDelta(({ textDocument: { uri }, previousResultId }, token) =>
    guarded("semantic tokens that changed", log, token, async () => {
      const subject = await subjectOf(uri, readyViewOf);
      if (!subject) return { data: [] };
      tell(subject.view);
      const { file } = subject.view;
      const before = answered.get(file);
      const { resultId, data } = keep(file, tokenData(subject.document, semanticTokens(subject.view)));
      if (before?.resultId !== previousResultId) return { resultId, data: [...data] };
      return { resultId, edits: tokenEdits(before.data, data) };
    }),
  );
  requests.onRange(({ textDocument: { uri }, range }, token) =>
    guarded("semantic tokens of a range", log, token, async () => {
      const subject = await subjectOf(uri, readyViewOf);
      if (!subject) return { data: [] };
      const { view, document } = subject;
      tell(view);
      return { data: tokenData(document, semanticTokens(view, toSpan(document, range))) };
    }),
  );

  if (!client.refreshesTokens) return;
  const refresh = debounced(REFRESH_MS, () => {
    connection
      .sendRequest(SemanticTokensRefreshRequest.type)
      .catch((error: unknown) => log(`Refreshing failed: ${String(error)}`));
  });
  analyses.onWhole((file) => {
    const before = told.get(file);
    if (before === undefined || !texts.isOpen(file)) return;
    const look = async () => {
      const view = await readyViewOf(session, file);
      if (view && told.get(file) === before && placesOf(valuesOutOfLimit(view)) !== before) refresh();
    };
    look().catch((error: unknown) => log(`Looking for values out of limits failed: ${String(error)}`));
  });
}

const placesOf = (spans: readonly Span[]): string => spans.map(({ start, end }) => `${start}-${end}`).join(" ");
