import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import path from "node:path";

describe("npm run generate", () => {
  it("has been run since the tables changed", () => {
    const script = path.join(import.meta.dirname, "generate.mjs");
    const run = spawnSync(process.execPath, [script, "--check"], { encoding: "utf8" });
    assert.equal(run.stderr, "");
    assert.equal(run.status, 0);
  });
});
