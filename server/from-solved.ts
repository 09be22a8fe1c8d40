import type { Task } from "../core/base/task.ts";
import { findingsOf } from "../core/checks/analysis.ts";
import type { PlacedFinding } from "../core/checks/finding.ts";
import { fileOfUri } from "./files/file-uri.ts";
import type { Urgency } from "./scheduler.ts";
import type { Solved } from "./service/view.ts";
import type { Session } from "./session.ts";
import { solvedAt } from "./views.ts";

/** What is made of a solved move for somebody who asked. */
export interface FromSolved<T> {
  readonly urgency: Urgency;
  /** False when the answer is not wanted any more; absent: it always is. */
  readonly wanted?: () => boolean;
  /** Made in slices of a version of the text. */
  make(version: number, solved: Solved, findings: readonly PlacedFinding[]): Task<T>;
  /** In its place, for a move that can't be solved or an answer that is not wanted any more. */
  refuse(why: "unsolved" | "unwanted", version: number, findings: readonly PlacedFinding[]): T;
}

/** Makes it of the newest version, and begins anew when the text changes meanwhile. */
export async function fromSolved<T>(
  session: Session,
  uri: string,
  { urgency, wanted = () => true, make, refuse }: FromSolved<T>,
): Promise<T> {
  const file = fileOfUri(uri);
  for (;;) {
    const whole = await session.analyses.whole(file, "shown");
    const version = session.texts.version(file) ?? 0;
    const findings = findingsOf(whole.analysis);
    const solved = await solvedAt(session, file, 0);
    if (!solved) return refuse("unsolved", version, findings);
    const isWanted = (): boolean => wanted() && session.analyses.current(file) === whole;
    const outcome = await session.run(make(version, solved, findings), urgency, isWanted);
    if (outcome.state === "done") return outcome.value;
    if (outcome.state === "failed") throw outcome.error;
    if (!wanted()) return refuse("unwanted", version, findings);
  }
}
