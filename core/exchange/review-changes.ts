import type { FieldChange, KeyReview, MoveReview } from "../review/review.ts";
import { amountChange, amountFigures, isSeen, signedFigure } from "./review-figures.ts";
import { coded, named, plain, tableOf, toned, type Line, type OutlineTable } from "./review-outline.ts";

const HEAD = ["what", "was", "is", "change"];

/** What a person wrote differently in a move: its keys, and its fields outside of them. */
export function changesTable({ fields, keys }: Pick<MoveReview, "fields" | "keys">): OutlineTable[] {
  const rows = [...fields.map((change) => fieldRow([], change)), ...keys.flatMap(keyRows)];
  return tableOf(HEAD, rows);
}

/** What was written differently in another document. */
export function fieldsTable(fields: readonly FieldChange[]): OutlineTable[] {
  return tableOf(
    HEAD,
    fields.map((change) => fieldRow([], change)),
  );
}

function keyRows({ key, state, renamedFrom, time, fields }: KeyReview): (readonly Line[])[] {
  const front: Line = [plain("key "), coded(key)];
  const { was, is } = amountFigures(time);
  if (state === "added") return [[[...front, toned("strong", " added")], [], [plain(`at ${is}`)], []]];
  if (state === "removed") return [[[...front, toned("strong", " removed")], [plain(`at ${was}`)], [], []]];
  const rows: (readonly Line[])[] = [];
  if (renamedFrom !== undefined) rows.push([[...front, plain(" renamed")], [coded(renamedFrom)], [coded(key)], []]);
  if (isSeen(time)) rows.push([[...front, plain(" at")], [plain(was)], [plain(is)], [plain(amountChange(time))]]);
  return [...rows, ...fields.map((change) => fieldRow([...front, plain(" ")], change))];
}

function fieldRow(front: Line, { field, was, is, by, dimension }: FieldChange): readonly Line[] {
  const change = by === undefined || dimension === undefined ? "" : signedFigure(by, dimension);
  return [[...front, named(field)], written(was), written(is), [plain(change)]];
}

const written = (text: string | undefined): Line =>
  text === undefined ? [toned("quiet", "not written")] : [plain(text)];
