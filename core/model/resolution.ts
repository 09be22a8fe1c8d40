import type { OriginId } from "../base/origin-id.ts";
import { baseName, resolveReference } from "../base/path.ts";
import type { Problem } from "../base/problem.ts";
import type { FileId, Span } from "../base/span.ts";
import type { Stated } from "./declared.ts";
import { documentKind, type DocumentKind } from "./document-kind.ts";
import { readDocument, type Document } from "./load-document.ts";
import { createOrigins, keyOrigin, type Origins } from "./origins.ts";
import type { MeshFile } from "./mesh-hull.ts";
import type { PlateFile } from "./plate-file.ts";
import { report, type Reporter } from "./report.ts";
import type { Sources, SourceState } from "./sources.ts";
import type { UrdfFile } from "./urdf-file.ts";

/** Keeps documents by their text, so that a rig that many moves use is read once. Owned and dropped by the caller. */
export type DocumentMemo = Map<FileId, Document | UrdfFile | MeshFile | PlateFile>;

/** What is shared while one document and all that it names are resolved. */
export interface Resolution {
  readonly sources: Sources;
  readonly memo: DocumentMemo;
  readonly origins: Origins;
  /** Every file that was asked for, missing ones included, in the order of asking. */
  readonly inputs: Set<FileId>;
  readonly unread: Set<FileId>;
}

/** What resolving gives beside its value. */
export interface ResolutionFacts {
  readonly origins: Origins;
  readonly problems: readonly Problem[];
  readonly inputs: readonly FileId[];
  readonly unread: readonly FileId[];
}

export function beginResolution(sources: Sources, memo: DocumentMemo = new Map()): Resolution {
  return { sources, memo, origins: createOrigins(), inputs: new Set(), unread: new Set() };
}

/** One document within a resolution: where its findings go, and which documents led to it. */
export interface Scope extends Reporter {
  readonly resolution: Resolution;
  /** Files from the first document to this one. */
  readonly trail: readonly FileId[];
  /** Set while one key of a move is resolved: its origins are its own, see `Origins`. */
  readonly key?: { readonly index: number; readonly spans: Span[] };
}

export function scopeOf(document: Document, resolution: Resolution, from?: Scope): Scope {
  const { file, text, format } = document;
  return { file, text, format, problems: [...document.problems], resolution, trail: [...(from?.trail ?? []), file] };
}

/** An id for a place of this document's text. */
export function originOf({ resolution, file, key }: Scope, span: Span): OriginId {
  if (!key) return resolution.origins.add(file, span);
  return keyOrigin(key.index, key.spans.push({ start: span.start, end: span.end }) - 1);
}

export function finish(scope: Scope): ResolutionFacts {
  const { origins, inputs, unread } = scope.resolution;
  return { origins, problems: scope.problems, inputs: [...inputs], unread: [...unread] };
}

/** What there is to say of a file that could not be opened as a document of its kind: whoever refers to it reports that. */
export function finishUnopened({ origins, inputs, unread }: Resolution): ResolutionFacts {
  return { origins, problems: [], inputs: [...inputs], unread: [...unread] };
}

/** The text of a file, noted as an input. */
export function readInput(resolution: Resolution, file: FileId): SourceState {
  resolution.inputs.add(file);
  const source = resolution.sources.read(file);
  if (source.state === "unread") resolution.unread.add(file);
  return source;
}

/** The document of a file, from the memo when its text is the same. */
export function openFile<K extends DocumentKind>(
  resolution: Resolution,
  file: FileId,
  kind: K,
): Document<K> | SourceState {
  const source = readInput(resolution, file);
  if (source.state !== "text") return source;
  const kept = resolution.memo.get(file);
  const earlier = kept?.kind === kind ? (kept as Document<K>) : undefined;
  const document =
    earlier?.text === source.text
      ? earlier
      : readDocument(file, kind, documentKind(file)?.format ?? "yaml", source.text, earlier);
  // What was asked for last stands last: the memo's owner lets go of the first ones.
  resolution.memo.delete(file);
  resolution.memo.set(file, document);
  return document;
}

const EXAMPLES = "NAME.{kind}.yaml";

/**
 * The document that a reference names, or `undefined` after a finding at the reference. A file that nobody has read yet
 * gives no finding.
 */
export function openReference<K extends DocumentKind>(
  scope: Scope,
  reference: Stated<string>,
  kind: K,
): Document<K> | undefined {
  const file = resolveReference(scope.file, reference.value);
  if (scope.trail.includes(file)) {
    scope.resolution.inputs.add(file);
    const circle = file === scope.file ? "this document itself" : `\`${baseName(file)}\`, which leads back here`;
    report(scope, "file-cycle", reference.span, `\`${reference.value}\` is ${circle}: name another file.`);
    return undefined;
  }
  const named = documentKind(file);
  if (named?.kind !== kind) {
    scope.resolution.inputs.add(file);
    const is = named ? `a ${named.kind} by its name` : `no ${kind} by its name`;
    const wanted = EXAMPLES.replace("{kind}", kind);
    report(
      scope,
      "wrong-kind",
      reference.span,
      `\`${reference.value}\` is ${is}; a ${kind} is expected: \`${wanted}\`.`,
    );
    return undefined;
  }
  const opened = openFile(scope.resolution, file, kind);
  if ("kind" in opened) return opened;
  reportUnopened(scope, reference, opened, file);
  return undefined;
}

/** The finding of a reference to a file that is missing or may not be read. */
export function reportUnopened(scope: Scope, reference: Stated<string>, source: SourceState, file: FileId): void {
  if (source.state === "missing") {
    const slash = reference.value.includes("\\") ? " Folders are joined by `/`." : "";
    const message = `\`${reference.value}\` names no file: there is no \`${file}\`. Paths are relative to this document.${slash}`;
    report(scope, "missing-file", reference.span, message);
  }
  if (source.state === "outside") {
    const message = `\`${reference.value}\` (\`${file}\`) lies outside of what may be read here.`;
    report(scope, "missing-file", reference.span, message);
  }
}

/** One finding at a reference to a document that has errors of its own. */
export function reportBrokenReference(scope: Scope, reference: Stated<string>, problems: readonly Problem[]): void {
  const broken = brokenReference(reference.value, problems);
  if (broken) report(scope, "missing-file", reference.span, broken.message, { related: broken.related });
}

/** What there is to say at a reference to a document with these problems; `undefined` when none of them is an error. */
export function brokenReference(
  reference: string,
  problems: readonly Problem[],
): (Pick<Problem, "message"> & Required<Pick<Problem, "related">>) | undefined {
  const errors = problems.filter((problem) => problem.severity === "error");
  if (errors.length === 0) return undefined;
  const [first] = errors;
  const count = errors.length === 1 ? "an error" : `${errors.length} errors`;
  return {
    message: `\`${reference}\` has ${count} of its own, so what it says is not complete. The first: ${first.message}`,
    related: [{ place: first.place, message: first.message }],
  };
}
