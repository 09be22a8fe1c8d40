import type { FileId } from "../../core/base/span.ts";
import { analyse, createMemo } from "../../core/checks/analyse.ts";
import { findingsOf, type Analysis } from "../../core/checks/analysis.ts";
import type { Sources } from "../../core/model/sources.ts";
import type { Session } from "../session.ts";

/** Analyses texts of documents that do not exist yet, beside the ones that do. */
export interface Trials {
  /** `undefined` when it failed, which the log tells. */
  analyse(file: FileId, text: string): Promise<Analysis | undefined>;
  /** Number of error findings; Infinity when it could not be analysed. */
  errors(file: FileId, text: string): Promise<number>;
}

/** Rounds of "read what is missing, analyse again": far above any real depth of references. */
const READ_ROUNDS = 16;

/** @param begun Other documents that do not exist yet, by file; it may grow. */
export function createTrials(session: Session, begun: ReadonlyMap<FileId, { readonly text: string }>): Trials {
  const { texts, log } = session;
  // Kept over all trials of one request: they share their rig, camera and set.
  const memo = createMemo();

  const analysed = async (file: FileId, text: string): Promise<Analysis | undefined> => {
    const sources: Sources = {
      read(each) {
        const own = each === file ? text : begun.get(each)?.text;
        return own === undefined ? texts.read(each) : { state: "text", text: own };
      },
    };
    for (let round = 0; round < READ_ROUNDS; round += 1) {
      const outcome = await session.run(analyse(file, sources, memo), "asked", () => true);
      if (outcome.state === "failed") log(`A template could not be tried: ${String(outcome.error)}`);
      if (outcome.state !== "done") return undefined;
      if (outcome.value.unread.length === 0) return outcome.value;
      await texts.load(outcome.value.unread);
    }
    return undefined;
  };

  return {
    analyse: analysed,
    async errors(file, text) {
      const analysis = await analysed(file, text);
      if (!analysis) return Infinity;
      return findingsOf(analysis).filter(({ severity }) => severity === "error").length;
    },
  };
}
