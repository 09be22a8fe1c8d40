import assert from "node:assert/strict";
import { binaryStl, boxTriangles, gltfBuffer, gltfFile, gltfJson } from "../../test/stage/mesh-files.ts";
import type { Body, Solid } from "../rig/resolved-rig.ts";
import type { DocumentMemo } from "./resolution.ts";
import { resolveRig } from "./resolve-rig.ts";
import type { SourceState } from "./sources.ts";

const BOX = boxTriangles([-1, -1, 0], [1, 1, 2]);
const RIG = `rig: 1
chain: [{ axis: a, type: linear, range: [0, 1] }]
bodies:
  - { on: a, name: post, mesh: { file: FILE, scale: 0.5 } }
  - { on: a, name: more, mesh: { file: FILE, scale: 0.5 } }
`;

interface Kept {
  readonly bodies: readonly Body[];
  readonly messages: readonly string[];
  readonly unread: readonly string[];
  readonly inputs: readonly string[];
}

/** A rig that names one mesh twice, with the files beside it: bytes, or a state of their own. */
function read(
  name: string,
  files: Readonly<Record<string, Uint8Array | SourceState>>,
  memo: DocumentMemo = new Map(),
): Kept & { readonly reads: readonly string[] } {
  const reads: string[] = [];
  const { rig, problems, unread, inputs } = resolveRig(
    "r.rig.yaml",
    {
      read(file): SourceState {
        if (file === "r.rig.yaml") return { state: "text", text: RIG.replaceAll("FILE", name) };
        const own = files[file];
        if (!(own instanceof Uint8Array)) return own ?? { state: "missing" };
        return {
          state: "bytes",
          size: own.length,
          stamp: `${own.length}`,
          content() {
            reads.push(file);
            return own;
          },
        };
      },
    },
    memo,
  );
  const messages = problems.map(({ code, severity, message }) => `${severity} ${code}: ${message}`);
  return { bodies: rig?.bodies ?? [], messages, unread, inputs, reads };
}

type MeshSolid = Extract<Solid, { shape: "mesh" }>;
const solidOf = ({ bodies }: Kept, idx = 0): MeshSolid => bodies[idx].solid as MeshSolid;

const ends = (hull: readonly number[] = []): number[][] =>
  [0, 1, 2].map((k) => hull.filter((_, idx) => idx % 3 === k)).map((all) => [Math.min(...all), Math.max(...all)]);

describe("the hull of a mesh that a document names", () => {
  it("is in metres, as large as the text scales it, one object for all that are scaled alike", () => {
    const memo: DocumentMemo = new Map();
    const first = read("post.stl", { "post.stl": binaryStl(BOX) }, memo);
    assert.deepEqual(first.messages, []);
    assert.deepEqual(ends(solidOf(first).hull), [[-0.5, 0.5], [-0.5, 0.5], [0, 1]]); // prettier-ignore
    assert.equal(solidOf(first).margin, 0);
    assert.equal(solidOf(first, 1).hull, solidOf(first).hull);
    const again = read("post.stl", { "post.stl": binaryStl(BOX) }, memo);
    assert.equal(solidOf(again).hull, solidOf(first).hull);
    assert.deepEqual([first.reads, again.reads], [["post.stl"], []]);
  });

  it("is another one when the file or one that it names is another", () => {
    const memo: DocumentMemo = new Map();
    const mesh = gltfFile(gltfJson(BOX, "side.bin"));
    const whole = { "post.gltf": mesh, "side.bin": gltfBuffer(BOX) };
    const first = read("post.gltf", whole, memo);
    assert.deepEqual(first.messages, []);
    assert.deepEqual(ends(solidOf(first).hull), [[-0.5, 0.5], [-1, 0], [-0.5, 0.5]]); // prettier-ignore
    assert.ok(first.inputs.includes("side.bin"));
    const again = read("post.gltf", whole, memo);
    assert.equal(solidOf(again).hull, solidOf(first).hull);
    assert.ok(again.inputs.includes("side.bin"), "a kept mesh still hangs on its parts");
    const longer = new Uint8Array(gltfBuffer(BOX).length + 36);
    longer.set(gltfBuffer(boxTriangles([-1, -1, 0], [1, 1, 4])));
    const changed = read("post.gltf", { ...whole, "side.bin": longer }, memo);
    assert.deepEqual(ends(solidOf(changed).hull)[1], [-2, 0]);
    const gone = read("post.gltf", { "post.gltf": mesh }, memo);
    assert.equal(solidOf(gone).hull, undefined);
    assert.match(gone.messages[0], /`side\.bin`, which it names, can't be read/);
  });

  it("is waited for, without a finding, while nobody has looked at a file", () => {
    const mesh = gltfFile(gltfJson(BOX, "side.bin"));
    const waiting = read("post.gltf", { "post.gltf": mesh, "side.bin": { state: "unread" } });
    assert.deepEqual([waiting.messages, waiting.unread], [[], ["side.bin"]]);
    assert.equal(solidOf(waiting).hull, undefined);
  });

  it("is none where the file is broken or gone, which is one finding each", () => {
    const broken = read("post.stl", { "post.stl": Uint8Array.of(1, 2, 3) });
    const wanted =
      "warning not-computed: `post.stl` can't be read as a mesh. It is neither a text nor a binary STL file. No clearance is measured there.";
    assert.deepEqual(broken.messages, [wanted, wanted]);
    assert.equal(solidOf(broken).hull, undefined);
    const unread = read("post.stl", {
      "post.stl": { state: "bytes", size: 3, stamp: "3", content: () => undefined },
    });
    assert.match(unread.messages[0], /It can't be read\. No clearance/);
    const large = read("post.stl", {
      "post.stl": { state: "bytes", size: 9_000_000, stamp: "9", content: () => assert.fail("It is too large.") },
    });
    assert.match(large.messages[0], /^warning too-large: .* No clearance is measured there\.$/);
    assert.match(read("post.stl", {}).messages[0], /^error missing-file/);
    assert.match(read("post.dae", {}).messages[0], /^warning not-computed: .* No clearance is measured there\.$/);
  });
});
