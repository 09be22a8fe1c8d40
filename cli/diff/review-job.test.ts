import assert from "node:assert/strict";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileOfPath } from "../../host/file-path.ts";
import { KIT } from "../../test/fixtures/kit.ts";
import { reviewJob, type ReviewInput } from "./review-job.ts";

const move = (slide: number): string => `move: 1
title: Past the lid
rig: kit/slider.rig.yaml
camera: { use: kit/a.camera.yaml, lens: wide }
set: kit/table.set.yaml
rate: 24
keys:
  - { at: 0 s, name: left, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 2 s, name: right, axes: { slide: ${slide}, pan: 20 } }
`;

describe("what was found of a changed move", () => {
  let folder = "";
  const put = (name: string, text: string): void => writeFileSync(join(folder, name), text);
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), "movewright-review-"));
    mkdirSync(join(folder, "kit"));
    for (const [name, text] of Object.entries(KIT)) put(`kit/${name}`, text);
    put("was.move.yaml", move(0.3));
    put("is.move.yaml", move(0.32));
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  const open = () => {
    const [before, after] = [join(folder, "was.move.yaml"), join(folder, "is.move.yaml")];
    const cache = { folder: join(folder, "cache"), program: "test" };
    const input: ReviewInput = { move: { before: fileOfPath(before), after: fileOfPath(after), causes: [] } };
    const job = reviewJob.open({ way: "moves", roots: [folder], before, after, cache });
    return { known: () => job.known?.(input), work: () => job.work(input) };
  };

  it("is told again without looking, as it was found", async () => {
    const first = open();
    assert.equal(first.known(), undefined);
    const found = await first.work();
    assert.ok("move" in found && found.move.motion === "changed");
    assert.deepEqual(open().known(), JSON.parse(JSON.stringify(found)));
  });

  const changes: readonly (readonly [string, string, string])[] = [
    ["the move", "is.move.yaml", move(0.33)],
    ["the move before", "was.move.yaml", move(0.31)],
    ["its rig", "kit/slider.rig.yaml", `${KIT["slider.rig.yaml"]}# another one\n`],
    ["a config that was not there", "movewright.config.yaml", "config: 1\n"],
  ];
  for (const [what, file, text] of changes) {
    it(`is looked for anew after a change of ${what}`, async () => {
      await open().work();
      assert.ok(open().known());
      put(file, text);
      assert.equal(open().known(), undefined);
    });
  }
});
