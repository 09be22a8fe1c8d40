import type { FileId } from "./span.ts";

const ROOT = /^([A-Za-z][A-Za-z0-9+.-]*:\/\/[^/]*)?(\/?)/;

/**
 * The file that `reference`, written in `from`, names. Relative references are relative to `from`'s folder; one with a
 * `/` in front starts at the root of the same disk or authority. `..` above the root stays at the root. No escapes are
 * read: ids are percent-decoded already.
 */
export function resolveReference(from: FileId, reference: string): FileId {
  if (/^[A-Za-z][A-Za-z0-9+.-]*:\/\//.test(reference)) return normalise(reference);
  const [, authority = "", slash] = ROOT.exec(from) ?? ["", "", ""];
  if (reference.startsWith("/")) return normalise(authority + reference);
  const drive = /^[A-Za-z]:\//.test(reference);
  if (drive) return normalise(reference);
  const inside = from.slice(authority.length + slash.length);
  const folder = inside.slice(0, inside.lastIndexOf("/") + 1);
  return normalise(authority + slash + folder + reference);
}

function normalise(file: FileId): FileId {
  const [, authority = "", slash] = ROOT.exec(file) ?? ["", "", ""];
  const rooted = authority !== "" || slash !== "";
  const parts: string[] = [];
  for (const part of file.slice(authority.length + slash.length).split("/")) {
    if (part === "" || part === ".") continue;
    if (part !== "..") parts.push(part);
    else if (parts.length > 0 && parts[parts.length - 1] !== "..") parts.pop();
    else if (!rooted) parts.push("..");
  }
  return authority + (rooted ? "/" : "") + parts.join("/");
}

/** The reference by which a document `from` names `to`: relative where both stand on the same root. */
export function relativeReference(from: FileId, to: FileId): string {
  const [, rootFrom] = /^((?:[A-Za-z][A-Za-z0-9+.-]*:\/\/[^/]*)?\/?)/.exec(from) ?? ["", ""];
  const [, rootTo] = /^((?:[A-Za-z][A-Za-z0-9+.-]*:\/\/[^/]*)?\/?)/.exec(to) ?? ["", ""];
  if (rootFrom !== rootTo) return to;
  const folders = from.slice(rootFrom.length).split("/").slice(0, -1);
  const parts = to.slice(rootTo.length).split("/");
  let same = 0;
  while (same < folders.length && same < parts.length - 1 && folders[same] === parts[same]) same++;
  return [...folders.slice(same).map(() => ".."), ...parts.slice(same)].join("/");
}

/** The last part of a file's name. */
export function baseName(file: FileId): string {
  return file.slice(file.lastIndexOf("/") + 1);
}
