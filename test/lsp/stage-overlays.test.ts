import assert from "node:assert/strict";
import { unpackNumbers } from "../../protocol/codec.ts";
import type { StagePasses } from "../../protocol/stage-passes.ts";
import type { StageReach } from "../../protocol/stage-reach.ts";
import type { TakeResult } from "../../protocol/requests.ts";
import { MOVE, WORKSPACE } from "./documents.ts";
import { startServer, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";
const SHIFTED = `${MOVE}passes:
  - { name: glazed, times: 2 }
  - { name: bare, targets: { TARGET: { shift: [0, 0, 0.05] } } }
`;

describe("what overlays of the stage ask for", () => {
  let client: Client;
  let target: string;
  before(async () => {
    client = await startServer(WORKSPACE);
    await client.open(PATH, MOVE, 1);
    const { take } = (await client.connection.sendRequest<TakeResult>("movewright/take", { uri: client.uri(PATH) })) as Extract<TakeResult, { take: unknown }>; // prettier-ignore
    target = take.targets[take.aims[0].target].name;
  });
  after(async () => assert.equal(await client.stop(), 0));

  const ask = <T>(method: string, more: object = {}): Promise<T> =>
    client.connection.sendRequest<T>(`movewright/${method}`, { uri: client.uri(PATH), ...more });

  it("is the region that the pupil reaches, as a shell about the places that it goes to", async () => {
    const reach = await ask<StageReach>("reachableRegion", { kind: "shell" });
    assert.ok("triangles" in reach, JSON.stringify(reach));
    const triangles = unpackNumbers(reach.triangles);
    assert.ok(triangles.length > 900 && triangles.length % 9 === 0);
    assert.deepEqual([reach.version, reach.wish, reach.open], [1, { kind: "shell" }, false]);
    const section = await ask<StageReach>("reachableRegion", { kind: "section", height: reach.heights[1] + 1 });
    assert.ok("triangles" in section && unpackNumbers(section.triangles).length === 0, "nothing is reached above");
  });

  it("is refused in a sentence for what is no region, and once something newer was asked for", async () => {
    const wrong = await ask<StageReach>("reachableRegion", { kind: "section", height: "low" });
    assert.ok("problem" in wrong && wrong.problem.includes("`section`"));
    const older = ask<StageReach>("reachableRegion", { kind: "shell" });
    const newer = ask<StageReach>("reachableRegion", { kind: "section", height: 1 });
    assert.deepEqual(await older, { uri: client.uri(PATH), version: 1, wish: { kind: "shell" }, problem: "Something newer was asked for." }); // prettier-ignore
    assert.ok("triangles" in (await newer));
  });

  it("does not hold up an edit: findings come while a shell is looked for", async () => {
    const order: string[] = [];
    const shell = ask<StageReach>("reachableRegion", { kind: "shell" }).then((answer) => {
      order.push("shell");
      return answer;
    });
    await client.change(PATH, MOVE.replace("at: 4 s", "at: 3.5 s"), 2);
    await ask<TakeResult>("take").then(() => order.push("take"));
    const answer = await shell;
    assert.deepEqual(order, ["take", "shell"]);
    assert.equal(answer.version, 2);
    await client.change(PATH, MOVE, 3);
  });

  it("is each pass as it plays with its targets off their places", async () => {
    const none = await ask<StagePasses>("passes");
    assert.ok("problem" in none && none.problem === "The move names no passes.");
    await client.change(PATH, SHIFTED.replace("TARGET", target), 4);
    const passes = await ask<StagePasses>("passes");
    assert.ok("passes" in passes, JSON.stringify(passes));
    assert.deepEqual(
      passes.passes.map(({ name, first, last, motion }) => [name, first, last, motion !== undefined]),
      [["glazed", 1, 2, false], ["bare", 3, 3, true]], // prettier-ignore
    );
    const answer = await ask<TakeResult>("take");
    assert.ok("take" in answer);
    const { take } = answer;
    const index = take.targets.findIndex(({ name }) => name === target);
    const own = passes.passes[1].motion!;
    const width = 3 * take.targets.length;
    assert.ok(Math.abs(unpackNumbers(own.targets)[3 * index + 2] - (take.targets[index].at[2] + 0.05)) < 1e-6);
    assert.equal(unpackNumbers(own.targets).length, width * unpackNumbers(own.t).length);
    // The rig of this folder states nothing of how it repeats.
    assert.equal(passes.passes[0].error, undefined);
  });
});
