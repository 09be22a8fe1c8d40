import assert from "node:assert/strict";
import type { Hover, MarkupContent } from "vscode-languageserver-protocol";
import { CAMERA, MOVE, RIG, SET, WORKSPACE } from "./documents.ts";
import { at, startServer, textIn, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";

describe("hover", () => {
  let client: Client;
  before(async () => {
    client = await startServer(WORKSPACE);
    await client.open(PATH, MOVE);
  });
  after(async () => assert.equal(await client.stop(), 0));

  const hover = async (word: string, shift = 0, nth = 0, text = MOVE, path = PATH) => {
    const found = await client.connection.sendRequest<Hover | null>("textDocument/hover", {
      textDocument: { uri: client.uri(path) },
      position: at(text, word, shift, nth),
    });
    return { text: (found?.contents as MarkupContent | undefined)?.value ?? "", range: found?.range };
  };
  /** Cells of the table's row that begins with a name, without marks. */
  const row = (markdown: string, name: string): string[] => {
    const line = markdown.split("\n").find((each) => each.startsWith(`| \`${name}\``));
    assert.ok(line, `a row of ${name} in\n${markdown}`);
    return line
      .split("|")
      .slice(2, -1)
      .map((cell) => cell.trim());
  };

  it("on a key shows every axis with its share of range, speed and acceleration", async () => {
    const { text } = await hover("name: right");
    // The slide rests at its turn: -0.3 m of -0.6..0.6 is a quarter.
    assert.deepEqual(row(text, "slide"), ["-0.3 m", "25 %", "0 m/s", "0 %", "0 m/s2", "0 %"]);
    // atan2(0.3, 2) = 8.53 deg to the left: the pan axis stands at y = -0.3, the target at y = 0, 2 m ahead.
    assert.equal(row(text, "pan")[0], "8.53 deg");
    assert.equal(row(text, "pan")[1], "53 %");
    assert.equal(row(text, "tilt")[0], "0 deg");
    assert.equal(row(text, "plate")[0], "30 deg");
  });

  it("on a key shows time, distance, framing and focus", async () => {
    const { text } = await hover("name: right");
    assert.match(text, /\*\*right\*\* \(2 of 3\), 00:00:04:00, frame 100, 4 s/);
    // sqrt(2^2 + 0.3^2) = 2.0224 m from the pan axis, whose pupil is 0.05 + 0.052 m in front: 1.9204 m.
    const lid = text.split("\n").find((line) => line.startsWith("| `lid` (aim)"));
    assert.match(lid ?? "", /1\.9204 m \| 0\.5, 0\.5/);
    // Focus counts from the sensor plane: 1.9204 + 0.052 + 0.044 = 2.0164 m.
    assert.match(text, /focus 2\.0164 m from the sensor plane/);
  });

  it("on a key says where the way to the next comes nearest to a limit", async () => {
    // 15/8 · 0.6 m / 4 s = 0.281 m/s at half time, 70 % of 0.4 m/s.
    assert.match((await hover("name: left")).text, /Until right: at most 70 % .* speed of `slide` at 00:00:02:00/);
  });

  it("on an axis shows what it does over the whole move", async () => {
    const { text, range } = await hover("slide: 0.3");
    assert.equal(range && textIn(MOVE, range), "slide");
    assert.match(text, /`slide`: linear, driven, keyed in this move/);
    assert.match(text, /0\.2813 m\/s|-0\.2813 m\/s/);
  });

  it("on an aim shows the target, and on a field what it takes and in which unit", async () => {
    assert.match((await hover("at: lid", 4)).text, /`lid`: a target at \[2, 0, 1\] m in the set/);
    const framing = await hover("framing:");
    assert.match(framing.text, /\*\*framing\*\*/);
    assert.match(framing.text, /left edge/);
  });

  it("on a limit of a rig says what it is and what the moves that use it need", async () => {
    await client.open("kit/slider.rig.yaml", RIG);
    const { text } = await hover("speed: 0.4", 1, 0, RIG, "kit/slider.rig.yaml");
    assert.match(text, /\*\*speed\*\*: Highest speed, m\/s or deg\/s/);
    assert.match(text, /Along the table \| -0\.3 m to 0\.3 m \| 0\.2813 m\/s \(70 %\)/);
    // 60 · 0.6 m / (4 s)^3 = 0.5625 m/s3 where minimum jerk begins, 1 % of 60 m/s3.
    assert.match(text, /top jerk[^]*0\.5625 m\/s3 \(1 %\)/);
  });

  it("on a target says from where it is seen at each key", async () => {
    const { text } = await hover("focus: lid", 8);
    assert.match(text, /\| right \| 00:00:04:00, frame 100, 4 s \| 1\.9204 m \| 0\.5, 0\.5 \|/);
  });

  it("on a target of a set says how near the moves that use it come", async () => {
    await client.open("moves/table.set.yaml", SET);
    const { text } = await hover("lid:", 1, 0, SET, "moves/table.set.yaml");
    // The pan axis passes it at 2 m, with the pupil 0.102 m in front; the ends of the way are as far as each other.
    assert.match(text, /\| Along the table \| 1\.898 m at 00:00:02:00 \| 1\.9204 m at 00:00:00:00 \| 6 s \|/);
  });

  it("on a time shows all notations", async () => {
    assert.match((await hover("at: 4 s", 4)).text, /As written: 4 s, frame 100, 00:00:04:00\./);
    assert.match((await hover("after: 2 s", 7)).text, /As written: 2 s, 50 frames\./);
  });

  it("on a lens shows field of view, close focus and the depth of field at the keys", async () => {
    const { text } = await hover("lens: prime-35", 8);
    // 2 atan(18 / 35) = 54.43 deg.
    assert.match(text, /35 mm, 54\.43 deg across, 32\.27 deg down, focuses from 0\.28 m/);
    // H = 35^2 / (2.8 * 0.03) + 35 = 14618.3 mm; s = 1920.4 mm from the pupil:
    // s (H - f) / (H + s - 2 f) = 1.7003 m and s (H - f) / (H - s) = 2.2060 m, both 96 mm more from the sensor plane.
    assert.match(text, /\| left \| 2\.0164 m \| f\/2\.8 \| 1\.796\d* m \| 2\.30\d* m \|/);
    await client.open("kit/a.camera.yaml", CAMERA);
    const own = await hover("prime-35:", 1, 0, CAMERA, "kit/a.camera.yaml");
    assert.match(own.text, /54\.43 deg across/);
  });

  it("on a code shows its row of the catalogue", async () => {
    const config = "config: 1\nseverity:\n  axis-speed: hint\n";
    await client.open("movewright.config.yaml", config);
    const { text } = await hover("axis-speed", 1, 0, config, "movewright.config.yaml");
    assert.match(text, /`axis-speed` \(error\): An axis is too fast\n\nThe speed of an axis is above/);
    const allowed = MOVE.replace("name: right", "name: right\n    allow: [{ code: axis-speed, reason: a test }]");
    await client.change(PATH, allowed, 10);
    assert.match((await hover("axis-speed", 1, 0, allowed)).text, /The speed of an axis is above/);
    await client.change(PATH, MOVE, 11);
  });

  it("on a pass says how often it is taken and what is elsewhere in it", async () => {
    const passes = "passes:\n  - { name: tall, times: 2, targets: { lid: { shift: [0, 0, 12 mm] } } }\nkeys:";
    const text = MOVE.replace("keys:", passes);
    await client.change(PATH, text, 12);
    const found = await hover("tall", 1, 0, text);
    assert.match(found.text, /`tall`: taken 2 times; `lid` is off its place by \[0 mm, 0 mm, 12 mm\]/);
    await client.change(PATH, MOVE, 13);
  });

  it("on an obstacle says what it is and what moves have to say of it", async () => {
    // The lens ends 0.1 m in front of the pan axis: a box around that point is run into.
    const set = `${SET}obstacles:\n  crate: { at: [0.15, 0, 1], box: [0.2, 0.2, 0.2] }\n`;
    await client.change("moves/table.set.yaml", set, 2);
    await hover("name: right");
    const { text } = await hover("crate", 1, 0, set, "moves/table.set.yaml");
    assert.match(text, /`crate`: a box of 0\.2 m by 0\.2 m by 0\.2 m/);
    assert.match(text, /Along the table/);
    await client.change("moves/table.set.yaml", SET, 3);
  });

  it("keeps the last good result while the text is broken, marked as such", async () => {
    const broken = MOVE.replace("rig: ../kit/slider.rig.yaml", "rig: [");
    await client.change(PATH, broken, 2);
    const { text } = await hover("name: right", 0, 0, broken);
    assert.match(text, /From the last text that could be solved/);
    assert.equal(row(text, "slide")[0], "-0.3 m");
    assert.match((await hover("focus: lid", 8, 0, broken)).text, /From the last text[^]*1\.898 m at 00:00:02:00/);
    await client.change(PATH, MOVE, 3);
    assert.doesNotMatch((await hover("name: right")).text, /From the last/);
  });

  it("reads nothing in a name as markup", async () => {
    const text = MOVE.replace("name: left", 'name: "<b>x</b> *left* (y)"');
    await client.change(PATH, text, 4);
    const found = await hover("focus: lid", 0, 0, text);
    assert.match(found.text, /\*\*\\<b\\>x\\<\/b\\> \\\*left\\\* \\\(y\\\)\*\*/);
    await client.change(PATH, MOVE, 5);
  });

  it("is nothing where nothing stands, and for a file that is not ours", async () => {
    assert.equal((await hover("  - at: 0 s")).text, "");
    await client.open("notes.yaml", "keys: 1\n");
    assert.equal((await hover("keys", 0, 0, "keys: 1\n", "notes.yaml")).text, "");
  });
});
