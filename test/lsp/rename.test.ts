import assert from "node:assert/strict";
import type { DocumentHighlight, Range, WorkspaceEdit } from "vscode-languageserver-protocol";
import { CAMERA, MOVE, MOVE_JSON, RIG, SET, WORKSPACE } from "./documents.ts";
import { at, offsetAt, startServer, textIn, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";
/** Another rig with an axis of the same name, and a move that uses it with a set that sights with the first rig. */
const OTHER_RIG = RIG.replace("name: Slider", "name: Other slider");
const OTHER_SET = `set: 1
targets:
  lid: { at: [2, 0, 1] }
  knob:
    sights:
      - rig: ../kit/slider.rig.yaml
        camera: { use: ../kit/a.camera.yaml, lens: prime-35 }
        place: { at: [0, 0] }
        axes: { slide: 0.1, pan: 2, tilt: 0 } # as read
      - rig: ../kit/other.rig.yaml
        camera: { use: ../kit/a.camera.yaml, lens: prime-35 }
        place: { at: [0, 1] }
        axes: { "slide": 0, pan: -8, tilt: 0 }
`;
const OTHER_MOVE = MOVE.replace("slider.rig", "other.rig")
  .replace("table.set", "other.set")
  .replaceAll(/, plate: \d+/g, "");
const SHOOT = `shoot: 1
shots:
  - move: along.move.yaml
    passes: [wet]
`;
const PASSES = `${MOVE}passes:
  - { name: wet, targets: { lid: { shift: [0, 0, 0.01] } } }
expect:
  - { of: slide.speed, below: 0.4 m/s } # the slide
  - { of: lid.distance, above: 1 m }
`;
const TEXTS: Readonly<Record<string, string>> = {
  ...WORKSPACE,
  [PATH]: PASSES,
  "moves/along.move.json": MOVE_JSON,
  "kit/other.rig.yaml": OTHER_RIG,
  "moves/other.set.yaml": OTHER_SET,
  "moves/other.move.yaml": OTHER_MOVE,
  "moves/day.shoot.yaml": SHOOT,
};

describe("rename and highlights", () => {
  let client: Client;
  before(async () => {
    client = await startServer(TEXTS);
    for (const [path, text] of Object.entries(TEXTS)) await client.open(path, text);
  });
  after(async () => assert.equal(await client.stop(), 0));

  const params = (path: string, word: string, shift: number) => ({
    textDocument: { uri: client.uri(path) },
    position: at(TEXTS[path], word, shift),
  });
  /** The documents that a renaming changes, with their new texts. */
  const renamed = async (path: string, word: string, shift: number, newName: string) => {
    const edit = await client.connection.sendRequest<WorkspaceEdit>("textDocument/rename", {
      ...params(path, word, shift),
      newName,
    });
    return Object.fromEntries(
      Object.keys(TEXTS).flatMap((each) => {
        const edits = edit.changes?.[client.uri(each)];
        if (!edits) return [];
        const backwards = [...edits].sort(
          (a, b) => offsetAt(TEXTS[each], b.range.start) - offsetAt(TEXTS[each], a.range.start),
        );
        const cut = (text: string, { range, newText }: (typeof edits)[number]) =>
          text.slice(0, offsetAt(TEXTS[each], range.start)) + newText + text.slice(offsetAt(TEXTS[each], range.end));
        return [[each, backwards.reduce(cut, TEXTS[each])]];
      }),
    );
  };
  const refusal = (path: string, word: string, shift: number, newName: string) =>
    renamed(path, word, shift, newName).then(
      () => "",
      (error: Error) => error.message,
    );

  it("renames an axis in the rig, in moves in YAML and JSON, in sights with that rig, and nothing else", async () => {
    const changed = await renamed(PATH, "slide: 0.3", 2, "carriage");
    assert.deepEqual(changed, {
      "kit/slider.rig.yaml": RIG.replace("axis: slide", "axis: carriage"),
      [PATH]: PASSES.replaceAll("slide:", "carriage:").replace("slide.speed", "carriage.speed"),
      "moves/along.move.json": MOVE_JSON.replaceAll('"slide"', '"carriage"'),
      "moves/other.set.yaml": OTHER_SET.replace("{ slide: 0.1", "{ carriage: 0.1"),
    });
  });

  it("renames from the definition as from a use, where the head names the axis too", async () => {
    const changed = await renamed("kit/other.rig.yaml", "axis: pan", 7, "yaw");
    assert.deepEqual(changed, {
      "kit/other.rig.yaml": OTHER_RIG.replace("axis: pan", "axis: yaw").replace("{ pan: pan,", "{ pan: yaw,"),
      "moves/other.set.yaml": OTHER_SET.replace("pan: -8", "yaw: -8"),
    });
  });

  it("renames a target, a turntable, a lens and a pass wherever they are named", async () => {
    assert.deepEqual(await renamed("moves/table.set.yaml", "lid:", 1, "knob top"), {
      "moves/table.set.yaml": SET.replace("lid:", "knob top:"),
      [PATH]: PASSES.replaceAll(": lid", ": knob top")
        .replace("{ lid:", "{ knob top:")
        .replace("lid.dist", "knob top.dist"),
      "moves/along.move.json": MOVE_JSON.replaceAll('"lid"', '"knob top"'),
    });
    const table = await renamed("moves/table.set.yaml", "on: plate", 5, "wheel");
    assert.equal(table["moves/table.set.yaml"], SET.replaceAll("plate", "wheel"));
    assert.equal(table[PATH], PASSES.replaceAll("plate:", "wheel:"));
    const lens = await renamed(PATH, "lens: prime", 8, "prime-36");
    assert.equal(lens["kit/a.camera.yaml"], CAMERA.replace("prime-35", "prime-36"));
    assert.deepEqual(Object.keys(lens).length, 5);
    assert.deepEqual(await renamed(PATH, "name: wet", 7, "damp"), {
      [PATH]: PASSES.replace("name: wet", "name: damp"),
      "moves/day.shoot.yaml": SHOOT.replace("[wet]", "[damp]"),
    });
  });

  it("refuses names that cannot stand there or are taken, and says why", async () => {
    assert.match(await refusal(PATH, "slide: 0.3", 2, "a.b"), /holds none of the marks/);
    assert.match(await refusal(PATH, "slide: 0.3", 2, "base"), /meaning of its own/);
    assert.match(await refusal(PATH, "slide: 0.3", 2, "2nd"), /begin with a letter/);
    assert.match(await refusal(PATH, "slide: 0.3", 2, "pan"), /in slider\.rig\.yaml already/);
    assert.match(await refusal(PATH, "slide: 0.3", 2, "plate"), /in table\.set\.yaml already/);
    assert.equal(await refusal(PATH, "slide: 0.3", 2, "slide"), "");
  });

  it("is offered on names only, with the name as it stands", async () => {
    const prepare = (word: string, shift: number) =>
      client.connection.sendRequest<{ range: Range; placeholder: string } | null>(
        "textDocument/prepareRename",
        params(PATH, word, shift),
      );
    const found = await prepare("slide.speed", 2);
    assert.deepEqual([found?.placeholder, found && textIn(PASSES, found.range)], ["slide", "slide"]);
    assert.equal(await prepare("rate: 25", 7), null);
    await client.change(PATH, PASSES.replace("focus: lid", "focus: lit"), 2);
    await assert.rejects(prepare("focus: lid", 8), /`lit` is defined in no document/);
    await client.change(PATH, PASSES, 3);
  });

  it("highlights what is the same, told apart as defined and used", async () => {
    const marked = async (path: string, word: string, shift: number) => {
      const found = await client.connection.sendRequest<DocumentHighlight[]>(
        "textDocument/documentHighlight",
        params(path, word, shift),
      );
      return found.map(
        ({ range, kind }) => `${range.start.line} ${textIn(TEXTS[path], range)} ${kind === 3 ? "defined" : "used"}`,
      );
    };
    assert.deepEqual(await marked("kit/slider.rig.yaml", "axis: tilt", 7), ["14 tilt defined", "19 tilt used"]);
    assert.deepEqual(await marked("moves/other.set.yaml", "slide: 0.1", 1), ["8 slide used"]);
    assert.deepEqual((await marked(PATH, "slide.speed", 1)).length, 4);
    assert.deepEqual(await marked(PATH, "rate: 25", 7), []);
  });
});
