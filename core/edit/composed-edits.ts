import type { TextEdits } from "./apply-edits.ts";

/** A part of the first text that still stands, or a text that was put in. */
type Piece = { readonly from: number; readonly to: number } | { readonly put: string };

const lengthOf = (piece: Piece): number => ("put" in piece ? piece.put.length : piece.to - piece.from);

/**
 * Edits made one after another as edits of the first text, which leave all that none of them touched.
 *
 * @param length Of the first text [UTF-16 units].
 * @param steps The edits of each step, of the text as the steps before left it.
 */
export function composedEdits(length: number, steps: readonly TextEdits[]): TextEdits {
  const pieces = steps.reduce<readonly Piece[]>((now, edits) => edited(now, edits), [{ from: 0, to: length }]);
  const out: { span: { start: number; end: number }; text: string }[] = [];
  let at = 0;
  let put = "";
  for (const piece of [...pieces, { from: length, to: length }]) {
    if ("put" in piece) {
      put += piece.put;
      continue;
    }
    if (put !== "" || at < piece.from) out.push({ span: { start: at, end: piece.from }, text: put });
    put = "";
    at = piece.to;
  }
  return out;
}

/** The pieces after edits of the text that they make. */
function edited(pieces: readonly Piece[], edits: TextEdits): readonly Piece[] {
  const sorted = [...edits].sort(({ span: one }, { span: other }) => one.start - other.start || one.end - other.end);
  const out: Piece[] = [];
  let left: readonly Piece[] = pieces;
  let at = 0;
  for (const { span, text } of sorted) {
    const [before, rest] = split(left, span.start - at);
    const [, after] = split(rest, span.end - span.start);
    out.push(...before, ...(text === "" ? [] : [{ put: text }]));
    left = after;
    at = span.end;
  }
  return [...out, ...left];
}

/** The pieces of the first `length` units, and the others. */
function split(pieces: readonly Piece[], length: number): readonly [readonly Piece[], readonly Piece[]] {
  let left = length;
  for (const [i, piece] of pieces.entries()) {
    const own = lengthOf(piece);
    if (left < own) {
      const [head, tail] = cut(piece, left);
      return [
        [...pieces.slice(0, i), ...(left > 0 ? [head] : [])],
        [tail, ...pieces.slice(i + 1)],
      ];
    }
    left -= own;
  }
  return [pieces, []];
}

const cut = (piece: Piece, at: number): readonly [Piece, Piece] =>
  "put" in piece
    ? [{ put: piece.put.slice(0, at) }, { put: piece.put.slice(at) }]
    : [
        { from: piece.from, to: piece.from + at },
        { from: piece.from + at, to: piece.to },
      ];
