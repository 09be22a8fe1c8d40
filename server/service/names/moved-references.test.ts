import assert from "node:assert/strict";
import { applyEdits } from "../../../core/edit/apply-edits.ts";
import { documentKind } from "../../../core/model/document-kind.ts";
import { parseTree } from "../../../core/syntax/parse.ts";
import { movedBy, movedMeshes, movedReferences } from "./moved-references.ts";
import { namedDocument } from "./written-names.ts";

/** The text of a document after files moved. */
function after(file: string, text: string, pairs: Readonly<Record<string, string>>): string {
  const { kind, format } = documentKind(file)!;
  const moved = movedBy(Object.entries(pairs).map(([from, to]) => ({ from, to })));
  return applyEdits(text, movedReferences(namedDocument(file, kind, text, parseTree(text, format)), text, moved));
}

const MOVE = "/job/moves/a.move.yaml";
const rig = (path: string, rest = "") => `move: 1 # a remark\r\nrig: ${path}${rest}\r\nset: table.set.yaml\r\n`;

describe("references when files move", () => {
  const cases: readonly (readonly [
    name: string,
    file: string,
    text: string,
    pairs: Readonly<Record<string, string>>,
    wanted: string,
  ])[] = [
    [
      "a new name, in plain words",
      MOVE,
      rig("../kit/a.rig.yaml", " # ours"),
      { "/job/kit/a.rig.yaml": "/job/kit/b.rig.yaml" },
      rig("../kit/b.rig.yaml", " # ours"),
    ],
    [
      "a new folder, in double quotes",
      MOVE,
      rig('"../kit/a.rig.yaml"'),
      { "/job/kit/a.rig.yaml": "/job/moves/new/a.rig.yaml" },
      rig('"new/a.rig.yaml"'),
    ],
    [
      "an apostrophe, in single quotes",
      MOVE,
      rig("'../kit/a.rig.yaml'"),
      { "/job/kit/a.rig.yaml": "/job/kit/o'hara.rig.yaml" },
      rig("'../kit/o''hara.rig.yaml'"),
    ],
    [
      "a quote, in double quotes",
      MOVE,
      rig('"../kit/a.rig.yaml"'),
      { "/job/kit/a.rig.yaml": '/job/kit/9".rig.yaml' },
      rig('"../kit/9\\".rig.yaml"'),
    ],
    [
      "a name that needs quotes",
      MOVE,
      rig("../kit/a.rig.yaml", " # ours"),
      { "/job/kit/a.rig.yaml": "/job/kit/a: b #1.rig.yaml" },
      rig('"../kit/a: b #1.rig.yaml"', " # ours"),
    ],
    [
      "letters of any script",
      MOVE,
      rig("../kit/a.rig.yaml"),
      { "/job/kit/a.rig.yaml": "/job/kit/Töpferei 急須.rig.yaml" },
      rig("../kit/Töpferei 急須.rig.yaml"),
    ],
    [
      "a folder of the file",
      MOVE,
      rig("../kit/a.rig.yaml"),
      { "/job/kit": "/job/rigs/old" },
      rig("../rigs/old/a.rig.yaml"),
    ],
    [
      "a folder whose name only begins alike",
      MOVE,
      rig("../kit/a.rig.yaml"),
      { "/job/ki": "/job/x" },
      rig("../kit/a.rig.yaml"),
    ],
    [
      "the document itself, to another folder",
      MOVE,
      rig("../kit/a.rig.yaml"),
      { [MOVE]: "/job/moves/old/b.move.yaml" },
      rig("../../kit/a.rig.yaml").replace("table", "../table"),
    ],
    [
      "the document itself, in its folder",
      MOVE,
      rig("../kit/a.rig.yaml"),
      { [MOVE]: "/job/moves/b.move.yaml" },
      rig("../kit/a.rig.yaml"),
    ],
    ["both, together", MOVE, rig("../kit/a.rig.yaml"), { "/job": "/shelf/job" }, rig("../kit/a.rig.yaml")],
    [
      "both, apart",
      MOVE,
      rig("../kit/a.rig.yaml"),
      { [MOVE]: "/job/a.move.yaml", "/job/kit/a.rig.yaml": "/job/b.rig.yaml" },
      rig("b.rig.yaml").replace("table", "moves/table"),
    ],
    [
      "a path from the root, that stays one",
      MOVE,
      rig("/job/kit/a.rig.yaml"),
      { "/job/kit/a.rig.yaml": "/job/kit/b.rig.yaml", [MOVE]: "/job/x/y/a.move.yaml" },
      rig("/job/kit/b.rig.yaml").replace("table", "../../moves/table"),
    ],
    [
      "a path from the root of an editor's file system",
      "vscode-vfs://host/job/moves/a.move.yaml",
      rig("/job/kit/a.rig.yaml"),
      { "vscode-vfs://host/job/kit": "vscode-vfs://host/job/new" },
      rig("/job/new/a.rig.yaml"),
    ],
    [
      "a block",
      MOVE,
      "move: 1\nrig: >-\n  ../kit/a.rig.yaml\nset: table.set.yaml\n",
      { "/job/kit": "/job/new" },
      'move: 1\nrig: "../new/a.rig.yaml"\nset: table.set.yaml\n',
    ],
    [
      "a flow map",
      MOVE,
      "move: 1\ncamera: { use: ../kit/a.camera.yaml, lens: wide }\n",
      { "/job/kit/a.camera.yaml": "/job/kit/a, b.camera.yaml" },
      'move: 1\ncamera: { use: "../kit/a, b.camera.yaml", lens: wide }\n',
    ],
    [
      "JSON, with an escape",
      "/job/moves/a.move.json",
      '{ "move": 1, "rig": "../kit\\/a.rig.yaml", "set": "table.set.yaml" }',
      { "/job/kit": "/job/new kit" },
      '{ "move": 1, "rig": "../new kit/a.rig.yaml", "set": "table.set.yaml" }',
    ],
    [
      "moves of a shoot, and the key of one",
      "/job/day.shoot.yaml",
      "shoot: 1\nshots:\n  - { name: a, move: moves/a.move.yaml }\nmatch:\n  - { from: moves/a.move.yaml#last, to: moves/b.move.yaml#first }\n",
      { [MOVE]: "/job/moves/lid.move.yaml" },
      "shoot: 1\nshots:\n  - { name: a, move: moves/lid.move.yaml }\nmatch:\n  - { from: moves/lid.move.yaml#last, to: moves/b.move.yaml#first }\n",
    ],
    [
      "the key of a move whose name needs quotes",
      "/job/day.shoot.yaml",
      "shoot: 1\nmatch:\n  - from: moves/a.move.yaml#last\n    to: moves/b.move.yaml#first # c\n",
      { "/job/moves": "/job/a [1]" },
      'shoot: 1\nmatch:\n  - from: "a [1]/a.move.yaml#last"\n    to: "a [1]/b.move.yaml#first" # c\n',
    ],
    [
      "the URDF file and the mesh of a rig",
      "/job/kit/a.rig.yaml",
      "rig: 1\nurdf: arm.urdf\n",
      { "/job/kit/arm.urdf": "/job/arms/arm.urdf" },
      "rig: 1\nurdf: ../arms/arm.urdf\n",
    ],
  ];
  for (const [name, file, text, pairs, wanted] of cases) {
    it(`follow: ${name}`, () => assert.equal(after(file, text, pairs), wanted));
  }
});

describe("meshes of a URDF file when files move", () => {
  const urdf = (...names: string[]) =>
    `<robot name="a">${names.map((name, idx) => `<link name="l${idx}"><visual><geometry><mesh filename="${name}"/></geometry></visual></link>`).join("\n")}</robot>`;
  const there = new Set(["/job/kit/meshes/a.stl", "/job/kit/arm/b.stl"]);
  const follow = (text: string, pairs: Readonly<Record<string, string>>) => {
    const moved = movedBy(Object.entries(pairs).map(([from, to]) => ({ from, to })));
    return applyEdits(
      text,
      movedMeshes("/job/kit/arm.urdf", text, moved, (file) => there.has(file)),
    );
  };
  const both = urdf("meshes/a.stl", "package://arm/b.stl");

  it("follow a mesh that moves, in its package and out of it", () => {
    assert.equal(
      follow(both, { "/job/kit/meshes/a.stl": "/job/kit/a&b.stl" }),
      urdf("a&amp;b.stl", "package://arm/b.stl"),
    );
    assert.equal(
      follow(both, { "/job/kit/arm/b.stl": "/job/kit/arm/c.stl" }),
      urdf("meshes/a.stl", "package://arm/c.stl"),
    );
    assert.equal(follow(both, { "/job/kit/arm/b.stl": "/job/kit/c.stl" }), urdf("meshes/a.stl", "c.stl"));
    assert.equal(follow(both, { "/job/kit/arm": "/job/kit/hand" }), urdf("meshes/a.stl", "hand/b.stl"));
  });

  it("stay where they lead to the same file, and are led there again where they don't", () => {
    assert.equal(follow(both, { "/job/kit": "/job/new" }), both);
    const away = { "/job/kit/arm.urdf": "/job/urdf/arm.urdf" };
    assert.equal(follow(both, away), urdf("../kit/meshes/a.stl", "../kit/arm/b.stl"));
    assert.equal(follow(urdf("gone.stl"), away), urdf("gone.stl"));
    assert.equal(follow("no markup at all <", away), "no markup at all <");
  });
});
