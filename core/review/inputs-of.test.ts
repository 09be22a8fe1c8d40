import assert from "node:assert/strict";
import { demoFiles, replaced, sourcesOf, withFiles } from "../../test/support/change.ts";
import { analyseText, createMemo } from "../checks/analyse.ts";
import { documentKind } from "../model/document-kind.ts";
import { inputsReader } from "./inputs-of.ts";

describe("files that a document hangs on", () => {
  const demo = demoFiles();
  const plated = replaced(demo, "moves/once-around.move.yaml", "keys:", "plate: { file: ../stills/a.png }\nkeys:");
  const bad = replaced(demo, "moves/once-around.move.yaml", "../kit/slider.rig.yaml", "../kit/none.rig.yaml");

  it("are those that its analysis tells, without resolving it", () => {
    const broken = withFiles(demo, {
      "moves/x.move.yaml": "move: 1\nrig: ../kit/slider.rig.yaml\nkeys: [",
      "moves/y.move.yaml": "",
    });
    for (const files of [demo, plated, bad, broken]) {
      const sources = sourcesOf(files);
      const inputsOf = inputsReader(sources, createMemo());
      for (const file of files.keys()) {
        if (!documentKind(file)) continue;
        const { inputs } = analyseText(file, sources, createMemo());
        assert.deepEqual([...inputsOf(file).inputs].sort(), [...inputs].sort(), file);
      }
    }
  });

  it("are told as unread while nobody has looked", () => {
    const read = sourcesOf(demo);
    const sources = {
      read: (file: string) => (file === "kit/floor.rig.yaml" ? ({ state: "unread" } as const) : read.read(file)),
    };
    const { unread } = inputsReader(sources, createMemo())("moves/over-the-lid.move.yaml");
    assert.deepEqual(unread, ["kit/floor.rig.yaml"]);
  });
});
