import assert from "node:assert/strict";
import { runToEnd } from "../../../core/base/task.ts";
import type { FindingCode } from "../../../core/base/finding-code.ts";
import { analyse } from "../../../core/checks/analyse.ts";
import { applyEdits } from "../../../core/edit/apply-edits.ts";
import { parseTree } from "../../../core/syntax/parse.ts";
import { findingsOfCode } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";
import { memorySources } from "../../../test/fixtures/memory-sources.ts";
import { offerStretch, writeStretch } from "./fixes.ts";
import { solvedOf, type View } from "../view.ts";

const FILE = "m.move.yaml";
const BESIDE = {
  ...KIT,
  "wheel.set.yaml": `set: 1
targets:
  lid: { at: [3, 0, 1.1] }
  runner: { follow: [{ at: 0 s, to: [3, 1, 1.1] }, { at: 3 s, to: [3, -1, 1.1] }] }
turntables:
  wheel: { at: [3, 0, 1], repeats: 24 }
`,
};

const documentsOf = (text: string) => ({ ...BESIDE, [FILE]: text });

function viewOf(text: string): View {
  const sources = memorySources(new Map(Object.entries(documentsOf(text))));
  const analysis = runToEnd(analyse(FILE, sources));
  const parse = (each: string) => parseTree(each, "yaml");
  const solved = solvedOf(analysis);
  return {
    file: FILE,
    kind: "move",
    text,
    tree: parse(text),
    parse,
    analysis,
    solved,
    sources,
    names: () => undefined,
  } as unknown as View;
}

/** What is offered for the first finding of a code, and the text after it; `undefined` where nothing is. */
function stretchFirst(text: string, code: FindingCode): { title: string; text: string } | undefined {
  const view = viewOf(text);
  const finding = view.analysis.motionFindings.find((each) => each.code === code);
  assert.ok(finding, "nothing to stretch for");
  const offer = runToEnd(offerStretch(view, finding));
  if (!offer) return undefined;
  const edits = runToEnd(writeStretch(view, finding, offer.stretch));
  assert.ok(edits);
  return { title: offer.title, text: applyEdits(text, edits) };
}

const left = (text: string, code: FindingCode) => findingsOfCode(documentsOf(text), FILE, code);

const move = (rig: string, rest: string): string => `move: 1
rig: ${rig}.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: wheel.set.yaml
${rest}`;

const RIGS: Readonly<Record<string, string>> = {
  slider: "slide: 0, tilt: 0",
  crane: "swing: 0, lift: 0, tilt: 0",
  telescope: "swing: 0, lift: 0, tube: 0, tilt: 0",
};

describe("more time for what passes too fast in the picture", () => {
  for (const [rig, still] of Object.entries(RIGS)) {
    it(`slows a pan of the ${rig} to what common practice allows`, () => {
      const text = move(
        rig,
        `keys:\n  - { at: 0 s, axes: { ${still}, pan: -12 } }\n  - { at: 2 s, axes: { pan: 12 } }\n`,
      );
      const made = stretchFirst(text, "judder");
      assert.match(
        made!.title,
        /^Stretch the way from key 1 to key 2 from 2 s to 4\.\d+ s: nothing then crosses the frame in less than 6\.7\d s, where 6\.72 s is the least$/,
      );
      assert.deepEqual(left(made!.text, "judder"), []);
      // 1.875 times the mean of 24 deg in the middle, over an angle of view of 2 atan(18 / 24) in 6.72 s.
      const needed = (1.875 * 24) / ((2 * Math.atan(18 / 24) * 180) / Math.PI / 6.72);
      const seconds = Number(/at: (4\.\d+) s/.exec(made!.text)?.[1]);
      assert.ok(needed - 1e-9 <= seconds && seconds <= needed * 1.001, `${seconds} s for ${needed} s`);
    });

    it(`slows a change of framing of the ${rig} until it smears no more than is allowed`, () => {
      const stands = still.replace(", tilt: 0", "");
      const keys = `keys:
  - { at: 0 s, axes: { ${stands} }, aim: { at: lid, framing: [0.46, 0.5] } }
  - { at: 1 s, axes: { ${stands} }, aim: { framing: [0.54, 0.5] } }
`;
      const text = move(rig, `tolerance: { blur: 8 px, crossing: 1 s }\n${keys}`);
      const made = stretchFirst(text, "blur");
      assert.match(made!.title, /: the subject then smears by (8|7\.9) px of 8 px allowed$/);
      assert.deepEqual(left(made!.text, "blur"), []);
      // 8 % of 6144 px in 1 s, 1.875 times the mean in the middle, for 1/50 s.
      const needed = (1.875 * 0.08 * 6144) / 50 / 8;
      const seconds = Number(/at: (2\.\d+) s/.exec(made!.text)?.[1]);
      assert.ok(needed - 1e-9 <= seconds && seconds <= needed * 1.001, `${seconds} s for ${needed} s`);
    });

    it(`slows a table before the ${rig} until frames can tell which way it turns`, () => {
      const keys = `keys:\n  - { at: 0 s, axes: { ${still}, pan: 0, wheel: 0 } }\n  - { at: 2 s, axes: { wheel: 360 } }\n`;
      const made = stretchFirst(move(rig, keys), "judder");
      assert.match(made!.title, /: wheel then no longer strobes$/);
      assert.deepEqual(left(made!.text, "judder"), []);
      const needed = (1.875 * 360) / 187.5;
      const seconds = Number(/at: (3\.\d+) s/.exec(made!.text)?.[1]);
      assert.ok(needed - 1e-9 <= seconds && seconds <= needed * 1.001, `${seconds} s for ${needed} s`);
    });
  }

  it("is not offered where what passes moves by itself: time does not slow it", () => {
    const keys = `keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 }, focus: runner }
  - { at: 3 s, axes: { slide: 0.05 } }
`;
    assert.equal(stretchFirst(move("slider", keys), "judder"), undefined);
  });
});
