import assert from "node:assert/strict";
import { checkFindings } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";
import { memorySources } from "../../test/fixtures/memory-sources.ts";
import { asciiStl, boxTriangles } from "../../test/stage/mesh-files.ts";
import { drawPicture, PICTURE_VIEWS } from "../draw/picture.ts";
import { runToEnd } from "../base/task.ts";
import { analyse } from "../checks/analyse.ts";
import { findingsOf, type Analysis } from "../checks/analysis.ts";
import type { SourceState } from "./sources.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

const MOVE = `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: dressed.set.yaml
keys:
  - { at: 0 s, axes: { slide: -0.4, pan: 0, tilt: 0 } }
  - { at: 4 s, axes: { slide: 0.4 } }
`;

/** A move in a set, with files beside it: bytes, or a state of their own. */
function analysed(set: string, files: Readonly<Record<string, Uint8Array | SourceState>> = {}): Analysis {
  const texts = memorySources(new Map(Object.entries({ ...KIT, "m.move.yaml": MOVE, "dressed.set.yaml": set })));
  return runToEnd(
    analyse("m.move.yaml", {
      read(file) {
        const own = files[file];
        if (!own) return texts.read(file);
        if (!(own instanceof Uint8Array)) return own;
        return { state: "bytes", size: own.length, stamp: "1", content: () => own };
      },
    }),
  );
}

describe("dressing of a set", () => {
  it("is resolved where it stands, on a turntable too", () => {
    const { move } = analysed(`set: 1
turntables: { plate: { at: [2, 0, 0.9] } }
dressing:
  shelf: { box: [0.3, 1, 0.02], at: [2.5, 0, 1.2], turn: [0, 0, 90] }
  cup: { cylinder: { radius: 4 cm, height: 9 cm }, at: [0.1, 0, 0.045], on: plate }
`);
    const [shelf, cup] = move?.dressing ?? [];
    assert.deepEqual(shelf.solid, { shape: "box", size: [0.3, 1, 0.02] });
    assert.deepEqual(shelf.pose.at, [2.5, 0, 1.2]);
    // A quarter turn about z: half angle 45 degrees.
    assert.ok(Math.abs(shelf.pose.turn[2] - Math.SQRT1_2) < 1e-12 && shelf.table === undefined);
    assert.deepEqual([cup.name, cup.table, cup.pose.at], ["cup", 0, [0.1, 0, 0.045]]);
    assert.deepEqual(move?.obstacles, []);
  });

  it("stops nothing: right in the way of the camera it has no finding, where an obstacle has, and a person", () => {
    const inTheWay = "{ box: [0.3, 0.3, 0.3], at: [0.15, 0, 1.2] }";
    const codes = (field: string): string[] => [
      ...new Set(findingsOf(analysed(`set: 1\n${field}: { crate: ${inTheWay} }\n`)).map(({ code }) => code as string)),
    ];
    assert.ok(codes("obstacles").includes("clearance"), codes("obstacles").join());
    assert.ok(codes("people").includes("people"), codes("people").join());
    const bare = [...new Set(findingsOf(analysed("set: 1\n")).map(({ code }) => code as string))];
    assert.deepEqual(codes("dressing"), bare);
  });

  it("is drawn in every picture, with a line of its own", () => {
    const { trajectory } = analysed("set: 1\ndressing: { crate: { box: [0.3, 0.3, 0.3], at: [0.5, 0, 1] } }\n");
    assert.ok(trajectory);
    for (const view of PICTURE_VIEWS) {
      const svg: string = runToEnd(drawPicture(trajectory, view, 1));
      assert.equal(svg.match(/class="body dressing"/g)?.length, 1, view);
      assert.match(svg, /\.body\.dressing\{[^}]*stroke-dasharray/);
    }
  });

  it("has its findings where it is written wrong", () => {
    check(`
#- s.set.yaml
set: 1
dressing:
  cup: { at: [0, 0, 0] }
#        ^^ error missing-field: \`cup\` has no shape: give it one of \`box\`, \`cylinder\`, \`capsule\`, \`sphere\` or \`mesh\`.
  pot: { box: [1, 1, 1], sphere: { radius: 1 }, at: [0, 0, 0] }
#        ^^^ error over-determined: \`pot\` has \`box\` and \`sphere\`: a body has one shape. Make two bodies of it.
  jug: { sphere: { radius: 0.1 }, at: [0, 0, 0], on: plat }
#                                                    ^^^^ error unknown-axis: There is no turntable \`plat\`. Did you mean \`plate\`?
  bowl: { sphere: { radius: 0.1 } }
# ^^^^ error missing-field: \`bowl\` lacks \`at\`, a list [x, y, z]. Where its centre is, in the set, or in the frame of the turntable that it stands on.
  wall: { box: [1, 1, 1], at: [0, 0, 0], colour: red }
#                                        ^^^^^^ error unknown-field: \`wall\` has no field \`colour\`. Known: \`at\`, \`turn\`, \`on\`, \`box\`, \`cylinder\`, \`capsule\`, \`sphere\` and \`mesh\`.
turntables: { plate: { at: [0, 0, 0] } }
#- gone.set.yaml
set: 1
dressing: { cup: { mesh: { file: cup.glb }, at: [0, 0, 0] } }
#                                ^^^^^^^ error missing-file: \`cup.glb\` names no file: there is no \`cup.glb\`. Paths are relative to this document.
#- odd.set.yaml
set: 1
dressing: { cup: { mesh: { file: cup.blob }, at: [0, 0, 0] } }
#                                ^^^^^^^^ warning not-computed: \`cup.blob\` is no mesh that the stage reads, by its name: it reads STL, OBJ, glTF and GLB, and draws an outline in place of others.
`);
  });

  it("says of a broken mesh what an obstacle says, without a word of clearances", () => {
    const text = (field: string): string => `set: 1\n${field}: { cup: { mesh: { file: cup.stl }, at: [3, 0, 1] } }\n`;
    const said = (field: string): string[] =>
      findingsOf(
        runToEnd(
          analyse("dressed.set.yaml", {
            read: (file) =>
              file === "cup.stl"
                ? { state: "bytes", size: 5, stamp: "1", content: () => new TextEncoder().encode("hello") }
                : { state: "text", text: text(field) },
          }),
        ),
      ).map(({ message }) => message);
    const broken = "`cup.stl` can't be read as a mesh. It is neither a text nor a binary STL file.";
    assert.deepEqual(said("dressing"), [broken]);
    assert.deepEqual(said("obstacles"), [`${broken} No clearance is measured there.`]);
  });

  it("keeps the hull of its mesh for pictures", () => {
    const stl = asciiStl(boxTriangles([-1, -1, 0], [1, 1, 2]));
    const { move } = analysed("set: 1\ndressing: { cup: { mesh: { file: cup.stl, scale: 0.1 }, at: [3, 0, 1] } }\n", {
      "cup.stl": stl,
    });
    const solid = move?.dressing?.[0].solid;
    assert.ok(solid?.shape === "mesh" && solid.hull?.length === 24, JSON.stringify(solid));
  });
});
