import assert from "node:assert/strict";
import type { CompletionItem, TextEdit } from "vscode-languageserver-protocol";
import { MOVE, MOVE_JSON, WORKSPACE } from "./documents.ts";
import { offsetAt, positionAt, startServer, type Client } from "./harness.ts";

/** Where the cursor is (after `put` stands in the place of `old`), what must be offered, and what must not. */
interface Row {
  readonly name: string;
  readonly old: string;
  /** `$0` is the cursor. */
  readonly put: string;
  readonly offers: readonly string[];
  readonly not?: readonly string[];
  /** The text after the first of `offers` was taken, from `put`'s beginning. */
  readonly becomes?: string;
}

const YAML: readonly Row[] = [
  {
    name: "fields of the document",
    old: "rate: 25",
    put: "ra$0",
    offers: ["rate"],
    not: ["move", "chain"],
    becomes: "rate: ",
  },
  {
    name: "fields of a key",
    old: "focus: lid",
    put: "$0",
    offers: ["focus", "iris", "zoom", "roll", "stop"],
    not: ["axes", "at"],
  },
  {
    name: "fields of an aim",
    old: "{ at: lid, framing: [0.5, 0.5] }",
    put: "{ at: lid, fr$0 }",
    offers: ["framing"],
    not: ["at"],
    becomes: "{ at: lid, framing:  }",
  },
  {
    name: "fields of an open aim",
    old: "{ at: lid, framing: [0.5, 0.5] }",
    put: "{ at: lid, $0",
    offers: ["framing"],
    not: ["at"],
  },
  {
    name: "shapes of an ease",
    old: "focus: lid",
    put: "ease: min$0",
    offers: ["minimum-jerk"],
    becomes: "ease: minimum-jerk",
  },
  {
    name: "fields of an ease, one of its ramp",
    old: "focus: lid",
    put: "ease: { $0 }",
    offers: ["linear", "cubic", "ramp"],
  },
  {
    name: "fields of a switch's ease",
    old: "focus: lid",
    put: "switch: { begin: 20 %, ease: { linear: { $0 } } }",
    offers: ["ramp"],
  },
  {
    name: "how a key is held and played",
    old: "focus: lid",
    put: "$0",
    offers: ["hold", "ease", "switch", "speed"],
  },
  {
    name: "axes of this rig and turntables of this set",
    old: "{ slide: 0.3, plate: 0 }",
    put: "{ sl$0 }",
    offers: ["slide", "pan", "tilt", "plate"],
    becomes: "{ slide:  }",
  },
  {
    name: "axes that are not given yet",
    old: "{ slide: 0.3, plate: 0 }",
    put: "{ slide: 0.3, $0 }",
    offers: ["plate", "pan"],
    not: ["slide"],
  },
  { name: "targets", old: "at: lid,", put: "at: $0,", offers: ["lid", "spout"], not: ["plate"], becomes: "at: lid," },
  {
    name: "targets and `none` as an aim",
    old: "{ at: lid, framing: [0.5, 0.5] }",
    put: "$0",
    offers: ["none", "lid", "spout"],
  },
  {
    name: "targets to focus on",
    old: "focus: lid",
    put: "focus: l$0",
    offers: ["lid", "spout"],
    becomes: "focus: lid",
  },
  { name: "lenses of this camera", old: "lens: prime-35", put: "lens: $0", offers: ["prime-35"] },
  {
    name: "rig files",
    old: "rig: ../kit/slider.rig.yaml",
    put: "rig: $0",
    offers: ["../kit/slider.rig.yaml"],
    not: ["table.set.yaml"],
    becomes: "rig: ../kit/slider.rig.yaml",
  },
  {
    name: "rig files after a path was begun",
    old: "../kit/slider.rig.yaml",
    put: "../kit/sl$0",
    offers: ["../kit/slider.rig.yaml"],
    becomes: "../kit/slider.rig.yaml",
  },
  {
    name: "set files",
    old: "set: table.set.yaml",
    put: "set:$0",
    offers: ["table.set.yaml"],
    becomes: "set: table.set.yaml",
  },
  {
    name: "camera files in quotes",
    old: "../kit/a.camera.yaml",
    put: '"$0"',
    offers: ["../kit/a.camera.yaml"],
    becomes: '"../kit/a.camera.yaml"',
  },
  { name: "words", old: "focus: lid", put: "roll: $0", offers: ["level"] },
  { name: "true and false", old: "focus: lid", put: "stop: $0", offers: ["true", "false"] },
  { name: "rates", old: "rate: 25", put: "rate: 2$0", offers: ["25", "23.976", "29.97df"] },
  {
    name: "codes to allow",
    old: "focus: lid",
    put: "allow: [{ code: $0 }]",
    offers: ["axis-speed", "near-limit"],
    not: ["syntax"],
  },
];

const JSON_ROWS: readonly Row[] = [
  {
    name: "fields of the document",
    old: '"rate": 25,',
    put: '"ra$0",',
    offers: ["rate"],
    not: ["move"],
    becomes: '"rate": ${0:0},',
  },
  { name: "fields without a quote yet", old: '"rate": 25,', put: "$0", offers: ["rate", "start"], becomes: '"rate": ' },
  { name: "fields of a key", old: '"focus": "lid"', put: '"$0"', offers: ["focus", "roll"], not: ["axes"] },
  {
    name: "axes",
    old: '"slide": 0.3, "plate": 0',
    put: '"sl$0"',
    offers: ["slide", "pan", "plate"],
    becomes: '"slide": ',
  },
  { name: "targets", old: '"at": "lid"', put: '"at": "$0"', offers: ["lid", "spout"], becomes: '"at": "lid"' },
  {
    name: "targets without a quote yet",
    old: '"focus": "lid"',
    put: '"focus": $0',
    offers: ["lid"],
    becomes: '"focus": "lid"',
  },
  { name: "a target in an open quote", old: '"focus": "lid" }', put: '"focus": "l$0', offers: ["lid"] },
  { name: "lenses", old: '"prime-35"', put: '"$0"', offers: ["prime-35"] },
  {
    name: "rig files",
    old: '"../kit/slider.rig.yaml"',
    put: '"../$0"',
    offers: ["../kit/slider.rig.yaml"],
    becomes: '"../kit/slider.rig.yaml"',
  },
];

describe("completion", () => {
  let client: Client;
  let version = 1;
  before(async () => {
    client = await startServer({ ...WORKSPACE, "moves/along.move.json": MOVE_JSON });
    await client.open("moves/along.move.yaml", MOVE);
    await client.open("moves/along.move.json", MOVE_JSON);
  });
  after(async () => assert.equal(await client.stop(), 0));

  const check = async (path: string, text: string, { old, put, offers, not = [], becomes }: Row) => {
    const start = text.indexOf(old);
    assert.ok(start >= 0, `${old} is in the text`);
    const marked = text.slice(0, start) + put + text.slice(start + old.length);
    const offset = marked.indexOf("$0");
    const written = marked.replace("$0", "");
    await client.change(path, written, (version += 1));
    const items = await client.connection.sendRequest<CompletionItem[] | null>("textDocument/completion", {
      textDocument: { uri: client.uri(path) },
      position: positionAt(written, offset),
    });
    const labels = (items ?? []).map(({ label }) => label);
    for (const label of offers) assert.ok(labels.includes(label), `${label} among ${labels.join(", ")}`);
    for (const label of not) assert.ok(!labels.includes(label), `${label} not among ${labels.join(", ")}`);
    if (becomes === undefined) return;
    const edit = (items ?? []).find(({ label }) => label === offers[0])?.textEdit as TextEdit;
    const from = offsetAt(written, edit.range.start);
    const taken = written.slice(0, from) + edit.newText + written.slice(offsetAt(written, edit.range.end));
    assert.equal(taken.slice(start, start + becomes.length), becomes);
  };

  describe("in YAML offers", () => {
    for (const row of YAML) it(row.name, () => check("moves/along.move.yaml", MOVE, row));
  });
  describe("in JSON offers", () => {
    for (const row of JSON_ROWS) it(row.name, () => check("moves/along.move.json", MOVE_JSON, row));
  });

  describe("in a config offers", () => {
    const CONFIG = "config: 1\nseverity:\n  axis-speed: hint\n";
    before(() => client.open("movewright.config.yaml", CONFIG));
    for (const row of [
      {
        name: "its fields",
        old: "severity:\n  axis-speed: hint",
        put: "$0",
        offers: ["severity", "note"],
        not: ["keys"],
      },
      { name: "codes of findings", old: "axis-speed: hint", put: "cle$0", offers: ["clearance", "judder", "syntax"] },
      { name: "severities", old: "hint", put: "$0", offers: ["off", "warning", "hint"], becomes: "off" },
    ])
      it(row.name, () => check("movewright.config.yaml", CONFIG, row));
  });

  it("tells what a field is for and that it must be given", async () => {
    await client.open("moves/new.move.yaml", "");
    const items = await client.connection.sendRequest<CompletionItem[]>("textDocument/completion", {
      textDocument: { uri: client.uri("moves/new.move.yaml") },
      position: { line: 0, character: 0 },
    });
    const keys = items.find(({ label }) => label === "keys");
    assert.match(keys?.detail ?? "", /required/);
    assert.match((keys?.documentation as { value: string }).value, /The keys, in order of time/);
  });
});
