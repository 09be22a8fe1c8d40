import assert from "node:assert/strict";
import { fileOfUri, isVirtual, shownPath, uriOfFile } from "./file-uri.ts";

describe("uris and files", () => {
  const pairs: readonly (readonly [uri: string, file: string, back?: string])[] = [
    ["file:///home/a/b.move.yaml", "/home/a/b.move.yaml"],
    ["file:///home/a%20b/%C3%BC%23.move.yaml", "/home/a b/ü#.move.yaml"],
    ["file:///c%3A/Films/a.rig.json", "c:/Films/a.rig.json"],
    ["file:///C:/Films/a.rig.json", "c:/Films/a.rig.json", "file:///c%3A/Films/a.rig.json"],
    ["file://server/share/a.set.yml", "//server/share/a.set.yml"],
    ["vscode-vfs://github/o/r/a.move.yaml", "vscode-vfs://github/o/r/a.move.yaml"],
    ["memfs:/a.move.yaml", "memfs:///a.move.yaml"],
    ["untitled:a.move.yaml", "untitled:///a.move.yaml", "untitled:/a.move.yaml"],
  ];
  for (const [uri, file, back] of pairs) {
    it(`${uri} is ${file}`, () => {
      assert.equal(fileOfUri(uri), file);
      assert.equal(uriOfFile(file), back ?? uri);
      assert.equal(isVirtual(file), !uri.startsWith("file:"));
    });
  }

  it("shows a path from the folder that holds it", () => {
    assert.equal(shownPath("/w/kit/a.rig.yaml", ["/other", "/w"]), "kit/a.rig.yaml");
    assert.equal(shownPath("/x/a.rig.yaml", ["/w"]), "/x/a.rig.yaml");
  });
});
