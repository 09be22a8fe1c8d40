import type { Severity } from "../../base/finding-code.ts";

/** What the program says about a code wherever it explains it: the page of findings, hovers, reports. */
export interface CatalogueRow {
  readonly title: string;
  /** One or two sentences: when it holds. */
  readonly doc: string;
  /** What the writer of the document can do. */
  readonly cure: string;
  readonly severity: Severity;
}
