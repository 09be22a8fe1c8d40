import assert from "node:assert/strict";
import type { Hover, MarkupContent } from "vscode-languageserver-protocol";
import { MOVE, RIG, WORKSPACE } from "./documents.ts";
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
  });

  it("keeps the last good result while the text is broken, marked as such", async () => {
    const broken = MOVE.replace("rig: ../kit/slider.rig.yaml", "rig: [");
    await client.change(PATH, broken, 2);
    const { text } = await hover("name: right", 0, 0, broken);
    assert.match(text, /From the last text that could be solved/);
    assert.equal(row(text, "slide")[0], "-0.3 m");
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
