/** Asks the language server; rejects when it does not run or can't answer. */
export type Ask = <Result>(method: string, params: object) => Promise<Result>;
