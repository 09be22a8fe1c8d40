import assert from "node:assert/strict";
import { mayRead } from "./readable.ts";

describe("files that may be read through the client", () => {
  const FOLDER = "vscode-vfs://host/owner/job";
  const cases: readonly (readonly [file: string, may: boolean])[] = [
    [`${FOLDER}/kit/a.rig.yaml`, true],
    [`${FOLDER}/a.rig.yaml`, true],
    [`${FOLDER}`, false],
    [`${FOLDER}-other/a.rig.yaml`, false],
    [`${FOLDER}/../secret/a.rig.yaml`, false],
    [`${FOLDER}/kit/../a.rig.yaml`, true],
    ["vscode-vfs://host/owner/a.rig.yaml", false],
    ["vscode-vfs://other/owner/job/a.rig.yaml", false],
    ["https://host/owner/job/a.rig.yaml", false],
    ["file:///owner/job/a.rig.yaml", false],
    ["/owner/job/a.rig.yaml", false],
    ["//host/owner/job/a.rig.yaml", false],
  ];
  for (const [file, may] of cases) {
    it(`${may ? "take" : "refuse"} ${file}`, () => {
      assert.equal(mayRead(file, { folders: () => [FOLDER], files: () => [`${FOLDER}/moves/a.move.yaml`] }), may);
    });
  }

  it("are those around a document that is open alone", () => {
    const open = { folders: () => [FOLDER], files: () => ["memfs://x/shop/job/moves/a.move.yaml"] };
    assert.equal(mayRead("memfs://x/shop/job/kit/a.rig.yaml", open), true);
    assert.equal(mayRead("memfs://x/shop/secret/a.rig.yaml", open), false);
    assert.equal(mayRead("memfs://y/shop/job/kit/a.rig.yaml", open), false);
    const top = { folders: () => [], files: () => ["memfs://x/a.move.yaml"] };
    assert.equal(mayRead("memfs://x/a.rig.yaml", top), true);
    assert.equal(mayRead("memfs://y/a.rig.yaml", top), false);
    assert.equal(mayRead("memfs://x/a.rig.yaml", { folders: () => [], files: () => [] }), false);
  });
});
