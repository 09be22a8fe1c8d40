import { findingsOf } from "../../../core/checks/analysis.ts";
import { DOCUMENT_CODES, MOTION_CODES, type FindingCode } from "../../../core/base/finding-code.ts";
import { CATALOGUE } from "../../../core/checks/catalogue.ts";
import { code, paragraphs, plain } from "../markdown.ts";
import type { View } from "../view.ts";
import type { User } from "./around.ts";

const CODES: readonly FindingCode[] = [...DOCUMENT_CODES, ...MOTION_CODES];
/** Most messages that are repeated. */
const MOST_MESSAGES = 3;

/** What a finding's code means, from the catalogue, and where it is found now; `undefined` for what is no code. */
export function codeHover(view: View, users: readonly User[], written: string): string | undefined {
  const known = CODES.find((each) => each === written.trim());
  if (!known) return undefined;
  const { title, doc, cure, severity } = CATALOGUE[known];
  return paragraphs([
    `${code(known)} (${severity}): ${plain(title)}`,
    doc,
    `Cure: ${cure}`,
    view.kind === "config" ? foundInMoves(users, known) : foundHere(view, known),
  ]);
}

function foundHere({ analysis }: View, known: FindingCode): string {
  const found = findingsOf(analysis).filter((finding) => finding.code === known);
  if (found.length === 0) return "It is not found here now.";
  const allowed = found.filter((finding) => finding.allowed !== undefined).length;
  const times = found.length === 1 ? "once" : `${found.length} times`;
  const lines = found.slice(0, MOST_MESSAGES).map(({ message }) => `- ${plain(message)}`);
  const more = found.length > MOST_MESSAGES ? [`- and ${found.length - MOST_MESSAGES} more`] : [];
  const how = allowed === 0 ? "" : allowed === found.length ? ", allowed" : `, ${allowed} of them allowed`;
  return [`Found here ${times} now${how}:\n`, ...lines, ...more].join("\n");
}

/** What was found in the motion of the moves that a config is for. One that turns a code off leaves none to be found. */
function foundInMoves(users: readonly User[], known: FindingCode): string | undefined {
  if (users.length === 0) return undefined;
  const count = users.flatMap(({ solved }) => solved.findings).filter((finding) => finding.code === known).length;
  const moves = users.length === 1 ? "1 move that was checked" : `${users.length} moves that were checked`;
  return `Found ${count === 1 ? "once" : `${count} times`} now in the motion of ${moves}.`;
}
