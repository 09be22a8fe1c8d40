import assert from "node:assert/strict";
import { KIT } from "../../test/fixtures/kit.ts";
import { memorySources } from "../../test/fixtures/memory-sources.ts";
import { asJsonFiles } from "../../test/fixtures/as-json.ts";
import { resolveMove } from "./resolve-move.ts";

const MOVE = `move: 1
title: Lid to spout
rig: crane.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
rate: 23.976
start: "01:00:00:00"
deliver: [3840, 2160]
stabilise: 5 %
place: { at: [0.2 m, -80 cm], heading: 12, lean: [1 deg, 0] }
near: { pan: 20 }
speed: 50 %
keys:
  - at: 01:00:00:00
    name: top
    axes: { swing: 8, lift: 0.1 rad, plate: 0 }
    aim: { at: lid, framing: { delivered: [0.5, 0.25] } }
    focus: lid
  - after: 60 f
    camera: { from: spout, offset: [-0.55, 0.10, 0.05], in: plate }
    aim: spout
    focus: 1.5 m
    iris: 4
  - at: 5 s
    axes: { swing: 20, lift: 12, plate: 90 }
    aim: none
    stop: true
passes:
  - { name: celadon, times: 2 }
  - { name: tenmoku, targets: { lid: { shift: [0, 0, 12 mm] } } }
tolerance: { match: 1.5 px, clearance: 60 mm }
`;

const sources = (files: Readonly<Record<string, string>>) =>
  memorySources(new Map(Object.entries({ ...KIT, ...files })));
const resolve = (text: string, files: Readonly<Record<string, string>> = {}) =>
  resolveMove("m.move.yaml", sources({ "m.move.yaml": text, ...files }));

const near = (found: number, wanted: number): void =>
  assert.ok(Math.abs(found - wanted) < 1e-12, `${found} is not ${wanted}`);

describe("resolveMove", () => {
  it("binds names and gives SI values", () => {
    const { move, problems } = resolve(MOVE);
    assert.deepEqual(problems, []);
    assert.ok(move);
    assert.deepEqual(
      move.axes.map(({ name, role }) => `${name}: ${role}`),
      ["swing: driven", "lift: driven", "level: follows", "pan: driven", "tilt: driven", "plate: turntable"],
    );
    assert.equal(move.title, "Lid to spout");
    assert.deepEqual(move.rate, { num: 24000, den: 1001, nominal: 24, drop: false });
    assert.equal(move.startFrame, 86_400);
    assert.deepEqual([move.base.x, move.base.y], [0.2, -0.8]);
    near(move.base.heading, (12 * Math.PI) / 180);
    near(move.near[3], Math.PI / 9);
    assert.deepEqual(move.passes[1].targets, { 0: [0, 0, 0.012] });
    assert.deepEqual(move.tolerance, { match: 1.5, aim: 4, clearance: 0.06, nearLimit: 0.9 });
  });

  it("gives played time: labels less the start, `after` counted on, all divided by the speed", () => {
    const { move } = resolve(MOVE);
    assert.ok(move);
    assert.deepEqual(
      move.keys.map((key) => key.label),
      ["top", "key 2", "key 3"],
    );
    near(move.keys[0].time, 0);
    near(move.keys[1].time, (2 * 60 * 1001) / 24000);
    near(move.keys[2].time, 10);
    assert.equal(move.speed, 0.5);
  });

  it("converts framing of the delivered crop to the captured picture", () => {
    const { move } = resolve(MOVE);
    // The crop is 2160 of 3456 px high: a quarter of it from its top is (648 + 540) / 3456 of the picture.
    const framing = move?.keys[0].framing;
    assert.ok(framing);
    near(framing[0], 0.5);
    near(framing[1], (648 + 540) / 3456);
  });

  it("tells camera points, aims and focus apart", () => {
    const { move } = resolve(MOVE);
    const [first, second, third] = move?.keys ?? [];
    assert.ok(first.aim?.kind === "target" && move?.targets[first.aim.target].name === "lid");
    assert.ok(second.camera?.kind === "offset" && second.camera.in === 0);
    assert.deepEqual(second.camera.offset, [-0.55, 0.1, 0.05]);
    assert.ok(second.focus?.kind === "distance" && second.focus.distance === 1.5);
    assert.equal(second.iris?.value, 4);
    assert.equal(third.aim?.kind, "none");
    assert.equal(third.stop, true);
  });

  it("says where each value stands", () => {
    const { move, origins, keySpans } = resolve(MOVE);
    const text = (origin: number): string => {
      const place = origins.place(origin);
      const files: Readonly<Record<string, string>> = { ...KIT, "m.move.yaml": MOVE };
      return place ? `${place.file}: ${files[place.file].slice(place.span.start, place.span.end)}` : "";
    };
    assert.ok(move);
    assert.equal(text(move.keys[0].axes[1].origin), "m.move.yaml: 0.1 rad");
    assert.equal(text(move.keys[1].timeOrigin), "m.move.yaml: 60 f");
    assert.equal(text(move.axes[0].origins.speed), "crane.rig.yaml: 30");
    assert.equal(text(move.axes[5].origins.range), "table.set.yaml: [-90, 90]");
    assert.equal(text(move.optics.closeFocusOrigin), "a.camera.yaml: 0.3 m");
    assert.equal(text(move.optics.bodyMassOrigin ?? 0), "a.camera.yaml: 1.9 kg");
    assert.equal(text(move.optics.lensMassOrigin ?? 0), "a.camera.yaml: 0.7 kg");
    const { rig, camera, set, place } = move.uses;
    assert.deepEqual([rig, camera, set, place].map(text), [
      "m.move.yaml: crane.rig.yaml",
      "m.move.yaml: a.camera.yaml",
      "m.move.yaml: table.set.yaml",
      "m.move.yaml: { at: [0.2 m, -80 cm], heading: 12, lean: [1 deg, 0] }",
    ]);
    assert.equal(text(0), "");
    assert.deepEqual(
      keySpans.map((span) => MOVE.slice(span.start, span.start + 8)),
      ["at: 01:0", "after: 6", "at: 5 s\n"],
    );
    move.keys.forEach((key, index) => assert.deepEqual(origins.place(key.origin)?.span, keySpans[index]));
  });

  it("is the same after a comment, a blank line, other quotes or other blanks", () => {
    const { move } = resolve(MOVE);
    const changed = `# first\n\n${MOVE.replace("keys:\n", "keys:\n\n  # here\n")
      .replace("title: Lid to spout", 'title:   "Lid to spout"   # said')
      .replaceAll("\n", "\r\n")}`;
    const rig = `# a rig\n\n${KIT["crane.rig.yaml"].replaceAll(", type:", ",   type:")}`;
    assert.deepEqual(resolve(changed, { "crane.rig.yaml": rig }).move, move);
  });

  it("is the same from JSON", () => {
    const { move } = resolve(MOVE);
    const json = asJsonFiles(new Map(Object.entries({ ...KIT, "m.move.yaml": MOVE })));
    const fromJson = resolveMove("m.move.json", memorySources(json.files));
    assert.deepEqual(fromJson.problems, []);
    // Ids are handed out by the order of reading, which is the same.
    assert.deepEqual(fromJson.move, move);
  });

  it("is plain data", () => {
    const { move } = resolve(MOVE);
    assert.deepEqual(JSON.parse(JSON.stringify(move)), move);
  });

  it("lists every file that it depends on, missing and unread ones too", () => {
    const kit: Record<string, string> = { ...KIT, "m.move.yaml": MOVE };
    delete kit["a.camera.yaml"];
    delete kit["table.set.yaml"];
    const known = memorySources(new Map(Object.entries(kit)));
    const read = (file: string) => (file === "table.set.yaml" ? ({ state: "unread" } as const) : known.read(file));
    const { move, problems, inputs, unread } = resolveMove("m.move.yaml", { read });
    assert.equal(move, undefined);
    assert.deepEqual(inputs, ["m.move.yaml", "crane.rig.yaml", "a.camera.yaml", "table.set.yaml"]);
    assert.deepEqual(unread, ["table.set.yaml"]);
    assert.deepEqual(
      problems.map(({ code }) => code),
      ["missing-file"],
    );
  });

  it("does not read a rig again whose text is the same", () => {
    const memo = new Map();
    const all = sources({ "m.move.yaml": MOVE });
    resolveMove("m.move.yaml", all, memo);
    const rig = memo.get("crane.rig.yaml");
    assert.ok(rig);
    assert.deepEqual(resolveMove("m.move.yaml", all, memo).move, resolve(MOVE).move);
    assert.equal(memo.get("crane.rig.yaml"), rig);
  });

  it("fills in what is left out", () => {
    const { move, problems } = resolve(
      "move: 1\nrig: crane.rig.yaml\ncamera: { use: a.camera.yaml, lens: long }\nkeys:\n  - axes: { swing: 0, lift: 0, pan: 0, tilt: 0 }\n",
    );
    assert.deepEqual(problems, []);
    assert.ok(move);
    assert.equal(move.title, "m");
    assert.deepEqual(move.rate, { num: 25, den: 1, nominal: 25, drop: false });
    assert.deepEqual([move.startFrame, move.speed, move.stabilise, move.floor], [0, 1, 0, 0]);
    assert.deepEqual([move.deliver, move.up, move.targets], [[6144, 3456], [0, 0, 1], []]);
    assert.equal(move.keys[0].time, 0);
    // A 36 x 20.25 mm sensor has a diagonal of 41.30 mm: the stated circle of confusion holds.
    near(move.optics.coc, 0.00003);
  });

  it("drops a key that is broken and keeps the others", () => {
    const { move, problems, keySpans } = resolve(MOVE.replace("after: 60 f", "after: 60 kg"));
    assert.deepEqual(
      problems.map(({ code }) => code),
      ["wrong-unit"],
    );
    assert.deepEqual(
      move?.keys.map((key) => key.label),
      ["top", "key 3"],
    );
    assert.equal(keySpans.length, 2);
  });

  it("reads a thousand keys", () => {
    const keys = Array.from(
      { length: 1000 },
      (_, i) => `  - at: ${i} s\n    axes: { swing: ${i % 7}, lift: 3 }\n    aim: lid\n`,
    );
    const text = MOVE.slice(0, MOVE.indexOf("keys:")) + `keys:\n${keys.join("")}`;
    const { move, problems } = resolve(text.replace('start: "01:00:00:00"\n', ""));
    assert.deepEqual(problems, []);
    assert.equal(move?.keys.length, 1000);
  });
});
