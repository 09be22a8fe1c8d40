import assert from "node:assert/strict";
import * as vscode from "vscode";
import { activated, demoUri, hoverText, placeOf, until } from "./extension.ts";

describe("hover in the editor", () => {
  before(async () => (await activated()).ready);

  it("tells each axis at a key, with its shares of the limits", async () => {
    const { document } = await vscode.window.showTextDocument(demoUri("moves/over-the-lid.move.yaml"));
    const key = placeOf(document, "name: shoulder");
    const text = await until("a table of axes", async () => {
      const found = await hoverText(document.uri, key);
      return found.includes("tilt") ? found : undefined;
    });
    for (const axis of ["dolly", "swing", "lift", "pan", "tilt", "roll"])
      assert.match(text, new RegExp(`\\b${axis}\\b`));
    assert.match(text, /1\.5 m/); // the dolly's value, as written in this key
    assert.match(text, /\d %/);
    assert.match(text, /00:00:06:00/); // 6 s at 25 frames a second
  });

  it("tells what a field means", async () => {
    const { document } = await vscode.window.showTextDocument(demoUri("kit/floor.rig.yaml"));
    const text = await hoverText(document.uri, placeOf(document, "camera-mount"));
    assert.match(text, /mount/);
  });
});
