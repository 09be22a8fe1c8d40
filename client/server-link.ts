/** Asks the language server; rejects when it does not run or can't answer. */
export type Ask = <Result>(method: string, params: object) => Promise<Result>;

/** Tells the language server something; where it does not run there is nothing to tell. */
export type Tell = (method: string) => void;
