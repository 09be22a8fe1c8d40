import { relativeReference, resolveReference } from "../../../core/base/path.ts";
import type { FileId, Span } from "../../../core/base/span.ts";
import { meshPlaces } from "../../../core/model/urdf-meshes.ts";
import { readUrdf } from "../../../core/urdf/read-urdf.ts";
import type { TextEdits } from "../../../core/edit/apply-edits.ts";
import type { NamedDocument } from "./written-names.ts";

/** Where files go; a file that stays is not in it. */
export type Moved = (file: FileId) => FileId | undefined;

/** Files from their old places to new ones; an old place may be a folder. */
export function movedBy(pairs: readonly { readonly from: FileId; readonly to: FileId }[]): Moved {
  // Of a folder and a file in it that both move, the file's own place counts.
  const longest = [...pairs].sort((one, other) => other.from.length - one.from.length);
  return (file) => {
    const pair = longest.find(({ from }) => file === from || file.startsWith(`${from}/`));
    return pair && pair.to + file.slice(pair.from.length);
  };
}

/**
 * What a document has to say of the files that it names once files are moved, itself perhaps among them. A reference that
 * still leads to its file stays as it is; one that was written from the root stays so.
 */
export function movedReferences({ file, references }: NamedDocument, text: string, moved: Moved): TextEdits {
  const home = moved(file) ?? file;
  return references.flatMap((reference) => {
    const { span, whole } = reference;
    const target = moved(reference.file) ?? reference.file;
    const raw = text.slice(span.start, span.end);
    const isBlock = /^[|>]/.test(raw);
    // What an escape stands for isn't in the raw text: such a reference is only looked at by its file.
    const isPlain = !isBlock && resolveReference(file, raw.trim()) === reference.file;
    if (isPlain ? resolveReference(home, raw.trim()) === target : home === file && target === reference.file) return [];
    const path = isPlain && isRooted(raw) ? rooted(raw, target) : relativeReference(home, target);
    return [scalarEdit(text, span, whole, path)];
  });
}

/** The same for the meshes that a URDF file names. `isThere` is of files as they are now. */
export function movedMeshes(file: FileId, text: string, moved: Moved, isThere: (file: FileId) => boolean): TextEdits {
  const home = moved(file) ?? file;
  const targets = meshesIn(text).map(({ written, span }) => ({
    written,
    span,
    old: meshPlaces(file, written).find(isThere),
  }));
  const arrived = new Set(targets.flatMap(({ old }) => (old === undefined ? [] : (moved(old) ?? old))));
  const willBeThere = (each: FileId) => arrived.has(each) || (isThere(each) && moved(each) === undefined);
  const leadsTo = (written: string, target: FileId) => meshPlaces(home, written).find(willBeThere) === target;
  return targets.flatMap(({ written, span, old }) => {
    if (old === undefined) return [];
    const target = moved(old) ?? old;
    if (leadsTo(written, target)) return [];
    const inPackage = packagePath(written, old, target);
    const path = inPackage !== undefined && leadsTo(inPackage, target) ? inPackage : relativeReference(home, target);
    return [{ span, text: escapedXml(path) }];
  });
}

/** Every place that a URDF file may have a mesh at, to be looked for. */
export function meshFilesOf(file: FileId, text: string): readonly FileId[] {
  return meshesIn(text).flatMap(({ written }) => meshPlaces(file, written));
}

function meshesIn(text: string): { readonly written: string; readonly span: Span }[] {
  return readUrdf(text)
    .urdf.links.flatMap(({ collisions, visuals }) => [...collisions, ...visuals])
    .flatMap(({ solid }) => (solid.shape === "mesh" ? [{ written: solid.file.value, span: solid.file.span }] : []));
}

/** `package://name/rest` for a file that stays in its package. */
function packagePath(written: string, old: FileId, target: FileId): string | undefined {
  const [, name, rest] = /^package:\/\/([^/]+)\/(.+)$/.exec(written) ?? [];
  if (rest === undefined || !old.endsWith(`/${rest}`)) return undefined;
  const folder = old.slice(0, -rest.length);
  return target.startsWith(folder) ? `package://${name}/${target.slice(folder.length)}` : undefined;
}

const isRooted = (raw: string): boolean => /^(\/|[A-Za-z]:\/|[A-Za-z][A-Za-z0-9+.-]*:\/\/)/.test(raw.trim());

/** As it is read again from anywhere: with the authority only where it was written. */
function rooted(raw: string, target: FileId): string {
  return raw.trim().startsWith("/") ? target.replace(/^[A-Za-z][A-Za-z0-9+.-]*:\/\/[^/]*/, "") : target;
}

/** Characters of paths that mean nothing else where a plain word may stand. */
const PLAIN = /^[\p{L}\p{N}_./][\p{L}\p{N}_./+~()@=-]*(?: [\p{L}\p{N}_./+~()@=-]+)*$/u;

/** Puts `path` into the place of `span` within the scalar `whole`, in the quotes that are there, else in some if it needs them. */
function scalarEdit(text: string, span: Span, whole: Span, path: string): { span: Span; text: string } {
  const inQuotes = whole.start < span.start ? text[whole.start] : undefined;
  if (inQuotes === '"') return { span, text: JSON.stringify(path).slice(1, -1) };
  if (inQuotes === "'") return { span, text: path.replaceAll("'", "''") };
  const raw = text.slice(whole.start, whole.end);
  if (/^[|>]/.test(raw)) return { span: whole, text: JSON.stringify(path) + (/(\r?\n)?$/.exec(raw)?.[0] ?? "") };
  if (PLAIN.test(path)) return { span, text: path };
  return { span: whole, text: JSON.stringify(path + text.slice(span.end, whole.end)) };
}

function escapedXml(path: string): string {
  return path.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;").replaceAll("'", "&apos;");
}
