import assert from "node:assert/strict";
import type {
  SemanticTokens,
  SemanticTokensDelta,
  SemanticTokensOptions,
} from "vscode-languageserver-protocol/node.js";
import { MOVE, MOVE_JSON, RIG, WORKSPACE } from "./documents.ts";
import { startServer, type Client } from "./harness.ts";

const PATH = "moves/a.move.yaml";
const RIG_PATH = Object.keys(WORKSPACE).find((path) => WORKSPACE[path] === RIG) ?? "";

describe("semantic tokens over a connection", function () {
  this.timeout(60_000);
  let client: Client;
  let provider: SemanticTokensOptions;

  before(async () => {
    client = await startServer({ ...WORKSPACE, [PATH]: MOVE });
    provider = client.initialized.capabilities.semanticTokensProvider as SemanticTokensOptions;
  });
  after(async () => assert.equal(await client.stop(), 0));

  const ask = <T>(method: string, more: object = {}, path = PATH): Promise<T> =>
    client.connection.sendRequest(`textDocument/semanticTokens/${method}`, {
      textDocument: { uri: client.uri(path) },
      ...more,
    });

  /** `text type modifiers` of each token, by the legend that the server gave. */
  const decoded = (text: string, data: readonly number[]): string[] => {
    const lines = text.split("\n");
    let [line, character] = [0, 0];
    return Array.from({ length: data.length / 5 }, (_, idx) => {
      const [down, right, length, type, bits] = data.slice(idx * 5, idx * 5 + 5);
      line += down;
      character = down === 0 ? character + right : right;
      const { tokenTypes, tokenModifiers } = provider.legend;
      const modifiers = tokenModifiers.filter((_name, bit) => (bits >> bit) & 1);
      return [lines[line].slice(character, character + length), tokenTypes[type], ...modifiers].join(" ");
    });
  };

  it("are told with a legend whose first types are the protocol's", () => {
    assert.deepEqual(provider.legend.tokenTypes.slice(0, 3), ["property", "variable", "class"]);
    assert.deepEqual([provider.full, provider.range], [{ delta: true }, true]);
  });

  it("tell of a move what its names are, in YAML and in JSON", async () => {
    await client.open(PATH, MOVE);
    const { data } = await ask<SemanticTokens>("full");
    const found = decoded(MOVE, data);
    const some = ["move keyword", "../kit/slider.rig.yaml string", "prime-35 struct", "left event declaration"];
    for (const token of [...some, "slide variable", "lid class", "-0.3 number"])
      assert.ok(found.includes(token), token);
    await client.open("moves/b.move.json", MOVE_JSON);
    const json = await ask<SemanticTokens>("full", {}, "moves/b.move.json");
    assert.ok(decoded(MOVE_JSON, json.data).includes("lid class"));
  });

  it("tell what changed, and all where the client has something else", async () => {
    const first = await ask<SemanticTokens>("full");
    const text = MOVE.replace("aim: { at: lid,", "aim: { at: nothing,");
    await client.change(PATH, text, 2);
    const delta = await ask<SemanticTokensDelta>("full/delta", { previousResultId: first.resultId });
    const after = [...first.data];
    assert.equal(delta.edits.length, 1);
    assert.ok((delta.edits[0].data ?? []).length < 20, "little changed");
    for (const { start, deleteCount, data = [] } of delta.edits) after.splice(start, deleteCount, ...data);
    const whole = await ask<SemanticTokens>("full");
    assert.deepEqual(after, whole.data);
    assert.ok(decoded(text, after).includes("nothing class unresolved"));
    const other = await ask<SemanticTokens>("full/delta", { previousResultId: "none" });
    assert.deepEqual(other.data, whole.data);
    const same = await ask<SemanticTokensDelta>("full/delta", { previousResultId: other.resultId });
    assert.deepEqual(same.edits, []);
    await client.change(PATH, MOVE, 3);
  });

  it("tell of a range what it holds", async () => {
    const lines = MOVE.split("\n");
    const line = lines.findIndex((each) => each.includes("plate: 0"));
    const range = { start: { line, character: 0 }, end: { line, character: lines[line].length } };
    const { data } = await ask<SemanticTokens>("range", { range });
    const wanted = ["axes property", "slide variable", "0.3 number", "plate variable", "0 number"];
    assert.deepEqual(decoded(MOVE, data), wanted);
  });

  it("are asked for again when a rig, changed elsewhere, makes a value too much, and tell of it", async () => {
    const isOut = async () =>
      decoded(MOVE, (await ask<SemanticTokens>("full")).data).some((one) => / outOfLimit/.test(one));
    await client.pullUntil(PATH, () => true);
    assert.equal(await isOut(), false);
    const before = client.tokenRefreshes();
    await client.open(RIG_PATH, RIG);
    await client.change(RIG_PATH, RIG.replace("speed: 0.4", "speed: 0.02"), 2);
    await client.pullUntil(PATH, (items) => items.some(({ code }) => code === "axis-speed"));
    await client.until("a refresh of tokens", () => client.tokenRefreshes() > before);
    for (let left = 40; !(await isOut()); left -= 1) {
      assert.ok(left > 0, "a value is marked");
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
  });

  it("are none for what is no document of ours", async () => {
    await client.open("other.yaml", "a: 1\n");
    assert.deepEqual((await ask<SemanticTokens>("full", {}, "other.yaml")).data, []);
  });
});
