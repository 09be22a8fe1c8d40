import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import path from "node:path";

/**
 * Bytes a call. The machine boxes numbers, 16 bytes each, at calls that it does not inline: the lens is asked with four a
 * target. Of objects and lists, which an instant would need by the dozen if they were made, none is left.
 */
const ALLOWED = 512;

describe("evaluating a trajectory", () => {
  it("makes no objects", () => {
    const program = path.resolve(import.meta.dirname, "../../test/support/heap-of-evaluation.ts");
    const printed = execFileSync(process.execPath, ["--expose-gc", "--import", "tsx", program, String(ALLOWED)], {
      encoding: "utf8",
    });
    const bytes = JSON.parse(printed) as number[];
    assert.equal(bytes.length, 8);
    for (const [seed, least] of bytes.entries()) assert.ok(least <= ALLOWED, `seed ${seed}: ${least} bytes a call`);
  });
});
