import type { Review } from "../../core/review/review.ts";
import { GitFailure } from "../../host/git/git-failure.ts";
import { atWork, type WorkOptions } from "../checking/work.ts";
import { askedByGit } from "../diff/driver-change.ts";
import { askedOfDisk, askedOfGit, isWithin, type AskedChange } from "../diff/asked-change.ts";
import type { OpenChange } from "../diff/change-sides.ts";
import { openChange } from "../diff/open-change.ts";
import { renderReview, type ReviewFormat } from "../diff/render-review.ts";
import { runReview } from "../diff/run-review.ts";
import { wordingOf } from "../diff/review-wording.ts";
import { Failure, type Outcome } from "../failure.ts";
import type { Paint } from "../paint.ts";

export interface DiffOptions extends WorkOptions {
  readonly format: ReviewFormat;
  /** `BASE..HEAD`, `BASE...HEAD`, or `BASE` alone. */
  readonly git?: string;
  /** Git runs the program for one file. */
  readonly driver?: true;
  /** Exit code 1 when motion changed or findings are new. */
  readonly exitCode?: true;
  readonly paint: Paint;
}

/**
 * `movewright diff`: what a change does to moves. Exit code 0 when it is told, whatever it is, or if asked 1 when a motion is
 * another one or a finding is new.
 */
export async function diffCommand(paths: readonly string[], options: DiffOptions): Promise<Outcome> {
  try {
    return await toldChange(paths, options);
  } catch (error) {
    if (!(error instanceof GitFailure || error instanceof Failure)) throw error;
    // Where one file can't be told, git would tell nothing of all others.
    if (options.driver) return { output: `movewright: ${error.message}\n`, exit: 0 };
    throw new Failure(error.message);
  }
}

async function toldChange(paths: readonly string[], options: DiffOptions): Promise<Outcome> {
  const asked = askedFor(paths, options);
  const change = openChange(asked.setting);
  refuseUnknown(asked, change);
  const { review, notes } = await atWork(options, "documents compared", (work) =>
    runReview(asked.setting, change, asked.isAsked, work),
  );
  // On a terminal notes go where they are in nobody's way.
  const isText = options.format === "text";
  const wording = wordingOf(asked, change, isText ? [] : notes);
  const told = renderReview(review, wording, options);
  return {
    // Git calls the program file by file and says nothing of its own in between.
    output: options.driver && isText ? `${wording.before}: ${told}\n` : told,
    exit: options.exitCode && isOther(review) ? 1 : 0,
    notes: isText ? notes.map((note) => `movewright: ${note}`) : [],
  };
}

function askedFor(paths: readonly string[], { git, driver }: DiffOptions): AskedChange {
  if (driver) return askedByGit(paths);
  return git === undefined ? askedOfDisk(paths) : askedOfGit(git, paths);
}

/** A path that neither side has is a slip of the hand; nothing would be told of it. */
function refuseUnknown({ named, before, after }: AskedChange, change: OpenChange): void {
  const documents = [...change.before.documents, ...change.after.documents];
  const has = (file: string): boolean =>
    documents.some((one) => isWithin(one, file)) ||
    [change.before, change.after].some(({ sources }) => sources.read(file).state !== "missing");
  const unknown = named.find(({ file }) => !has(file));
  if (unknown) throw new Failure(`${unknown.path} holds no documents, neither in ${before} nor in ${after}`);
}

/** Whether a motion is another one, can't be compared any more, or has a finding that it had not. */
function isOther({ moves, documents }: Review): boolean {
  const hasNew = [...moves, ...documents].some(({ findings }) => findings.some(({ state }) => state === "new"));
  return hasNew || moves.some(({ motion }) => motion !== "same");
}
