import type { FileId } from "../core/base/span.ts";
import { documentKind } from "../core/model/document-kind.ts";
import { parseTree } from "../core/syntax/parse.ts";
import { solvedOf, type Solved, type View } from "./service/view.ts";
import type { Session } from "./session.ts";

/** How long a feature waits for the motion before it takes the last good one [ms]. */
const PATIENCE_MS = 1500;

/** What a feature sees of a document at its newest version; `undefined` for one that is not ours or can't be read. */
export async function viewOf(session: Session, file: FileId): Promise<View | undefined> {
  const ours = documentKind(file);
  if (!ours) return undefined;
  const { analyses } = session;
  const known = await analyses.text(file);
  const text = known.texts.get(file);
  if (text?.state !== "text") return undefined;
  return {
    file,
    kind: ours.kind,
    text: text.text,
    tree: parseTree(text.text, ours.format),
    analysis: known.analysis,
    solved: undefined,
    sources: session.texts,
  };
}

/** The same with the motion: of this version where it can be solved, else the last good one, marked as stale. */
export async function solvedViewOf(session: Session, file: FileId): Promise<View | undefined> {
  const view = await viewOf(session, file);
  if (!view || view.kind !== "move") return view;
  return { ...view, solved: await solvedAt(session, file, PATIENCE_MS) };
}

/** The solved move at its newest version, or the last good one as stale. */
export async function solvedAt(session: Session, file: FileId, patienceMs: number): Promise<Solved | undefined> {
  const { analyses } = session;
  await Promise.race([analyses.whole(file, "shown"), new Promise<void>((resolve) => setTimeout(resolve, patienceMs))]);
  const current = analyses.current(file);
  const now = current?.whole ? solvedOf(current.analysis, false) : undefined;
  if (now) return now;
  const good = analyses.lastGood(file);
  return good && solvedOf(good.analysis, true);
}
