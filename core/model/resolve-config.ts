import { baseName, resolveReference } from "../base/path.ts";
import type { FindingCode, Severity } from "../base/finding-code.ts";
import { listing } from "../base/listing.ts";
import type { FileId } from "../base/span.ts";
import type { Document } from "./load-document.ts";
import { report } from "./report.ts";
import {
  beginResolution,
  finish,
  finishUnopened,
  openFile,
  scopeOf,
  type DocumentMemo,
  type ResolutionFacts,
} from "./resolution.ts";
import type { Sources } from "./sources.ts";

/** The one name of a config; it is for its folder and all below. */
export const CONFIG_NAME = "movewright.config.yaml";

/** How severe a workspace takes each code; `off` is not shown. */
export type Severities = ReadonlyMap<FindingCode, Severity | "off">;

/** What was not read, and faults of the program: they cannot be made to look harmless. */
const ERRORS: readonly string[] = ["syntax", "internal-error", "too-large", "too-deep", "too-many-aliases"];

/** What concerns people: it may be shown less loudly, never hidden. */
const SHOWN: readonly string[] = ["people", "tip-over"];

/** Reads a config for its own findings. */
export function resolveConfig(file: FileId, sources: Sources, memo?: DocumentMemo): ResolutionFacts {
  const resolution = beginResolution(sources, memo);
  const opened = openFile(resolution, file, "config");
  if (!("kind" in opened)) return finishUnopened(resolution);
  const scope = scopeOf(opened, resolution);
  if (baseName(file) !== CONFIG_NAME) {
    const message = `A config counts only as \`${CONFIG_NAME}\`, so nothing reads \`${baseName(file)}\`: rename it.`;
    report(scope, "wrong-kind", { start: 0, end: 0 }, message);
  }
  for (const [code, { item }] of opened.declared?.value.severity?.value ?? []) {
    const message = item && isRefused(code, item.value);
    if (item && message) report(scope, "wrong-type", item.span, message);
  }
  return finish(scope);
}

/** Why a code cannot have a severity; `undefined` when it can. */
function isRefused(code: string, severity: string): string | undefined {
  if (ERRORS.includes(code) && severity !== "error") {
    return `\`${code}\` stays an error, as ${listing(ERRORS, "and")} do: then something was not checked at all. Mend what it names.`;
  }
  if (SHOWN.includes(code) && severity === "off") {
    return `\`${code}\` cannot be off, as it concerns people: \`hint\` is the least.`;
  }
  return undefined;
}

/** What the configs of a file's folder and of those above say; the nearest one that speaks of a code counts. */
export function severitiesOf(
  file: FileId,
  sources: Sources,
  memo?: DocumentMemo,
): { readonly severities: Severities; readonly inputs: readonly FileId[]; readonly unread: readonly FileId[] } {
  const resolution = beginResolution(sources, memo);
  const severities = new Map<FindingCode, Severity | "off">();
  for (const config of configsAbove(file)) {
    const opened = openFile(resolution, config, "config");
    for (const [code, severity] of "kind" in opened ? statedSeverities(opened) : []) severities.set(code, severity);
  }
  const { inputs, unread } = finishUnopened(resolution);
  return { severities, inputs, unread };
}

function statedSeverities({ declared }: Document<"config">): [FindingCode, Severity | "off"][] {
  return [...(declared?.value.severity?.value ?? [])].flatMap(([code, { item }]): [FindingCode, Severity | "off"][] =>
    item && !isRefused(code, item.value) ? [[code as FindingCode, item.value]] : [],
  );
}

/** Where configs for a file may stand, the farthest folder first. */
export function configsAbove(file: FileId): FileId[] {
  const out: FileId[] = [];
  let config = resolveReference(file, CONFIG_NAME);
  for (;;) {
    out.unshift(config);
    const above = resolveReference(config, `../${CONFIG_NAME}`);
    // At the root, and where a relative id has no folder left, there is nothing above.
    if (above === config || above.startsWith("../")) return out;
    config = above;
  }
}
