import type { Severity } from "../base/finding-code.ts";
import type { FileId } from "../base/span.ts";
import type { CheckedDocument, CheckedFinding, TextRange } from "./checked-document.ts";

/** Why a finding doesn't count: the base has it too, or the baseline lists it. */
export type KnownBy = "base" | "baseline";

/** A finding in an answer of `check`. */
export interface ReportedFinding extends CheckedFinding {
  /** Absent for one that counts. */
  readonly known?: KnownBy;
}

export interface ReportedDocument extends CheckedDocument {
  readonly findings: readonly ReportedFinding[];
}

/** A changed place of one document that gives findings to others which did not change: its own line has to say so. */
export interface BreakingChange {
  readonly file: FileId;
  readonly range: TextRange;
  readonly severity: "error" | "warning";
  /** The field with both of its values, where that is known: ``joints.lift.limits.speed: `0.4 m/s`, was `0.5 m/s` ``. */
  readonly change?: string;
  /** Documents that it breaks, in the order of their names, each once. */
  readonly breaks: readonly FileId[];
  /** What is found in them. */
  readonly findings: readonly ReportedFinding[];
}

/** All that a run of `check` tells, whatever the format. */
export interface CheckReport {
  readonly documents: readonly ReportedDocument[];
  readonly breaking: readonly BreakingChange[];
  /** The revision that findings are compared with, as it was given. */
  readonly since?: string;
  /** The file of known findings, as it was given. */
  readonly baseline?: string;
  /** What people and hosts call a file: its path from the top of the repository, `/` between its parts. */
  readonly nameOf: (file: FileId) => string;
  readonly version: string;
}

/** The code under which a breaking change is told; no document's own finding has it. */
export const BREAKS = "breaks-moves";

/** Whether a finding counts: nobody allowed it, and it is not known. */
export const counts = ({ allowed, known }: ReportedFinding): boolean => allowed === undefined && known === undefined;

/** What a finding is known by from one run to the next: lines and values move, this stays. */
export const identity = ({ code, element }: CheckedFinding): string => `${code} ${element}`;

const RANKS: readonly Severity[] = ["error", "warning", "information", "hint"];

/** 0 for an error, more for less. */
export const rankOf = (severity: Severity): number => RANKS.indexOf(severity);

/** The worse first; what counts before what does not; else as they stand. */
export function worstFirst<T extends { readonly finding: ReportedFinding }>(all: readonly T[]): T[] {
  const rank = ({ finding }: T): number => rankOf(finding.severity) + (counts(finding) ? 0 : RANKS.length);
  return [...all].sort((a, b) => rank(a) - rank(b));
}

/** Names of a sentence at most. */
const MOST_NAMES = 8;

/** `This change breaks 3 moves: ...`, with what changed in front where that is known. */
export function breakingMessage({ breaks, change }: BreakingChange, { nameOf }: Pick<CheckReport, "nameOf">): string {
  const names = breaks.map(nameOf);
  const noun = names.every((name) => /\.move\.[a-z]+$/i.test(name)) ? "move" : "document";
  const counted = `${names.length} ${noun}${names.length === 1 ? "" : "s"}`;
  const more = names.length > MOST_NAMES ? ` and ${names.length - MOST_NAMES} more` : "";
  const told = `his change breaks ${counted}: ${names.slice(0, MOST_NAMES).join(", ")}${more}.`;
  return change === undefined ? `T${told}` : `${change}: t${told}`;
}
