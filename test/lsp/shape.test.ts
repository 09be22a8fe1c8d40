import assert from "node:assert/strict";
import { runToEnd } from "../../core/base/task.ts";
import { analyse } from "../../core/checks/analyse.ts";
import type { Take } from "../../core/motion/take.ts";
import type { Trajectory } from "../../core/motion/trajectory.ts";
import { unpackTake } from "../../protocol/codec.ts";
import type { TakeResult } from "../../protocol/requests.ts";
import {
  SHAPE_REQUEST,
  type ShapeIntent,
  type ShapePhase,
  type ShapePreview,
  type ShapeResult,
} from "../../protocol/stage-shape.ts";
import { moveText, CAMERA, RIG, SET as BENCH_SET } from "../../bench/documents.ts";
import { MOVE, SET, WORKSPACE } from "./documents.ts";
import { startServer, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";
const LONG = "bench/long.move.yaml";
const LONG_KIT = { "bench/seven.rig.yaml": RIG, "bench/a.camera.yaml": CAMERA, "bench/a.set.yaml": BENCH_SET };

/** The motion of a text, as core gives it by itself. */
function motionOf(path: string, text: string, more: Readonly<Record<string, string>> = {}): Trajectory {
  const files: Record<string, string> = { ...WORKSPACE, ...LONG_KIT, ...more, [path]: text };
  const read = (file: string) => {
    const found = files[file.replace(/^\/job\//, "")];
    return found === undefined ? { state: "missing" as const } : { state: "text" as const, text: found };
  };
  const { trajectory } = runToEnd(analyse(`/job/${path}`, { read }));
  assert.ok(trajectory);
  return trajectory;
}

/** What single precision (IEEE 754) keeps of values below 8 [m, rad]: half of 2^-21. */
const SINGLE = 2.4e-7;

describe("shaping a move by hand", () => {
  let client: Client;
  before(async () => {
    client = await startServer({ ...WORKSPACE, ...LONG_KIT });
    await client.open(PATH, MOVE, 1);
    await client.open(LONG, moveText(40), 1);
  });
  after(async () => assert.equal(await client.stop(), 0));

  let turn = 0;
  const ask = (path: string, phase: ShapePhase, intent: ShapeIntent, version = 1): Promise<ShapeResult> =>
    client.connection.sendRequest(SHAPE_REQUEST, { uri: client.uri(path), turn: (turn += 1), version, phase, intent });
  const preview = async (path: string, intent: ShapeIntent): Promise<ShapePreview> => {
    const result = await ask(path, "preview", intent);
    assert.ok("preview" in result, JSON.stringify(result));
    return result.preview;
  };
  /** The text that a wish would write, of the move or of what it names. */
  const written = async (path: string, before: string, intent: ShapeIntent, version = 1) => {
    const result = await ask(path, "commit", intent, version);
    assert.ok("write" in result, JSON.stringify(result));
    const lines = before.split("\n");
    for (const { range, newText } of [...result.write.edits].reverse()) {
      assert.equal(range.start.line, range.end.line);
      const line = lines[range.start.line];
      lines[range.start.line] = line.slice(0, range.start.character) + newText + line.slice(range.end.character);
    }
    return { text: lines.join("\n"), ...result };
  };

  const wishes: readonly (readonly [string, string, ShapeIntent])[] = [
    [PATH, MOVE, { kind: "time", key: 1, time: 3.4 }],
    [PATH, MOVE, { kind: "time", key: 2, time: 7.24 }],
    [PATH, MOVE, { kind: "camera", key: 1, at: [0.05, -0.2, 1] }],
    [PATH, MOVE, { kind: "framing", key: 0, at: [0.4, 0.55] }],
    [PATH, MOVE, { kind: "axis", key: 1, axis: 3, by: -0.2 }],
    [LONG, moveText(40), { kind: "time", key: 20, time: 20.24 }],
    [LONG, moveText(40), { kind: "framing", key: 20, at: [0.45, 0.52] }],
    [LONG, moveText(40), { kind: "axis", key: 20, axis: 2, by: 0.02 }],
    [LONG, moveText(40), { kind: "camera", key: 20, at: [4.9, 0.4, 1.5] }],
  ];
  for (const [path, before, intent] of wishes) {
    it(`shows how ${path} goes with another ${intent.kind} of key ${intent.key + 1}, as its text then solves`, async () => {
      const answer = await client.connection.sendRequest<TakeResult>("movewright/take", { uri: client.uri(path) });
      assert.ok("take" in answer);
      const base = unpackTake(answer.take.samples);
      const shown = await preview(path, intent);
      const { text, made } = await written(path, before, intent);
      assert.notEqual(text, before);
      assert.equal(made, shown.says);
      const now = motionOf(path, text);
      assert.ok(Math.abs(shown.duration - now.duration) < 1e-12);
      assert.deepEqual(
        shown.times,
        now.move.keys.map(({ time }) => time),
      );
      assert.ok(shown.patch);
      const rows = unpackTake(shown.patch.rows);
      const instant = now.createInstant();
      const same = (t: number, { value, position }: Take, row: number, within: number): void => {
        now.at(t, instant, t < now.duration ? "right" : "left");
        const axes = now.axes.length;
        for (let axis = 0; axis < axes; axis++) {
          assert.ok(
            Math.abs(value[row * axes + axis] - instant.value[axis]) < within,
            `${now.axes[axis].name} at ${t} s`,
          );
        }
        for (let k = 0; k < 3; k++) assert.ok(Math.abs(position[3 * row + k] - instant.position[k]) < 10 * within);
      };
      for (let row = 0; row < rows.count; row++) same(rows.t[row], rows, row, SINGLE);
      // What is not sent again is as it was, or nearer than anybody sees: a micrometre, a millionth of a radian. Together they are in order of time, up to the end.
      const { from, to } = shown.patch;
      for (let row = 0; row < base.count; row++) {
        if (row < from || to <= row) same(base.t[row], base, row, 1e-6);
      }
      const times = [...base.t.subarray(0, from), ...rows.t, ...base.t.subarray(to)];
      assert.ok(times.every((t, i) => i === 0 || times[i - 1] < t));
      assert.equal(times[times.length - 1], now.duration);
    });
  }

  it("leaves the document as it is, and writes nothing by itself", async () => {
    const answer = await client.connection.sendRequest<TakeResult>("movewright/take", { uri: client.uri(PATH) });
    assert.ok("take" in answer && answer.take.version === 1);
    assert.deepEqual(
      answer.take.keys.map(({ time }) => time),
      [0, 4, 6],
    );
  });

  it("tells where a wish ends, and why", async () => {
    const far = await preview(PATH, { kind: "camera", key: 1, at: [0.05, -3, 1] });
    assert.match(far.stop?.words ?? "", /^`slide` is at the end of its range: 2\.\d+ m are left\.$/);
    assert.ok(far.stop?.at && Math.abs(far.stop.at[1] + 0.6) < 0.05, JSON.stringify(far.stop));
    const early = await preview(PATH, { kind: "time", key: 1, time: -1 });
    assert.match(early.stop?.words ?? "", /^`right` comes behind `left`/);
    // A subject half a picture to the side of what the head reaches: the tilt ends 60 deg up, and the lid stays in sight.
    const first = await ask(PATH, "preview", { kind: "time", key: 0, time: 1 });
    assert.deepEqual(first, { refusal: "A move begins with its first key, `left`: drag the keys behind it." });
  });

  it("moves a target in its set, and says how many moves go along", async () => {
    const intent: ShapeIntent = { kind: "target", key: 0, target: 0, at: [2.1, 0.05, 1.05] };
    const shown = await preview(PATH, intent);
    assert.deepEqual(shown.target, { index: 0, at: [2.1, 0.05, 1.05] });
    const result = await ask(PATH, "commit", intent);
    assert.ok("write" in result);
    assert.equal(result.write.uri, client.uri("moves/table.set.yaml"));
    const moves = Object.keys(WORKSPACE).filter((path) => path.endsWith(".move.yaml")).length;
    const note = moves > 1 ? ` ${moves} moves use this set and go along.` : "";
    assert.equal(result.made, `\`lid\` at 2.1 m, 50 mm, 1.05 m.${note}`);
    const rows = unpackTake(shown.patch!.rows);
    const now = motionOf(PATH, MOVE, {
      "moves/table.set.yaml": SET.replace("lid: { at: [2, 0, 1] }", "lid: { at: [2.1, 0.05, 1.05] }"),
    });
    const instant = now.createInstant();
    for (let row = 0; row < rows.count; row++) {
      now.at(rows.t[row], instant, rows.t[row] < now.duration ? "right" : "left");
      now.axes.forEach((_, axis) => {
        assert.ok(Math.abs(rows.value[row * now.axes.length + axis] - instant.value[axis]) < SINGLE);
      });
    }
  });

  it("solves only the newest of several wishes", async () => {
    const wanted = Array.from({ length: 16 }, (_, i) => 20.02 + i * 0.02);
    const results = await Promise.all(wanted.map((time) => ask(LONG, "preview", { kind: "time", key: 20, time })));
    // One that was done before the next one came in is answered too: how many are is the machine's business.
    const solved = results.map((one) => ("preview" in one ? one.preview.times[20] : undefined));
    solved.forEach((time, i) => {
      assert.ok(time === undefined ? "superseded" in results[i] : Math.abs(time - wanted[i]) < 1e-9, `${i}: ${time}`);
    });
    assert.notEqual(solved.at(-1), undefined, "the newest is solved");
    assert.ok(solved.includes(undefined), "older ones are dropped");
  });

  it("shapes no text but the one that the stage shows, and none that is broken", async () => {
    const other = await ask(PATH, "commit", { kind: "time", key: 1, time: 3 }, 7);
    assert.ok("refusal" in other && /changed meanwhile/.test(other.refusal));
    await client.change(PATH, MOVE.replace("at: 4 s", "at: ["), 2);
    const broken = await ask(PATH, "preview", { kind: "time", key: 1, time: 3 }, 2);
    assert.ok("refusal" in broken && /can't be solved as its text stands/.test(broken.refusal), JSON.stringify(broken));
    await client.change(PATH, MOVE, 3);
    const again = await ask(PATH, "preview", { kind: "time", key: 1, time: 3 }, 3);
    assert.ok("preview" in again, JSON.stringify(again));
    // No edit may make a move of which nothing is left.
    const none = await ask(PATH, "preview", { kind: "axis", key: 1, axis: 99, by: 1 }, 3);
    assert.ok("refusal" in none && /no such axis/.test(none.refusal));
  });
});
