/** How one test inside the extension host ended. */
export interface HostResult {
  readonly title: string;
  /** Present when it failed: the error with its stack. */
  readonly failure?: string;
}

/** The results of a run, or that it gave none: mocha would hide what a file of tests throws while it is loaded. */
export async function resultsOf(run: Promise<readonly HostResult[]>): Promise<readonly HostResult[]> {
  try {
    return await run;
  } catch (error) {
    return [{ title: "tests ended with results", failure: error instanceof Error ? error.message : String(error) }];
  }
}

/** Reports what ran inside an extension host, each test under its own name. */
export function describeResults(where: string, results: readonly HostResult[]): void {
  describe(where, () => {
    it("tests ran", () => {
      if (results.length === 0) throw new Error("The extension host ran no test.");
    });

    for (const { title, failure } of results) {
      it(title, () => {
        if (failure !== undefined) throw new Error(failure);
      });
    }
  });
}
