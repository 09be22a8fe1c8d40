import assert from "node:assert/strict";
import { fileURLToPath } from "node:url";
import { readFileSync } from "node:fs";
import { documentsUnder } from "../../host/walk.ts";
import { parseTree } from "../syntax/parse.ts";
import { DEFAULT_LAYOUT, edited, layOut } from "./lay-out.ts";

const EXAMPLES = fileURLToPath(new URL("../../examples", import.meta.url));

describe("the examples", () => {
  it("are laid out; if not: npx movewright format examples", () => {
    const files = documentsUnder(EXAMPLES);
    assert.ok(files.length > 100, `${files.length}`);
    for (const file of files) {
      const text = readFileSync(file, "utf8");
      const format = file.endsWith(".json") ? "json" : "yaml";
      const parse = (version: string) => parseTree(version, format);
      const layout = layOut({ text, format, tree: parse(text), parse }, DEFAULT_LAYOUT);
      assert.equal("edits" in layout ? edited(text, layout.edits) : layout.refusal, text, file);
    }
  });
});
