import { TAKE_REQUEST, type TakeParams, type TakeResult } from "../protocol/requests.ts";
import {
  GHOST_DROPPED,
  GHOST_REQUEST,
  type GhostMessage,
  type GhostParams,
  type GhostResult,
  type GhostWith,
  type StageGhost,
} from "../protocol/stage-ghost.ts";
import { documentTitle } from "./document-title.ts";
import type { Ask, Tell } from "./server-link.ts";

/** What the move on the stage is compared with, as long as it is on the stage. */
export interface Ghosts {
  /** Compares the move with something; answers why not, as a sentence, or nothing when it is done. */
  compare(uri: string, ghost: GhostWith): Promise<string | undefined>;
  stop(): void;
  /** The stage shows this move now: a comparison of another one is over. */
  shows(uri: string | undefined): void;
  /** The page runs anew and knows of no ghost. */
  again(): void;
  /** A take may have changed. */
  takeChanged(uri: string): void;
  /** What is compared with now. */
  now(): GhostWith | undefined;
}

/** @param post Gives a message to the stage's page. */
export function createGhosts(ask: Ask, tell: Tell, post: (message: GhostMessage) => void): Ghosts {
  let comparing: { readonly uri: string; readonly ghost: GhostWith; readonly shown: StageGhost } | undefined;
  let asked = 0;
  /** The server keeps what it read of a revision. */
  let isKept = false;

  const ghostFor = (uri: string, ghost: GhostWith): Promise<StageGhost | string> => {
    isKept ||= ghost.kind === "revision";
    return ghost.kind === "move" ? ofMove(ask, ghost.uri) : ofRevision(ask, uri, ghost);
  };
  const release = (): void => {
    if (!isKept || comparing?.ghost.kind === "revision") return;
    isKept = false;
    tell(GHOST_DROPPED);
  };

  const compare = async (uri: string, ghost: GhostWith): Promise<string | undefined> => {
    const turn = (asked += 1);
    const shown = await ghostFor(uri, ghost);
    // Only the answer to the newest question is shown.
    if (turn !== asked) return undefined;
    if (typeof shown !== "string") {
      comparing = { uri, ghost, shown };
      post({ type: "ghost", ghost: shown });
    }
    release();
    return typeof shown === "string" ? shown : undefined;
  };

  const stop = (): void => {
    asked += 1;
    const was = comparing;
    comparing = undefined;
    release();
    if (was) post({ type: "ghost", ghost: null });
  };

  return {
    compare,
    stop,
    shows: (uri) => void (comparing && comparing.uri !== uri && stop()),
    again: () => comparing && post({ type: "ghost", ghost: comparing.shown }),
    takeChanged(uri) {
      if (comparing?.ghost.kind !== "move" || comparing.ghost.uri !== uri) return;
      // Where it can't be solved any more, the last good one stays.
      compare(comparing.uri, comparing.ghost).catch((error: unknown) =>
        console.warn(`Movewright's stage got no other move: ${String(error)}`),
      );
    },
    now: () => comparing?.ghost,
  };
}

async function ofMove(ask: Ask, uri: string): Promise<StageGhost | string> {
  const params: TakeParams = { uri };
  const answer = await ask<TakeResult>(TAKE_REQUEST, params);
  const label = documentTitle(uri);
  if (!("take" in answer)) return `${label}: ${answer.problem.message}`;
  const stale = "Its text cannot be solved as it stands: this is its last good result.";
  return { label, take: answer.take, notes: answer.take.stale ? [stale] : [] };
}

async function ofRevision(
  ask: Ask,
  uri: string,
  { revision, label, was = uri }: Extract<GhostWith, { kind: "revision" }>,
): Promise<StageGhost | string> {
  const params: GhostParams = { uri: was, revision, label };
  const answer = await ask<GhostResult>(GHOST_REQUEST, params);
  return "problem" in answer ? answer.problem : { label, ...answer };
}
