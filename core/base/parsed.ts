import type { DocumentCode } from "./finding-code.ts";

/** Why a written value is not taken. `cure` is text that can stand in its place, where one is known. */
export interface Refusal {
  readonly ok: false;
  readonly code: Extract<DocumentCode, "wrong-type" | "wrong-unit" | "bad-number">;
  /** Starts with the value as written, so that a field's name can be put before it. */
  readonly message: string;
  readonly cure?: string;
}

/** What became of a written value. */
export type Parsed<T> = { readonly ok: true; readonly value: T } | Refusal;

export const accept = <T>(value: T): Parsed<T> => ({ ok: true, value });

export function refuse(code: Refusal["code"], message: string, cure?: string): Refusal {
  return cure === undefined ? { ok: false, code, message } : { ok: false, code, message, cure };
}
