import { findingsOf } from "../analysis.ts";
import assert from "node:assert/strict";
import { parse } from "yaml";
import { KIT } from "../../../test/fixtures/kit.ts";
import { memorySources } from "../../../test/fixtures/memory-sources.ts";
import { runToEnd } from "../../base/task.ts";
import { analyse } from "../analyse.ts";
import type { PlacedFinding } from "../finding.ts";

const HEAD = `move: 1
rig: telescope.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
`;

const BLOCK = `${HEAD}keys:
  - at: 0 s
    camera: { at: [1.2, -0.3, 1.2] }
    aim: lid
  - at: 6 s # the corner
    path: line
    camera: { at: [1.2, 0.1, 1.2] }

  # and on
  - at: 12 s
    path: line
    camera: { at: [1.4, 0.1, 1.2] }
`;

const FLOW = `${HEAD}keys:
  - { at: 0 s, camera: { at: [1.2, -0.3, 1.2] }, aim: lid }
  - { at: 6 s, path: line, camera: { at: [1.2, 0.1, 1.2] } } # the corner
  - { at: 12 s, path: line, camera: { at: [1.4, 0.1, 1.2] } }
`;

const JSON_TEXT = JSON.stringify(parse(BLOCK), null, 2);

function findings(file: string, text: string): readonly PlacedFinding[] {
  const kit = Object.entries(KIT).map(([name, each]): [string, string] => [`/kit/${name}`, each]);
  const analysis = runToEnd(analyse(file, memorySources(new Map([...kit, [file, text]]))));
  return findingsOf(analysis);
}

describe("the cures of a sharp corner", () => {
  for (const [form, file, text] of [
    ["a block", "/kit/m.move.yaml", BLOCK],
    ["flow style", "/kit/m.move.yaml", FLOW],
    ["a block with Windows line ends", "/kit/m.move.yaml", BLOCK.replaceAll("\n", "\r\n")],
    ["JSON", "/kit/m.move.json", JSON_TEXT],
  ]) {
    it(`are two in ${form}; each ends the finding and adds to the key alone`, () => {
      const [corner, ...others] = findings(file, text);
      assert.deepEqual([corner.code, others.map(({ code }) => code)], ["sharp-corner", []]);
      assert.equal(corner.cures.length, 2);
      for (const { edits } of corner.cures) {
        assert.equal(edits.length, 1);
        const [{ span, text: added }] = edits;
        assert.equal(span.start, span.end, "nothing is taken away");
        const cured = text.slice(0, span.start) + added + text.slice(span.end);
        assert.deepEqual(findings(file, cured), []);
      }
      assert.deepEqual(corner.cures.map(({ edits }) => /stop|blend/.exec(edits[0].text)?.[0]).sort(), [
        "blend",
        "stop",
      ]);
    });
  }
});
