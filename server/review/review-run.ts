import type { FileId } from "../../core/base/span.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import type { ChangedFile, ReviewedMove, ReviewResult } from "../../protocol/review.ts";
import type { Session } from "../session.ts";
import { inTime } from "../patience.ts";
import { affectedFiles } from "./affected-files.ts";
import type { BaseWorkspace } from "./base-workspace.ts";
import { createMarks, type Marks } from "./marks.ts";
import { reviewRow } from "./review-row.ts";
import { resultOf } from "./review-result.ts";
import { rest } from "./rest.ts";

/** An answer waits so long for moves that are still looked at, so that a quick edit is told of once [ms]. */
const PATIENCE_MS = 250;
/** While moves are looked at, the client is told that there is more so often [ms]. */
const TELL_MS = 1000;

/** The review of one folder against one base, brought up to date move by move, behind all that is edited. */
export interface ReviewRun {
  readonly workspace: BaseWorkspace;
  readonly marks: Marks;
  ask(changed: readonly ChangedFile[]): Promise<ReviewResult>;
  /** What was found may be another now; it is looked for at the next question. */
  textsChanged(): void;
  stop(): void;
}

interface Row {
  /** Stands for all texts of the move now. */
  readonly key: string;
  /** Absent for a move that does what it did. */
  readonly move?: ReviewedMove;
}

/**
 * @param wantsMarks Whether documents other than moves are looked at too, for what is found in them.
 * @param tell That the answer would be another one now.
 */
export function createReviewRun(
  session: Session,
  workspace: BaseWorkspace,
  wantsMarks: boolean,
  tell: () => void,
): ReviewRun {
  const rows = new Map<FileId, Row>();
  const marks = createMarks(workspace.base.label);
  let turn = 0;
  let running: Promise<void> | undefined;
  /** What the disk has otherwise is known. */
  let settled: Promise<void> = Promise.resolve();
  /** Documents that were not looked at since something changed; 1 while nobody knows how many. */
  let left = 1;
  let asked = "";
  let news = false;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const note = (): void => {
    news = true;
    timer ??= setTimeout(() => {
      timer = undefined;
      if (news) tell();
    }, TELL_MS);
  };

  /** Looks at one document again if its texts, or those that it uses, are others than at the last look. */
  const look = async (file: FileId, wanted: () => boolean): Promise<void> => {
    const after = await session.analyses.whole(file, "background");
    const key = after.fingerprint;
    if (!wanted() || rows.get(file)?.key === key) return;
    const isMove = documentKind(file)?.kind === "move";
    if (!isMove && !wantsMarks) return void rows.set(file, { key });
    const was = workspace.was(file);
    const before = await workspace.analyses.whole(was, "background");
    marks.learn(file, workspace.analyses.side(before), before.fingerprint);
    if (isMove) {
      const move = await reviewRow(session, workspace, { file, before, after, wanted });
      if (move === "dropped") return;
      rows.set(file, { key, move });
      note();
    } else rows.set(file, { key });
    // Kept for all moves that a rig's change touches, they would fill the memory.
    if (!session.texts.isOpen(file)) workspace.analyses.forget(was);
  };

  const pass = async (mine: number): Promise<void> => {
    const wanted = (): boolean => mine === turn;
    left = 1;
    await settled;
    const files = await affectedFiles(session, workspace, wanted);
    if (!wanted()) return;
    const affected = new Set(files);
    for (const file of rows.keys()) {
      if (affected.has(file)) continue;
      rows.delete(file);
      note();
    }
    left = files.length;
    for (const file of files) {
      await look(file, wanted).catch((error: unknown) => session.log(`The review of ${file} failed: ${String(error)}`));
      if (!wanted()) return;
      left -= 1;
      await session.run(rest(), "background", wanted);
    }
    note();
  };

  return {
    workspace,
    marks,
    async ask(changed) {
      const question = JSON.stringify(changed);
      if (question !== asked) {
        asked = question;
        turn += 1;
        running = undefined;
        settled = workspace.setChanged(changed).then((isReread) => void (isReread && rows.clear()));
      }
      running ??= pass(turn).catch((error: unknown) => {
        left = 0;
        session.log(`A review failed: ${String(error)}`);
      });
      await inTime(running, PATIENCE_MS);
      news = false;
      return resultOf(
        [...rows.values()].flatMap(({ move }) => move ?? []),
        left,
        workspace,
      );
    },
    textsChanged() {
      turn += 1;
      running = undefined;
      tell();
    },
    stop() {
      turn += 1;
      clearTimeout(timer);
    },
  };
}
