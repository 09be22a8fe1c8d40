import { isMainThread } from "node:worker_threads";
import type { Job } from "../../host/pool/job.ts";
import { serveJobs } from "../../host/pool/serve-jobs.ts";

/** What happens to one input of the odd job. */
export type OddInput =
  | { readonly number: number }
  | { readonly throws: string }
  | { readonly exits: number }
  | { readonly fills: true }
  | { readonly sends: "function" }
  | { readonly waits: number };

export interface OddOutput {
  readonly said: string;
  /** How many inputs the thread had before this one. */
  readonly before?: number;
}

/** A job on which anything can go wrong, as the setting and the inputs say. */
export const oddJob: Job<{ readonly opens?: boolean }, OddInput, OddOutput> = {
  open({ opens = true }) {
    if (!opens) throw new Error("cannot be opened");
    let before = -1;
    const work = async (input: OddInput): Promise<OddOutput> => {
      before++;
      if ("throws" in input) throw new Error(input.throws);
      if ("exits" in input) {
        // In a test's own thread it must not end the test.
        if (isMainThread) throw new Error("asked to exit in the main thread");
        process.exit(input.exits);
      }
      if ("fills" in input) {
        if (isMainThread) throw new Error("asked to fill the memory of the main thread");
        const all: unknown[] = [];
        for (;;) all.push(new Array(1e5).fill(all.length));
      }
      if ("sends" in input) return { said: (() => "no data") as unknown as string };
      if ("waits" in input) await new Promise((resolve) => setTimeout(resolve, input.waits));
      return { said: "number" in input ? String(input.number ** 2) : "waited", before };
    };
    return { work };
  },
  failed(_input, error) {
    const why = error instanceof Error ? error.message : String(error);
    if (why === "no more") throw error;
    return { said: `failed: ${why}` };
  },
};

export const ODD_JOBS = { odd: oddJob };

if (!isMainThread) serveJobs(ODD_JOBS);
