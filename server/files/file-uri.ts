import { URI } from "vscode-uri";
import type { FileId } from "../../core/base/span.ts";

const WITH_SCHEME = /^([a-zA-Z][a-zA-Z0-9+.-]+):\/\/([^/]*)(\/.*)?$/;
const DRIVE = /^\/([a-zA-Z]):/;

/** The file that a uri of the editor names: a plain path for `file:`, else scheme and authority in front. Query and fragment go. */
export function fileOfUri(uri: string): FileId {
  const parsed = URI.parse(uri);
  if (parsed.scheme !== "file") return `${parsed.scheme}://${parsed.authority}${slashed(parsed.path)}`;
  if (parsed.authority) return `//${parsed.authority}${parsed.path}`;
  return parsed.path.replace(DRIVE, (_, letter: string) => `${letter.toLowerCase()}:`);
}

/** The uri of a file, percent-encoded as `vscode-uri` does it. */
export function uriOfFile(file: FileId): string {
  const match = WITH_SCHEME.exec(file);
  if (match) return URI.from({ scheme: match[1], authority: match[2], path: match[3] ?? "/" }).toString();
  if (file.startsWith("//")) {
    const [, , authority, ...rest] = file.split("/");
    return URI.from({ scheme: "file", authority, path: `/${rest.join("/")}` }).toString();
  }
  return URI.from({ scheme: "file", path: slashed(file) }).toString();
}

/** True for a file that only the editor can read: one with a scheme in front. */
export function isVirtual(file: FileId): boolean {
  return WITH_SCHEME.test(file);
}

/** Path relative to the folder of `from`, `../` where needed; the whole id when the two share no root. For labels. */
export function shownPath(file: FileId, folders: readonly FileId[]): string {
  const home = folders.find((folder) => file.startsWith(`${folder}/`));
  return home === undefined ? file : file.slice(home.length + 1);
}

function slashed(path: string): string {
  return path.startsWith("/") ? path : `/${path}`;
}
