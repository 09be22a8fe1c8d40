import assert from "node:assert/strict";
import { analyseText } from "../checks/analyse.ts";
import { memorySources } from "../../test/fixtures/memory-sources.ts";
import { parseTree } from "../syntax/parse.ts";
import { elementOf } from "./element.ts";

const FILE = "lid.move.yaml";

/** Elements of all findings of the text of a move that names nothing that is there. */
function elements(text: string, file = FILE): string[] {
  const { textFindings } = analyseText(file, memorySources(new Map([[file, text]])));
  const tree = parseTree(text, file.endsWith("json") ? "json" : "yaml");
  return textFindings.map((finding) => `${finding.code} ${elementOf(finding, tree)}`);
}

const MOVE = `move: 1
rig: none.rig.yaml
camera: { use: none.camera.yaml, lens: wide }
keys:
  - { at: 0 s, name: start, axes: { pan: 1 kg } }
  - at: 2 s
    name: rise
    focsu: lid
  - { at: 4 furlongs }
`;

describe("element of a finding", () => {
  it("is the way to its place by names, and by position where there is none", () => {
    const found = elements(MOVE);
    assert.ok(found.includes("missing-file rig"), found.join("\n"));
    assert.ok(found.includes("missing-file camera.use"), found.join("\n"));
    assert.ok(found.includes("unknown-field keys.rise.focsu"), found.join("\n"));
    assert.ok(found.includes("wrong-type keys[3].at") || found.includes("wrong-unit keys[3].at"), found.join("\n"));
  });

  it("stays when lines, numbers and layout move, when keys are added, and in JSON", () => {
    const added = MOVE.replace("keys:\n", "# A note.\nkeys:\n  - { at: -1 s, name: before }\n");
    assert.deepEqual(
      elements(added).filter((each) => each.includes("rise")),
      ["unknown-field keys.rise.focsu"],
    );
    assert.deepEqual(elements(MOVE.replace("at: 2 s", "at: 2.5 s").replace("move: 1", "move: 1\n\n")), elements(MOVE));
    const json = JSON.stringify({
      move: 1,
      rig: "none.rig.yaml",
      camera: { use: "none.camera.yaml", lens: "wide" },
      keys: [
        { at: "0 s", name: "start", axes: { pan: "1 kg" } },
        { name: "rise", focsu: "lid", at: "2 s" },
        { at: "4 furlongs" },
      ],
    });
    assert.deepEqual(elements(json, "lid.move.json").sort(), elements(MOVE).sort());
  });

  it("is the map itself for what the map lacks, whatever stands first in it", () => {
    const lacks = "move: 1\nkeys:\n  - { name: a, axes: {} }\n  - { axes: {}, name: b }\n  - { name: c, axes: {} }\n";
    const found = elements(lacks).filter((each) => each.startsWith("missing-field"));
    assert.ok(found.includes("missing-field keys.b") && found.includes("missing-field keys.c"), found.join("\n"));
  });

  it("tells two of one name apart, and what stands nowhere is of the document", () => {
    const twice = "move: 1\nkeys:\n  - { name: a, foo: 1 }\n  - { at: 1 s, name: a, foo: 1 }\n";
    const found = elements(twice).filter((each) => each.startsWith("unknown-field"));
    assert.deepEqual(found, ["unknown-field keys.a.foo", "unknown-field keys.a[2].foo"]);
    assert.deepEqual(elements(""), ["empty-document document"]);
  });

  it("has the axis, the bodies and the pass beside the place where that does not say them", () => {
    const tree = parseTree(MOVE, "yaml");
    const start = MOVE.indexOf("- at: 2 s") + 2;
    const end = MOVE.indexOf("focsu: lid") + "focsu: lid".length;
    const common = { severity: "error", message: "", related: [], cures: [] } as const;
    const place = { file: FILE, span: { start, end } };
    const bodies = { part: "matte box", target: "spout" };
    const clearance = { ...common, code: "clearance", place, bodies, pass: "tall" } as const;
    assert.equal(elementOf(clearance, tree), "keys.rise (matte box, spout, pass tall)");
    const speed = { ...common, code: "axis-speed", place, axis: "tilt" } as const;
    assert.equal(elementOf(speed, tree), "keys.rise (tilt)");
    const at = MOVE.indexOf("pan: 1 kg");
    const onPan = { file: FILE, span: { start: at + 5, end: at + 9 } };
    assert.equal(elementOf({ ...speed, place: onPan, axis: "pan" }, tree), "keys.start.axes.pan");
  });
});
