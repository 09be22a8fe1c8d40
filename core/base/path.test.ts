import assert from "node:assert/strict";
import { baseName, relativeReference, resolveReference } from "./path.ts";

describe("resolveReference", () => {
  it("is relative to the folder of the document", () => {
    for (const [from, reference, file] of [
      ["moves/a.move.yaml", "b.set.yaml", "moves/b.set.yaml"],
      ["moves/a.move.yaml", "./b.set.yaml", "moves/b.set.yaml"],
      ["moves/a.move.yaml", "../kit/x.rig.yaml", "kit/x.rig.yaml"],
      ["a.move.yaml", "../x.rig.yaml", "../x.rig.yaml"],
      ["/studio/moves/a.move.yaml", "../kit//x.rig.yaml", "/studio/kit/x.rig.yaml"],
      ["/a.move.yaml", "../../x.rig.yaml", "/x.rig.yaml"],
      ["/moves/a.move.yaml", "/kit/x.rig.yaml", "/kit/x.rig.yaml"],
      ["C:/shoot/a.move.yaml", "kit/x.rig.yaml", "C:/shoot/kit/x.rig.yaml"],
      ["vscode-vfs://host/repo/a.move.yaml", "../kit/x.rig.yaml", "vscode-vfs://host/kit/x.rig.yaml"],
      ["vscode-vfs://host/repo/a.move.yaml", "/x.rig.yaml", "vscode-vfs://host/x.rig.yaml"],
      ["vscode-vfs://host/repo/a.move.yaml", "../../../x.rig.yaml", "vscode-vfs://host/x.rig.yaml"],
    ]) {
      assert.equal(resolveReference(from, reference), file);
    }
  });

  it("gives equal files equal ids, and is undone by relativeReference", () => {
    const from = "/studio/moves/day/a.move.yaml";
    for (const file of ["/studio/kit/x.rig.yaml", "/studio/moves/day/s.set.yaml", "/x.rig.yaml"]) {
      assert.equal(resolveReference(from, relativeReference(from, file)), file);
    }
    assert.equal(relativeReference(from, "/studio/kit/x.rig.yaml"), "../../kit/x.rig.yaml");
  });

  it("reads no escapes: ids are decoded already", () => {
    assert.equal(resolveReference("a b/m.move.yaml", "x%20y.rig.yaml"), "a b/x%20y.rig.yaml");
    assert.equal(baseName("a b/m.move.yaml"), "m.move.yaml");
  });
});
