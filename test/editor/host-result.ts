/** How one test inside the extension host ended. */
export interface HostResult {
  readonly title: string;
  /** Present when it failed: the error with its stack. */
  readonly failure?: string;
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
