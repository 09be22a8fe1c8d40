import assert from "node:assert/strict";
import { runToEnd } from "../../core/base/task.ts";
import { analyse } from "../../core/checks/analyse.ts";
import { unpackNumbers, unpackTake } from "../../protocol/codec.ts";
import type { StageSeries } from "../../protocol/stage-series.ts";
import type { KeyAtResult, PlaceOfResult, TakeResult } from "../../protocol/requests.ts";
import type { StageTake } from "../../protocol/stage.ts";
import { MOVE, SET, WORKSPACE } from "./documents.ts";
import { at, codes, startServer, textIn, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";
const FAST = MOVE.replace("at: 4 s", "at: 1.5 s");

describe("the requests of the stage", () => {
  let client: Client;
  before(async () => {
    client = await startServer(WORKSPACE);
    await client.open(PATH, MOVE, 1);
  });
  after(async () => assert.equal(await client.stop(), 0));

  const ask = () => client.connection.sendRequest<TakeResult>("movewright/take", { uri: client.uri(PATH) });
  const take = async (): Promise<StageTake> => {
    const answer = await ask();
    assert.ok("take" in answer, JSON.stringify(answer));
    return answer.take;
  };
  const placeOf = async (what: object) =>
    client.connection.sendRequest<PlaceOfResult>("movewright/placeOf", { uri: client.uri(PATH), ...what });

  it("give a take whose values are core's, bit for bit", async () => {
    const stage = await take();
    const files = Object.fromEntries(Object.entries(WORKSPACE).map(([path, text]) => [`/job/${path}`, text]));
    const sources = {
      read: (file: string) =>
        file in files ? { state: "text" as const, text: files[file] } : { state: "missing" as const },
    };
    const { trajectory } = runToEnd(analyse(`/job/${PATH}`, sources));
    assert.ok(trajectory);
    const samples = unpackTake(stage.samples);
    assert.equal(samples.count, samples.t.length);
    assert.equal(samples.t[0], 0);
    assert.equal(samples.t.at(-1), 6);
    assert.ok(
      [0, 4, 6].every((time) => samples.t.includes(time)),
      "every key is a sample",
    );
    const instant = trajectory.createInstant();
    const width = trajectory.axes.length;
    samples.t.forEach((t, row) => {
      trajectory.at(t, instant);
      for (let axis = 0; axis < width; axis += 1) {
        assert.equal(samples.value[row * width + axis], instant.value[axis]);
        assert.equal(samples.speed[row * width + axis], Math.fround(instant.speed[axis]));
      }
      for (let k = 0; k < 3; k += 1) assert.equal(samples.position[row * 3 + k], instant.position[k]);
      assert.equal(samples.framing[row * 4], instant.framing[0]);
      assert.equal(samples.distance[row * 2], instant.distance[0]);
    });
  });

  it("give what the scene is built of", async () => {
    const stage = await take();
    assert.equal(stage.version, 1);
    assert.equal(stage.stale, false);
    assert.equal(stage.title, "Along the table");
    assert.deepEqual(
      stage.axes.map(({ name }) => name),
      ["slide", "pan", "tilt", "plate"],
    );
    assert.deepEqual(stage.keys, [
      { label: "left", time: 0 },
      { label: "right", time: 4 },
      { label: "rest", time: 6 },
    ]);
    assert.deepEqual(stage.aims, [{ from: 0, to: 6, target: 0 }]);
    assert.deepEqual(stage.deliver, [6144, 3456]);
    assert.deepEqual(stage.findings, []);
  });

  it("give curves of clearance with the lowest distance that there is, and why there are none of passes", async () => {
    const uri = client.uri(PATH);
    const series = await client.connection.sendRequest<StageSeries>("movewright/stageSeries", {
      uri,
      name: "clearance",
    });
    assert.ok("lines" in series, JSON.stringify(series));
    assert.deepEqual([series.uri, series.version], [uri, 1]);
    const floor = series.lines.find(({ name }) => name === "floor");
    // The camera's line is as high as the rig's mount, 1 m, all the while.
    assert.ok(floor && unpackNumbers(floor.values).every((value) => Math.abs(value - 1) < 1e-9));
    assert.deepEqual([floor.limit, floor.words], [0.05, ["the camera to the floor"]]);
    for (const { t, values } of series.lines) {
      const times = unpackNumbers(t);
      assert.equal(times.length, unpackNumbers(values).length);
      assert.deepEqual([times[0], times[times.length - 1]], [0, 6]);
    }
    const passes = await client.connection.sendRequest<StageSeries>("movewright/stageSeries", { uri, name: "passes" });
    assert.deepEqual(passes, {
      name: "passes",
      uri,
      version: 1,
      problem: "The move is taken once: there is no second pass that could differ.",
    });
    const none = await client.connection.sendRequest<StageSeries>("movewright/stageSeries", { uri, name: "weather" });
    assert.ok("problem" in none && none.problem.includes("weather"));
  });

  it("tell once that a take changed, when the new one is ready, for an edit and for a file that it uses", async () => {
    await take();
    const count = client.takeChanges.length;
    await client.change(PATH, FAST, 2);
    await client.until("the notice", () => client.takeChanges.length > count);
    assert.deepEqual(client.takeChanges.at(-1), { uri: client.uri(PATH) });
    const fast = await take();
    assert.equal(fast.version, 2);
    assert.ok(fast.findings.some(({ code, axis }) => code === "axis-speed" && axis === "slide"));
    client.write("moves/table.set.yaml", SET.replace("[2, 0, 1]", "[2, 0, 1.2]"));
    await client.watched("moves/table.set.yaml", 2);
    await client.until("the notice", () => client.takeChanges.length > count + 1);
    assert.deepEqual((await take()).targets[0].at, [2, 0, 1.2]);
    client.write("moves/table.set.yaml", SET);
    await client.watched("moves/table.set.yaml", 2);
    await client.change(PATH, MOVE, 3);
  });

  it("give the last good take, marked stale, while the text is broken, and a problem when there never was one", async () => {
    await take();
    await client.change(PATH, MOVE.replace("rig: ../kit/slider.rig.yaml", "rig: ["), 4);
    const stale = await take();
    assert.equal(stale.stale, true);
    assert.equal(stale.version, 4);
    assert.ok(stale.findings.length > 0);
    await client.change(PATH, MOVE, 5);
    assert.equal((await take()).stale, false);
    await client.open("moves/new.move.yaml", "move: 1\n");
    const answer = await client.connection.sendRequest<TakeResult>("movewright/take", {
      uri: client.uri("moves/new.move.yaml"),
    });
    assert.ok("problem" in answer);
    assert.match(answer.problem.message, /can't be solved/);
    assert.ok(answer.problem.findings.every(({ code }) => code === "missing-field"));
  });

  const KEYS: readonly (readonly [where: string, word: string, key: number | null])[] = [
    ["before the keys", "rate: 25", null],
    ["in the first key", "aim:", 0],
    ["on the dash's line of the second", "at: 4 s", 1],
    ["in the second key", "plate: 30", 1],
    ["in the last", "after: 2 s", 2],
  ];
  for (const [where, word, key] of KEYS) {
    it(`name the key ${where}`, async () => {
      const found = await client.connection.sendRequest<KeyAtResult>("movewright/keyAt", {
        uri: client.uri(PATH),
        position: at(MOVE, word),
      });
      assert.deepEqual(found, key === null ? null : { key, time: [0, 4, 6][key] });
    });
  }

  it("name the text of a key and of a finding", async () => {
    const key = await placeOf({ key: 1 });
    assert.equal(key?.uri, client.uri(PATH));
    assert.match(textIn(MOVE, key!.range), /^at: 4 s[^]*plate: 30 }$/);
    assert.equal(await placeOf({ key: 9 }), null);
    await client.change(PATH, FAST, 6);
    const stage = await take();
    const items = await client.pullUntil(PATH, (found) => codes(found).includes("axis-speed"));
    const { id, message } = stage.findings.find(({ code }) => code === "axis-speed")!;
    const place = await placeOf({ finding: id });
    assert.deepEqual(place?.range, items.find((item) => item.message === message)?.range);
    assert.equal(await placeOf({ finding: 99 }), null);
  });
});
