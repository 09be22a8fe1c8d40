import type { Connection } from "vscode-languageserver";
import type { FileId } from "../../core/base/span.ts";
import {
  REVIEW_CHANGED,
  REVIEW_DROPPED,
  REVIEW_HOVER_REQUEST,
  REVIEW_REQUEST,
  type ReviewChangedParams,
  type ReviewDroppedParams,
  type ReviewHoverParams,
  type ReviewParams,
  type ReviewResult,
} from "../../protocol/review.ts";
import { readReviewParams } from "../../protocol/review-shape.ts";
import { guarded } from "../guard.ts";
import type { Session } from "../session.ts";
import { debounced } from "../signal.ts";
import { openBase } from "./base-workspace.ts";
import { createReviewHover } from "./review-hover.ts";
import { createReviewRun, type ReviewRun } from "./review-run.ts";

/** Marks that are learned together cause one refresh of the diagnostics [ms]. */
const MARKED_MS = 200;

export interface ReviewFlow {
  /** Some text, or what texts are read by, is another now. */
  textsChanged(): void;
}

interface Kept {
  readonly run: ReviewRun;
  /** Whether findings that are new are marked. */
  readonly marks: boolean;
}

/**
 * Requests about what changed since a base. One review is kept for each folder that is asked about.
 *
 * @param marked Marks of findings are others now.
 */
export function registerReview(connection: Connection, session: Session, marked: () => void): ReviewFlow {
  const { log } = session;
  const kept = new Map<string, Kept>();
  const refresh = debounced(MARKED_MS, marked);

  const tell = (of: string): void => {
    const params: ReviewChangedParams = { of };
    connection
      .sendNotification(REVIEW_CHANGED, params)
      .catch((error: unknown) => log(`Telling of a review failed: ${String(error)}`));
  };

  const drop = (of: string): void => {
    const was = kept.get(of);
    was?.run.stop();
    kept.delete(of);
    if (was?.marks) refresh();
  };

  const runFor = ({ base, marks }: ReviewParams): ReviewRun => {
    const known = kept.get(base.of);
    const { revision, label } = known?.run.workspace.base ?? {};
    const isSame = revision === base.revision && label === base.label;
    if (known && isSame && known.marks === marks) return known.run;
    const workspace = known && isSame ? known.run.workspace : openBase(connection, session, base);
    drop(base.of);
    const run = createReviewRun(session, workspace, marks, () => tell(base.of));
    kept.set(base.of, { run, marks });
    if (marks) run.marks.onLearned(refresh);
    return run;
  };

  session.marks = (file: FileId) => {
    if (!session.settings["review.markNew"]) return undefined;
    for (const { run, marks } of kept.values()) {
      const found = marks ? run.marks.of(file) : undefined;
      if (found) return found;
    }
    return undefined;
  };

  connection.onRequest(REVIEW_REQUEST, (raw: unknown, token) =>
    guarded("a review", log, token, async (): Promise<ReviewResult> => {
      const params = readReviewParams(raw);
      const run = runFor(params);
      const result = await run.ask(params.changed);
      // What could not be had may be had at the next try.
      if (result.problem !== undefined && kept.get(params.base.of)?.run === run) drop(params.base.of);
      return result;
    }),
  );
  connection.onNotification(REVIEW_DROPPED, ({ of }: ReviewDroppedParams) => drop(of));
  const hover = createReviewHover(connection, session, (revision) =>
    [...kept.values()].map(({ run }) => run).find(({ workspace }) => workspace.base.revision === revision),
  );
  connection.onRequest(REVIEW_HOVER_REQUEST, (params: ReviewHoverParams, token) =>
    guarded("values before and after", log, token, () => hover(params)),
  );

  return {
    textsChanged() {
      for (const { run } of kept.values()) run.textsChanged();
    },
  };
}
