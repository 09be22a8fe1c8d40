import { jsonStepOf } from "../../core/layout/json-step.ts";
import { edited, layOut } from "../../core/layout/lay-out.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import { parseTree } from "../../core/syntax/parse.ts";
import type { SourceState } from "../../core/model/sources.ts";
import { replaceText, WriteRefused } from "../../host/write-file.ts";
import { findDocuments, sourcesFor, type Given } from "../documents.ts";
import type { Outcome } from "../failure.ts";
import { ANSWER_VERSION, renderJson } from "../json.ts";

export interface FormatOptions {
  readonly check?: true;
  readonly alignKeys: boolean;
  readonly format: "text" | "json";
}

/** What became of a document: `differs` is told with `--check`, which writes nothing. */
type Formatted =
  | { readonly path: string; readonly state: "unchanged" | "changed" | "differs" }
  | { readonly path: string; readonly state: "left" | "unwritten"; readonly reason: string };

/**
 * `movewright format`: lays documents out, each written whole or not at all. Exit code 1 when one has faults and is left as it
 * is, or with `--check` differs from its layout; 2 when one could not be read or written, the others being done all the same.
 */
export function formatCommand(paths: readonly string[], options: FormatOptions): Outcome {
  const documents = findDocuments(paths.length === 0 ? ["."] : paths);
  const sources = sourcesFor(documents);
  const files = documents.map((given) => formatOne(given, sources.read(given.file), options));
  const has = (state: Formatted["state"]): boolean => files.some((file) => file.state === state);
  return {
    output: options.format === "json" ? renderJson({ version: ANSWER_VERSION, files }) : renderText(files),
    exit: has("unwritten") ? 2 : has("left") || has("differs") ? 1 : 0,
    notes: files.flatMap((file) => ("reason" in file ? [`movewright: ${file.path} ${file.reason}`] : [])),
  };
}

function formatOne({ path, file }: Given, source: SourceState, { check, alignKeys }: FormatOptions): Formatted {
  if (source.state !== "text") return { path, state: "unwritten", reason: "cannot be read as text" };
  const { text } = source;
  const format = documentKind(file)?.format ?? "yaml";
  const parse = (version: string) => parseTree(version, format);
  const layout = layOut({ text, format, tree: parse(text), parse }, { alignKeys, jsonStep: jsonStepOf(text) });
  if ("refusal" in layout) return { path, state: "left", reason: `is left as it is: ${layout.refusal}` };
  if (layout.edits.length === 0) return { path, state: "unchanged" };
  if (check) return { path, state: "differs" };
  try {
    replaceText(path, text, edited(text, layout.edits));
  } catch (error) {
    if (!(error instanceof WriteRefused)) throw error;
    return { path, state: "unwritten", reason: error.message.replace(`${path} `, "") };
  }
  return { path, state: "changed" };
}

const WORDS: Readonly<Record<Formatted["state"], string>> = {
  unchanged: "laid out already",
  changed: "laid out",
  differs: "to be laid out",
  left: "left as they are",
  unwritten: "not written",
};

function renderText(files: readonly Formatted[]): string {
  const named = files.filter(({ state }) => state === "changed" || state === "differs");
  const lines = named.map(({ path, state }) => `${path}: ${WORDS[state]}`);
  const states = Object.keys(WORDS) as Formatted["state"][];
  const counts = states
    .map((state) => ({ state, count: files.filter((file) => file.state === state).length }))
    .filter(({ count }) => count > 0)
    .map(({ state, count }) => `${count} ${WORDS[state]}`);
  const documents = `${files.length} document${files.length === 1 ? "" : "s"}`;
  return `${[...lines, `${documents}: ${counts.join(", ")}`].join("\n")}\n`;
}
