import assert from "node:assert/strict";
import type { CodeAction, Diagnostic } from "vscode-languageserver-protocol";
import { MOVE, SET, WORKSPACE } from "./documents.ts";
import { codes, offsetAt, startServer, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";
/** A post near the end of the slide. */
const POST = `${SET}obstacles: { post: { cylinder: { radius: 0.02, height: 2 }, at: [0.13, -0.33, 1] } }\n`;
/** Without the key that rests where the one before it ends. */
const TEXT = MOVE.slice(0, MOVE.indexOf("  - after"));
const TRIES = 20;

describe("quick fixes for what is too near", () => {
  let client: Client;
  before(async () => {
    client = await startServer({ ...WORKSPACE, "moves/table.set.yaml": POST });
    await client.open(PATH, TEXT);
  });
  after(async () => assert.equal(await client.stop(), 0));

  const actionsFor = (diagnostic: Diagnostic) =>
    client.connection.sendRequest<CodeAction[]>("textDocument/codeAction", {
      textDocument: { uri: client.uri(PATH) },
      range: diagnostic.range,
      context: { diagnostics: [diagnostic] },
    });
  /** An editor asks again as the cursor moves: a search that takes longer than an answer may is there by then. */
  const offered = async (diagnostic: Diagnostic): Promise<CodeAction[]> => {
    for (let tries = 0; tries < TRIES; tries++) {
      const actions = (await actionsFor(diagnostic)).filter(({ title }) => title.startsWith("Set "));
      if (actions.length > 0) return actions;
    }
    return [];
  };

  it("set one value of the move, and the finding is gone", async () => {
    const items = await client.pullUntil(PATH, (found) => codes(found).includes("clearance"));
    const actions = await offered(items.find(({ code }) => code === "clearance")!);
    const action = actions.find(({ title }) => /^Set slide at right from -0\.3 to -0\.\d+ m: /.test(title));
    assert.ok(action, actions.map(({ title }) => title).join("; "));
    assert.match(action.title, /: the camera then stays .+ from post$/);
    assert.equal(action.kind, "quickfix");
    assert.deepEqual(
      action.diagnostics?.map(({ code }) => code),
      ["clearance"],
    );
    const [edit, ...more] = action.edit?.changes?.[client.uri(PATH)] ?? [];
    assert.equal(more.length, 0);
    const [from, to] = [edit.range.start, edit.range.end].map((place) => offsetAt(TEXT, place));
    assert.equal(TEXT.slice(from, to), "-0.3");
    await client.change(PATH, TEXT.slice(0, from) + edit.newText + TEXT.slice(to), 2);
    await client.pullUntil(PATH, (found) => !codes(found).includes("clearance"));
  });
});
