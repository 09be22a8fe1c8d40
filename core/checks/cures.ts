import type { TextCure } from "../base/problem.ts";
import type { OriginTable } from "../model/origin-table.ts";
import type { Sources } from "../model/sources.ts";
import { treeOf } from "../model/tree-of.ts";
import { addFieldCure, spelledFor } from "./add-field.ts";
import type { AddedField, Finding, PlacedFinding, SetValue } from "./finding.ts";
import type { AnalysisMemo } from "./memo.ts";

/** A placed finding with the edits of text that cure it. */
export function withCures(
  placed: PlacedFinding,
  { adds = [], sets = [] }: Finding,
  origins: OriginTable,
  sources: Sources,
  memo: AnalysisMemo,
): PlacedFinding {
  if (adds.length === 0 && sets.length === 0) return placed;
  return { ...placed, cures: [...addedCures(placed, adds, origins, sources, memo), ...setCures(sets, origins)] };
}

/** The edits that give the map of a finding's place, a key or a shot, one field more each. */
function addedCures(
  { place: { file, span } }: PlacedFinding,
  adds: readonly AddedField[],
  origins: OriginTable,
  sources: Sources,
  { documents }: AnalysisMemo,
): readonly TextCure[] {
  if (adds.length === 0) return [];
  const source = sources.read(file);
  if (source.state !== "text") return [];
  const tree = treeOf(documents, file, source.text);
  return adds.flatMap((added) => {
    const beside = added.beside === undefined ? undefined : origins.place(added.beside);
    // A value in another file has no map in this text.
    const start = beside?.file === file ? beside.span.start : span.start;
    return addFieldCure(file, source.text, tree, start, added) ?? [];
  });
}

/** The edits that write a value in place of another. */
function setCures(sets: readonly SetValue[], origins: OriginTable): readonly TextCure[] {
  return sets.flatMap(({ origin, value, title }) => {
    const place = origins.place(origin);
    if (!place) return [];
    const text = spelledFor(/\.json$/i.test(place.file), value);
    return [{ title, file: place.file, edits: [{ span: place.span, text }] }];
  });
}
