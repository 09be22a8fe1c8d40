import type { FileId } from "../core/base/span.ts";
import { documentKind } from "../core/model/document-kind.ts";
import { inTime } from "./patience.ts";
import { textShift } from "./service/text-shift.ts";
import { solvedOf, type Solved, type View } from "./service/view.ts";
import type { Known } from "./analyses.ts";
import type { Session } from "./session.ts";

/** How long a feature waits for the motion before it takes the last good one [ms]. */
const PATIENCE_MS = 1500;

/** What a feature sees of a document at its newest version; `undefined` for one that is not ours or can't be read. */
export async function viewOf(session: Session, file: FileId): Promise<View | undefined> {
  return documentKind(file) && viewFrom(session, file, await session.analyses.text(file), undefined);
}

/** The same with the motion: of this version where it can be solved, else the last good one, marked as stale. */
export async function solvedViewOf(session: Session, file: FileId): Promise<View | undefined> {
  if (documentKind(file)?.kind !== "move") return viewOf(session, file);
  const solved = await solvedAt(session, file, PATIENCE_MS);
  return viewFrom(session, file, session.analyses.current(file) ?? (await session.analyses.text(file)), solved);
}

/** The same without any wait for the motion: what is solved now, else the last good one. For what a person waits for while typing. */
export async function readyViewOf(session: Session, file: FileId): Promise<View | undefined> {
  if (!documentKind(file)) return undefined;
  const known = await session.analyses.text(file);
  return viewFrom(session, file, known, solvedNow(session, file));
}

/**
 * The same, but for a move of which nothing is solved yet, as when it was just opened: then the motion is waited for. For what an
 * editor asks once for each version of a text and is never told to ask for again.
 */
export async function firstSolvedViewOf(session: Session, file: FileId): Promise<View | undefined> {
  const ready = await readyViewOf(session, file);
  return ready?.kind === "move" && !ready.solved ? solvedViewOf(session, file) : ready;
}

function viewFrom(session: Session, file: FileId, known: Known, solved: Solved | undefined): View | undefined {
  const ours = documentKind(file);
  const source = known.texts.get(file);
  if (!ours || source?.state !== "text") return undefined;
  const { text } = source;
  const parse = (other: string) => session.analyses.tree(file, other);
  const { analysis } = known;
  const { texts: sources, names } = session;
  return { file, kind: ours.kind, text, tree: parse(text), parse, analysis, solved, sources, names };
}

/** The solved move at its newest version, or the last good one as stale. */
export async function solvedAt(session: Session, file: FileId, patienceMs: number): Promise<Solved | undefined> {
  const { analyses } = session;
  await inTime(analyses.whole(file, "shown"), patienceMs);
  return solvedNow(session, file);
}

/** What is solved of a move without any work: at its newest version, or the last good one as stale. */
function solvedNow({ analyses, texts }: Session, file: FileId): Solved | undefined {
  const current = analyses.current(file);
  const now = current?.whole ? solvedOf(current.analysis) : undefined;
  if (now) return now;
  const good = analyses.lastGood(file);
  const [older, newer] = [good?.texts.get(file), texts.read(file)];
  if (older?.state !== "text" || newer.state !== "text") return undefined;
  return good && solvedOf(good.analysis, textShift(older.text, newer.text));
}
