import { DOCUMENT_CODES, MOTION_CODES, type FindingCode } from "../../../core/base/finding-code.ts";
import { CATALOGUE } from "../../../core/checks/catalogue.ts";
import { code, paragraphs } from "../markdown.ts";

const CODES: readonly FindingCode[] = [...DOCUMENT_CODES, ...MOTION_CODES];

/** What a finding's code means, from the catalogue; `undefined` for what is no code. */
export function codeHover(written: string): string | undefined {
  const known = CODES.find((each) => each === written.trim());
  if (!known) return undefined;
  const { doc, severity } = CATALOGUE[known];
  return paragraphs([`${code(known)} (${severity})`, doc]);
}
