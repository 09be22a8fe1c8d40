import assert from "node:assert/strict";
import { DOCUMENT_CODES, MOTION_CODES } from "../base/finding-code.ts";
import { CATALOGUE } from "./catalogue.ts";
import { renderFindingsPage } from "./findings-page.ts";
import { CHECKS } from "./registry.ts";

describe("catalogue of findings", () => {
  it("gives every code a title, sentences and a cure, and the page a section", () => {
    const page = renderFindingsPage();
    for (const code of [...DOCUMENT_CODES, ...MOTION_CODES]) {
      const { title, doc, cure } = CATALOGUE[code];
      assert.ok(/[^.]$/.test(title) && doc.endsWith(".") && cure.endsWith("."), code);
      assert.equal(page.split(`### ${code}\n`).length, 2, code);
    }
  });

  it("has one check for every code of the motion but `allow`, which is about the text", () => {
    assert.deepEqual(CHECKS.map((check) => check.code).sort(), MOTION_CODES.filter((code) => code !== "allow").sort());
  });
});
