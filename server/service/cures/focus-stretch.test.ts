import assert from "node:assert/strict";
import { runToEnd } from "../../../core/base/task.ts";
import { analyse } from "../../../core/checks/analyse.ts";
import { applyEdits } from "../../../core/edit/apply-edits.ts";
import { parseTree } from "../../../core/syntax/parse.ts";
import { KIT } from "../../../test/fixtures/kit.ts";
import { memorySources } from "../../../test/fixtures/memory-sources.ts";
import { offerStretch, writeStretch } from "./fixes.ts";
import { retimeOffers } from "./retime-actions.ts";
import { solvedOf, type View } from "../view.ts";

const FILE = "m.move.yaml";
const CAMERA = `camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm, coc: 0.03 mm }
lenses:
  pulled:
    focal: [24 mm, 70 mm]
    pupil: 50 mm
    motors:
      focus: { limits: { speed: 60, accel: 300, jerk: 3000 }, scale: [[infinity, 0 deg], [1 m, 90 deg], [0.25 m, 360 deg]] }
      zoom: { limits: { speed: 40 }, scale: [[24 mm, 0 deg], [70 mm, 92 deg]] }
`;
const SET = `set: 1
targets:
  lid: { at: [2.6, 0, 1.1] }
  rim: { at: [2, 0.1, 1.1] }
`;

function viewOf(text: string): View {
  const documents = new Map([
    ...Object.entries(KIT),
    ["lens.camera.yaml", CAMERA],
    ["table.set.yaml", SET],
    [FILE, text],
  ]);
  const sources = memorySources(documents);
  const analysis = runToEnd(analyse(FILE, sources));
  const parse = (each: string) => parseTree(each, "yaml");
  return {
    file: FILE,
    kind: "move",
    text,
    tree: parse(text),
    parse,
    analysis,
    solved: solvedOf(analysis),
    sources,
    names: () => undefined,
  } as unknown as View;
}

const moveOf = (rig: string, keys: string): string => `move: 1
rig: ${rig}.rig.yaml
camera: { use: lens.camera.yaml, lens: pulled }
set: table.set.yaml
keys:
${keys}`;

/** The first finding of a lens motor, what is offered for it, and the text after that. */
function stretchFirst(text: string): { title: string; text: string } {
  const view = viewOf(text);
  const finding = view.analysis.motionFindings.find(({ code }) => code === "focus-speed");
  assert.ok(finding);
  const offer = runToEnd(offerStretch(view, finding));
  assert.ok(offer);
  const edits = runToEnd(writeStretch(view, finding, offer.stretch));
  assert.ok(edits);
  return { title: offer.title, text: applyEdits(text, edits) };
}

describe("stretching a pull of the lens", () => {
  const rigs = [
    { rig: "slider", first: "slide: 0", last: "slide: 0.05" },
    { rig: "crane", first: "swing: 0, lift: 0", last: "swing: 1, lift: 0" },
    { rig: "telescope", first: "swing: 0, lift: 0, tube: 0", last: "swing: 1, lift: 0, tube: -0.05" },
  ];
  for (const { rig, first, last } of rigs) {
    it(`gives a rack on the ${rig} the time that its motor needs, and no second more`, () => {
      const keys = `  - { at: 0 s, name: lid, axes: { ${first} }, aim: lid, focus: lid }
  - { at: 0.6 s, name: rim, axes: { ${last} }, aim: rim, focus: rim }
  - { at: 4 s, name: end }
`;
      const before = moveOf(rig, keys);
      const { title, text } = stretchFirst(before);
      assert.match(
        title,
        /^Stretch the way from lid to rim from 0\.6 s to [\d.]+ s: focus then uses (100|99\.\d) % of what its motor can$/,
      );
      const after = viewOf(text).analysis.motionFindings.filter(({ code }) => code === "focus-speed");
      assert.deepEqual(after, []);
      const time = Number(/at: ([\d.]+) s, name: rim/.exec(text)?.[1]);
      const shorter = text.replace(`at: ${time} s, name: rim`, `at: ${time * 0.998} s, name: rim`);
      assert.ok(viewOf(shorter).analysis.motionFindings.some(({ code }) => code === "focus-speed"));
    });
  }

  // 72 deg of the zoom at 40 deg/s at most: 15/8 · 72/40 = 3.375 s (least jerk from rest to rest, Flash & Hogan 1985).
  it("takes what the closed form says for a zoom from rest to rest", () => {
    const keys = `  - { at: 0 s, axes: { slide: 0 }, aim: lid, zoom: 24 mm }
  - { at: 1 s, zoom: 60 mm }
`;
    const { text } = stretchFirst(moveOf("slider", keys));
    const time = Number(/at: ([\d.]+) s, zoom: 60/.exec(text)?.[1]);
    assert.ok(3.375 <= time + 1e-5 && time <= 3.375 * 1.001, `${time}`);
  });

  it("is offered for rates alone: no time helps focus that is off its scale, and none of the axes' retimings helps a motor", () => {
    const keys = `  - { at: 0 s, axes: { slide: 0 }, aim: lid, focus: lid }
  - { at: 0.4 s, focus: rim }
`;
    const view = viewOf(moveOf("slider", keys));
    const finding = view.analysis.motionFindings.find(({ code }) => code === "focus-speed")!;
    assert.deepEqual(retimeOffers(view, finding.place.span), []);
    const offScale = { ...finding, unit: "m" };
    assert.equal(runToEnd(offerStretch(view, offScale)), undefined);
  });
});
