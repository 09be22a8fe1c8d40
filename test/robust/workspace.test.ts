import assert from "node:assert/strict";
import type { WorkspaceDiagnosticReport } from "vscode-languageserver-protocol";
import { CAMERA, moveText, RIG, SET } from "../../bench/documents.ts";
import { startRobustServer, type RobustServer } from "./robust-server.ts";

const COUNT = 60;
const OPEN = "bench/0.move.yaml";
const fileOf = (index: number): string => `bench/${index}.move.yaml`;

/** Every tenth move names a rig that isn't there, and every tenth after it a target that the set doesn't have. */
function written(index: number): string {
  const text = moveText(4, index);
  if (index % 10 === 3) return text.replace("seven.rig.yaml", "eight.rig.yaml");
  if (index % 10 === 4) return text.replace("aim: { at: lid", "aim: { at: lit");
  return text;
}

describe("a workspace of many moves", () => {
  let server: RobustServer;
  before(async function () {
    this.timeout(60_000);
    const kit = { "bench/seven.rig.yaml": RIG, "bench/a.camera.yaml": CAMERA, "bench/a.set.yaml": SET };
    const moves = Array.from({ length: COUNT }, (_, index) => [fileOf(index), written(index)] as const);
    server = await startRobustServer({ ...kit, ...Object.fromEntries(moves) });
  });
  after(async () => assert.equal(await server.stop(), 0));

  it("is checked whole while the open one is answered before the rest, edits too", async function () {
    this.timeout(120_000);
    let isOver = false;
    const all = server.connection
      .sendRequest<WorkspaceDiagnosticReport>("workspace/diagnostic", { previousResultIds: [] })
      .finally(() => (isOver = true));
    const text = written(0);
    await server.open(OPEN, text);
    await server.pull(OPEN);
    assert.equal(isOver, false, "the open one came first");
    const at = text.indexOf("at: lid");
    await server.change(OPEN, text, [{ from: at, to: at + "at: lid".length, piece: "at: lit" }]);
    assert.deepEqual(
      (await server.pull(OPEN)).map(({ code }) => code),
      ["unknown-target"],
    );
    assert.equal(isOver, false, "so did an edit of it");
    const { items } = await all;
    const codes = new Map(
      items.map((item) => [item.uri, item.kind === "full" ? item.items.map(({ code }) => code) : undefined]),
    );
    for (let index = 1; index < COUNT; index++) {
      const found = codes.get(server.uri(fileOf(index)));
      assert.ok(found, `${index} was checked`);
      assert.equal(found.includes("missing-file"), index % 10 === 3, `${index}: ${found.join()}`);
      assert.equal(found.includes("unknown-target"), index % 10 === 4, `${index}: ${found.join()}`);
    }
  });
});
