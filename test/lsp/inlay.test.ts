import assert from "node:assert/strict";
import type { InlayHint } from "vscode-languageserver-protocol";
import { MOVE, RIG, SET, WORKSPACE } from "./documents.ts";
import { offsetAt, startServer, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";
/** A camera key of a rig whose axes are all solved for it, and times in each notation. */
const CRANE = `rig: 1
chain:
  - { axis: swing, type: rotary, origin: { at: [0, 0, 1.2] }, range: [-170, 170], limits: { speed: 30, accel: 40, jerk: 300 } }
  - { axis: lift, type: rotary, along: [0, -1, 0], range: [-50, 50], limits: { speed: 20, accel: 40, jerk: 300 } }
  - { axis: tube, type: linear, along: [1, 0, 0], range: [-0.6, 0.6], limits: { speed: 1, accel: 2, jerk: 20 } }
  - { axis: level, type: rotary, along: [0, -1, 0], origin: { at: [1.5, 0, 0] }, range: [-50, 50], follows: { axis: lift, ratio: -1 } }
  - { axis: pan, type: rotary, range: [-180, 180], limits: { speed: 60, accel: 120, jerk: 900 } }
  - { axis: tilt, type: rotary, along: [0, -1, 0], range: [-95, 60], limits: { speed: 60, accel: 120, jerk: 900 } }
head: { pan: pan, tilt: tilt }
camera-mount: { at: [0.04, 0, 0.05] }
`;
const REACH = `move: 1
rig: ../kit/crane.rig.yaml
camera: { use: ../kit/a.camera.yaml, lens: prime-35 }
set: table.set.yaml
rate: 25
start: 01:00:00:00
keys:
  - at: 0 f
    camera: { at: [1.4, -0.3, 1.2] }
    aim: lid
  - at: 01:00:06:10
    camera: { at: [1.4, 0.1, 1.2] }
`;

describe("inlay hints", () => {
  let client: Client;
  before(async () => {
    client = await startServer({ ...WORKSPACE, "kit/crane.rig.yaml": CRANE });
    await client.open(PATH, MOVE);
    await client.open("moves/reach.move.yaml", REACH);
  });
  after(async () => assert.equal(await client.stop(), 0));

  /** Each line that has hints, with them in place. */
  const shown = async (path: string, text: string, from = 0, to = 1000) => {
    const hints = await client.connection.sendRequest<InlayHint[]>("textDocument/inlayHint", {
      textDocument: { uri: client.uri(path) },
      range: { start: { line: from, character: 0 }, end: { line: to, character: 0 } },
    });
    const written = hints.reduceRight((now, { position, label }) => {
      const at = offsetAt(text, position);
      return `${now.slice(0, at)}‹${String(label)}›${now.slice(at)}`;
    }, text);
    return written
      .split("\n")
      .filter((line) => line.includes("‹"))
      .map((line) => line.trim());
  };

  it("tell the time in the other notations, the peak on the way there, and what the head is solved to", async () => {
    const lines = await shown(PATH, MOVE);
    assert.equal(lines.length, 4);
    assert.equal(lines[0], "- at: 0 s‹frame 0, 00:00:00:00›");
    assert.match(lines[1], /^aim: { at: lid‹pan -8\.53 deg, tilt -?[\d.]+ deg›, framing: \[0\.5, 0\.5\] }$/);
    // 15/8 of 0.6 m in 4 s on a slide of 0.4 m/s: 70 %.
    assert.equal(lines[2], "- at: 4 s‹frame 100, 00:00:04:00›‹70 % of slide speed›");
    assert.match(lines[3], /^- after: 2 s‹6 s, frame 150, 00:00:06:00›‹\d+ % of \w+ \w+›$/);
  });

  it("say nothing twice: no frames behind frames, no label behind a label, solved axes behind a camera point", async () => {
    const lines = await shown("moves/reach.move.yaml", REACH);
    assert.equal(lines[0], "- at: 0 f‹01:00:00:00›");
    assert.match(lines[1], /^camera: { at: .* }‹swing [-\d.]+ deg, lift [-\d.]+ deg, tube [-\d.]+ m›$/);
    assert.match(lines[2], /^aim: lid‹pan [-\d.]+ deg, tilt [-\d.]+ deg›$/);
    assert.match(lines[3], /^- at: 01:00:06:10‹frame 160›‹\d+ % of /);
    assert.match(lines[4], /‹swing [^›]*, pan [^›]*, tilt [^›]*›$/);
  });

  it("come only for the lines that are asked for", async () => {
    assert.deepEqual(await shown(PATH, MOVE, 12, 13), ["- at: 4 s‹frame 100, 00:00:04:00›‹70 % of slide speed›"]);
  });

  it("stay where they belong while the text is broken, and say so", async () => {
    const broken = MOVE.replace("title: Along the table", "title: [Along the long table");
    await client.change(PATH, broken, 2);
    const hints = await client.connection.sendRequest<InlayHint[]>("textDocument/inlayHint", {
      textDocument: { uri: client.uri(PATH) },
      range: { start: { line: 0, character: 0 }, end: { line: 100, character: 0 } },
    });
    assert.equal(hints.length, 7 - 1);
    assert.ok(hints.every(({ tooltip }) => String(tooltip).includes("last text that could be solved")));
    assert.equal(broken.slice(0, offsetAt(broken, hints[0].position)).endsWith("at: 0 s"), true);
    await client.change(PATH, MOVE, 3);
  });

  it("are asked for again when a rig that the move uses changes", async () => {
    await client.open("kit/slider.rig.yaml", RIG);
    await shown(PATH, MOVE);
    const before = client.hintRefreshes();
    await client.change("kit/slider.rig.yaml", RIG.replace("speed: 0.4", "speed: 0.35"), 2);
    await client.until("a refresh", () => client.hintRefreshes() > before);
    assert.equal((await shown(PATH, MOVE))[2], "- at: 4 s‹frame 100, 00:00:04:00›‹80 % of slide speed›");
  });

  it("can be turned off, each kind by itself", async () => {
    const settings = { movewright: { inlayHints: { times: false, peaks: false } } };
    await client.connection.sendNotification("workspace/didChangeConfiguration", { settings });
    assert.equal((await shown(PATH, MOVE)).length, 1);
    await client.connection.sendNotification("workspace/didChangeConfiguration", {
      settings: { movewright: { inlayHints: { times: false, peaks: false, solved: false } } },
    });
    assert.deepEqual(await shown(PATH, MOVE), []);
  });

  it("are not there for other documents", async () => {
    await client.open("moves/table.set.yaml", SET);
    assert.deepEqual(await shown("moves/table.set.yaml", SET), []);
  });
});
