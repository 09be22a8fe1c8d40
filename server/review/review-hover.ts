import type { Connection } from "vscode-languageserver";
import { documentKind } from "../../core/model/document-kind.ts";
import { matchKeys, type KeyPair } from "../../core/review/keys/match-keys.ts";
import { readKeys } from "../../core/review/keys/read-keys.ts";
import { sameNames } from "../../core/review/match-names.ts";
import type { ReviewSide as ComparedSide } from "../../core/review/review-side.ts";
import type { ReviewHoverParams, ReviewHoverResult, ReviewSide } from "../../protocol/review.ts";
import type { Analyses, Known } from "../analyses.ts";
import { fileOfUri } from "../files/file-uri.ts";
import type { Texts } from "../files/texts.ts";
import { toOffset } from "../from-lsp.ts";
import { inTime } from "../patience.ts";
import { openRevision, type RevisionWorkspace } from "../revision-workspace.ts";
import { keyAtOffset, placeOfKey } from "../service/key-place.ts";
import { plain } from "../service/markdown.ts";
import { keyChange } from "../service/review/key-change.ts";
import { solvedOf, type Solved } from "../service/view.ts";
import type { Session } from "../session.ts";
import type { ReviewRun } from "./review-run.ts";

/** How long a hover waits for two moves to be solved; the work goes on, and the next hover has it [ms]. */
const PATIENCE_MS = 4000;
/** Revisions beside the bases of reviews that are kept: those of a comparison or two. */
const KEPT = 2;

type Place = { readonly analyses: Analyses; readonly texts: Texts };

/** Answers hovers in comparisons. @param runOf The review whose base is this revision. */
export function createReviewHover(
  connection: Connection,
  session: Session,
  runOf: (revision: string) => ReviewRun | undefined,
): (params: ReviewHoverParams) => Promise<ReviewHoverResult> {
  let kept: readonly RevisionWorkspace[] = [];

  const placeOf = ({ uri, revision }: ReviewSide): Place => {
    if (revision === undefined) return session;
    const found = runOf(revision)?.workspace ?? kept.find((each) => each.revision === revision && !each.refusal());
    if (found) return found;
    const opened = openRevision(connection, session, { of: uri, revision });
    kept = [opened, ...kept.filter((each) => !each.refusal())].slice(0, KEPT);
    return opened;
  };

  return async (params) => {
    const sides = { before: fileOfUri(params.before.uri), after: fileOfUri(params.after.uri) };
    if (documentKind(sides.before)?.kind !== "move" || documentKind(sides.after)?.kind !== "move") return null;
    const places = { before: placeOf(params.before), after: placeOf(params.after) };
    const both = Promise.all([
      places.before.analyses.whole(sides.before, "shown"),
      places.after.analyses.whole(sides.after, "shown"),
    ]);
    const known = await inTime(both, PATIENCE_MS);
    const document = places[params.side].texts.document(sides[params.side]);
    if (!known || !document) return null;
    return answer(params, places, known, toOffset(document, params.position));
  };
}

function answer(
  { side, labels, quiet }: ReviewHoverParams,
  places: { readonly before: Place; readonly after: Place },
  [before, after]: readonly [Known, Known],
  offset: number,
): ReviewHoverResult {
  const solved = { before: solvedOf(before.analysis), after: solvedOf(after.analysis) };
  if (!solved.before || !solved.after) return null;
  const sides = { before: places.before.analyses.side(before), after: places.after.analyses.side(after) };
  const here = solved[side] ?? solved.after;
  const key = keyAtOffset(here, sides[side].analysis.file, offset);
  if (key === undefined) return null;
  const { label } = here.move.keys[key];
  const names = sameNames(solved.before.move, solved.after.move, new Map());
  const pair = pairOf(sides, names, side, placeOfKey(here, key)?.span.start);
  const [was, is] = [keyFrom(solved.before, pair?.before?.span.start), keyFrom(solved.after, pair?.after?.span.start)];
  if (was === undefined || is === undefined) {
    const state = labels[side === "before" ? 0 : 1];
    return quiet ? null : { markdown: `**${plain(label)}** is a key of ${plain(state)} alone.` };
  }
  const markdown = keyChange(
    { solved: solved.before, key: was, called: (kind, name) => names.name(kind, name) },
    { solved: solved.after, key: is },
    labels,
  );
  if (markdown !== undefined) return { markdown };
  return quiet ? null : { markdown: `**${plain(label)}**: all that is solved reads the same in both texts.` };
}

type Sides = { readonly before: ComparedSide; readonly after: ComparedSide };

/** The key of one side whose text begins at `start`, with the same key of the other side. */
function pairOf(
  { before, after }: Sides,
  names: ReturnType<typeof sameNames>,
  side: ReviewHoverParams["side"],
  start: number | undefined,
): KeyPair | undefined {
  const was = readKeys(before, (kind, name) => names.name(kind, name));
  const is = readKeys(after, (_, name) => name);
  return matchKeys(was, is, names).find((pair) => pair[side]?.span.start === start);
}

/** Position of the resolved key whose text begins at `start`. */
function keyFrom(solved: Solved, start: number | undefined): number | undefined {
  if (start === undefined) return undefined;
  const found = solved.move.keys.findIndex((_, key) => placeOfKey(solved, key)?.span.start === start);
  return found < 0 ? undefined : found;
}
