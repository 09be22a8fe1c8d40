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
    const codes = CHECKS.map((check) => check.code);
    const ofMotion = codes.filter((code) => (MOTION_CODES as readonly string[]).includes(code));
    assert.deepEqual(ofMotion.sort(), MOTION_CODES.filter((code) => code !== "allow").sort());
  });

  it("checks by solving what of the text only the motion tells, each code once", () => {
    const codes = CHECKS.map((check) => check.code);
    assert.equal(new Set(codes).size, codes.length);
    const ofText = codes.filter((code) => (DOCUMENT_CODES as readonly string[]).includes(code));
    assert.deepEqual(ofText.sort(), ["bad-number", "branch-change", "over-determined", "sharp-corner"]);
  });
});
