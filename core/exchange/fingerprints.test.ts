import assert from "node:assert/strict";
import { ordinals, textHash } from "./fingerprints.ts";

describe("fingerprints", () => {
  // Published test vectors: http://www.isthe.com/chongo/src/fnv/test_fnv.c, FNV-1a of 64 bits.
  for (const [text, hash] of [
    ["", "cbf29ce484222325"],
    ["a", "af63dc4c8601ec8c"],
    ["foobar", "85944171f73967e8"],
  ] as const) {
    it(`hash ${JSON.stringify(text)} as published`, () => assert.equal(textHash(text), hash));
  }

  it("hash letters by their bytes in UTF-8", () => {
    // The same steps over the bytes that Node makes of it.
    const bytes = Buffer.from("é 壺 🫖");
    let hash = 0xcbf29ce484222325n;
    for (const byte of bytes) hash = BigInt.asUintN(64, (hash ^ BigInt(byte)) * 0x100000001b3n);
    assert.equal(textHash("é 壺 🫖"), hash.toString(16).padStart(16, "0"));
  });

  it("number equal names in their order", () => {
    const next = ordinals();
    assert.deepEqual(["a", "b", "a", "a", "b"].map(next), [1, 1, 2, 3, 2]);
  });
});
