import assert from "node:assert/strict";
import { cssOf, luminance, parseColour } from "./palette.ts";

describe("colours of the theme", () => {
  it("are read in the forms that a browser computes", () => {
    assert.deepEqual(parseColour("rgb(255, 0, 51)", [0, 0, 0]), [1, 0, 0.2]);
    assert.deepEqual(parseColour("color(srgb 0.5 0.25 1)", [0, 0, 0]), [0.5, 0.25, 1]);
    assert.deepEqual(parseColour("rgba(255, 255, 255, 0.5)", [0, 0, 0]), [0.5, 0.5, 0.5]);
    assert.deepEqual(parseColour("color(srgb 1 1 1 / 0.25)", [0, 1, 0]), [0.25, 1, 0.25]);
  });

  it("are the background's where there is no colour to read", () => {
    assert.deepEqual(parseColour("", [0.1, 0.2, 0.3]), [0.1, 0.2, 0.3]);
    assert.deepEqual(parseColour("none", [0.1, 0.2, 0.3]), [0.1, 0.2, 0.3]);
  });

  it("have the luminance that WCAG 2.2 defines", () => {
    assert.equal(luminance([0, 0, 0]), 0);
    assert.ok(Math.abs(luminance([1, 1, 1]) - 1) < 1e-12);
    // Mid grey #777777 has luminance 0.1845 (contrast 4.48 : 1 with white, as WCAG's own examples have it).
    const grey = 0x77 / 255;
    assert.ok(Math.abs(1.05 / (luminance([grey, grey, grey]) + 0.05) - 4.48) < 0.01);
  });

  it("are written as CSS", () => {
    assert.equal(cssOf([1, 0, 0.2]), "rgb(255 0 51)");
  });
});
