import assert from "node:assert/strict";
import { TextDocument } from "vscode-languageserver-textdocument";
import { editText } from "../../test/fuzz/edits.ts";
import { randomChoices } from "../../test/fuzz/random.ts";
import { SEEDS, SURROUNDINGS } from "../../test/fuzz/seeds.ts";
import { viewOf } from "../../test/support/rewritten.ts";
import { semanticTokens, type SemanticToken } from "../service/tokens/semantic-tokens.ts";
import { TOKEN_MODIFIERS, TOKEN_TYPES } from "../service/tokens/token-legend.ts";
import { tokenData, tokenEdits } from "./token-data.ts";

const documentOf = (text: string): TextDocument => TextDocument.create("file:///a.move.yaml", "yaml", 1, text);

/** What a client makes of tokens: `line:character text type modifiers`. */
function decoded(text: string, data: readonly number[]): string[] {
  const lines = text.split(/\r\n|\n|\r/);
  const found: string[] = [];
  let [line, character] = [0, 0];
  for (let idx = 0; idx < data.length; idx += 5) {
    const [down, right, length, type, bits] = data.slice(idx, idx + 5);
    line += down;
    character = down === 0 ? character + right : right;
    const written = lines[line].slice(character, character + length);
    assert.equal(written.length, length, "within its line");
    const modifiers = TOKEN_MODIFIERS.filter((_, bit) => (bits >> bit) & 1);
    found.push(`${line}:${character} ${written} ${[TOKEN_TYPES[type], ...modifiers].join(".")}`);
  }
  return found;
}

describe("tokens as the protocol writes them", () => {
  it("count lines and characters from the one before, in UTF-16, and set a bit for each modifier", () => {
    const text = "🫖: lid\r\n\r\n  a: 1 s";
    const token = (start: number, end: number, type: SemanticToken["type"], ...modifiers: string[]): SemanticToken => ({
      ...{ start, end, type, modifiers: new Set(modifiers as []) },
    });
    const tokens = [
      token(0, 2, "property"),
      token(4, 7, "class", "unresolved"),
      token(13, 14, "property", "declaration"),
    ];
    const last = token(16, 17, "number", "readonly", "outOfLimit");
    const data = tokenData(documentOf(text), [...tokens, last]);
    const type = (name: SemanticToken["type"]) => TOKEN_TYPES.indexOf(name);
    assert.deepEqual(data, [
      ...[0, 0, 2, type("property"), 0],
      ...[0, 4, 3, type("class"), 8],
      ...[2, 2, 1, type("property"), 1],
      ...[0, 3, 1, type("number"), 6],
    ]);
  });

  it("after random edits, those before with what changed are those of the new text", () => {
    let changes = 0;
    for (let seed = 0; seed < 30; seed += 1) {
      const random = randomChoices(seed);
      let text = SEEDS.move;
      let data: readonly number[] = [];
      for (let step = 0; step < 4; step += 1) {
        const view = viewOf(text, "m.move.yaml", SURROUNDINGS);
        const tokens = semanticTokens(view);
        const now = tokenData(documentOf(text), tokens);
        const edits = tokenEdits(data, now);
        const after = [...data];
        for (const { start, deleteCount, data: put = [] } of edits) {
          assert.deepEqual([start % 5, deleteCount % 5, put.length % 5], [0, 0, 0], "tokens stay whole");
          after.splice(start, deleteCount, ...put);
        }
        assert.deepEqual(after, now);
        const found = decoded(text, after).map((token) => token.replace(/^\S+ /, ""));
        const written = tokens.map(({ start, end, type, modifiers }) =>
          [text.slice(start, end), [type, ...TOKEN_MODIFIERS.filter((each) => modifiers.has(each))].join(".")].join(
            " ",
          ),
        );
        assert.deepEqual(found, written);
        changes += edits.length;
        data = now;
        text = editText(text, random);
      }
    }
    assert.ok(changes > 60, `${changes}`);
  });

  it("have no edit where nothing changed, and a short one where little did", () => {
    const data = Array.from({ length: 500 }, (_, idx) => idx);
    assert.deepEqual(tokenEdits(data, [...data]), []);
    const other = [...data];
    other[251] = 0;
    assert.deepEqual(tokenEdits(data, other), [{ start: 250, deleteCount: 5, data: other.slice(250, 255) }]);
    assert.deepEqual(tokenEdits(data, []), [{ start: 0, deleteCount: 500, data: [] }]);
    assert.deepEqual(tokenEdits([], data.slice(0, 5)), [{ start: 0, deleteCount: 0, data: data.slice(0, 5) }]);
  });
});
