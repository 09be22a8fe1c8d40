import type { FileId } from "../base/span.ts";
import type { TextRange } from "./checked-document.ts";
import type { CheckReport } from "./check-report.ts";
import { messageText } from "./sarif-text.ts";

/** Stands for the top of the repository, whose place on a machine is nobody's business. */
export const ROOT = "%SRCROOT%";

type Names = Pick<CheckReport, "nameOf">;

/** The address of a file: relative to the repository's top, absolute for one outside of it. */
export function artifactLocation(file: FileId, { nameOf }: Names): { uri: string; uriBaseId?: string } {
  const name = nameOf(file);
  const path = name.split("/").map(segment).join("/");
  if (/^[A-Za-z]:\//.test(name)) return { uri: `file:///${path}` };
  return name.startsWith("/") ? { uri: `file://${path}` } : { uri: path, uriBaseId: ROOT };
}

/** Half characters have no percent-encoding. */
const segment = (part: string): string => encodeURIComponent(part.replace(/\p{Cs}/gu, "\ufffd"));

/** A range of whole text: lines and columns from 1, `endColumn` behind the last character. */
export function region({ start, end }: TextRange): Record<string, number> {
  return {
    startLine: start.line + 1,
    startColumn: start.character + 1,
    endLine: end.line + 1,
    endColumn: end.character + 1,
  };
}

export function physicalLocation(file: FileId, range: TextRange, names: Names): Record<string, unknown> {
  return { artifactLocation: artifactLocation(file, names), region: region(range) };
}

/** A place that goes with a result, with its words. */
export function relatedLocation(
  place: { readonly file: FileId; readonly range: TextRange; readonly message: string },
  id: number,
  names: Names,
): Record<string, unknown> {
  return {
    id,
    physicalLocation: physicalLocation(place.file, place.range, names),
    message: { text: messageText(place.message) },
  };
}
