/** What a thread is started with. */
export interface ThreadOrder {
  readonly kind: string;
  readonly setting: unknown;
}

/** What a thread is asked for: inputs by their positions, to be done in this order. */
export type Batch = readonly { readonly index: number; readonly input: unknown }[];

/**
 * What a thread says. It is ready once, or says that it could not open its job; each
 * input has one answer, or why the whole run can't go on.
 */
export type ThreadSays =
  | { readonly ready: true }
  | { readonly unopened: true }
  | { readonly refused: string }
  | { readonly index: number; readonly output: unknown };
