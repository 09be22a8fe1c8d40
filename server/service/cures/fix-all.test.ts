import assert from "node:assert/strict";
import type { FindingCode } from "../../../core/base/finding-code.ts";
import { runToEnd } from "../../../core/base/task.ts";
import { applyEdits } from "../../../core/edit/apply-edits.ts";
import { viewOf } from "../../../test/fixtures/clearings.ts";
import { findingsIn, type Documents } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";
import { fixAll, fixAllTitle } from "./fix-all.ts";
import { fixSource } from "./fix-source.ts";

const YAML = "m.move.yaml";
const JSON_FILE = "m.move.json";
const HEAD = `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
tolerance: { crossing: 1 ms, near-limit: 100 % }
`;

const documents = (text: string, file = YAML): Documents => ({ ...KIT, [file]: text });
const counted = (all: Documents, file: string, code: FindingCode) =>
  findingsIn(all, file).filter((one) => one.code === code && one.allowed === undefined).length;

interface Fixed {
  readonly text: string;
  readonly title: string;
}

function fixed(text: string, code: FindingCode, file = YAML): Fixed | undefined {
  const made = runToEnd(fixAll(viewOf(documents(text, file), file), code));
  return made && { text: applyEdits(text, made.edits), title: fixAllTitle(code, made) };
}

/** From rest to rest 0.6 m take 15/8 · 0.6 m / 0.5 m/s = 2.25 s at least, and 2 · 0.9 m as long as 3.375 s. */
const FAST = `${HEAD}keys:
  - { at: 0 s, axes: { slide: -0.3, pan: 0, tilt: 0 } } # begin
  - { after: 2 s, axes: { slide: 0.3 }, stop: true }
  - { after: 50 f, axes: { slide: -0.3 }, stop: true } # back
  - { after: 9 s, axes: { slide: 0 } }
`;

describe("curing all findings of a code", () => {
  it("gives each way the time that it needs, in one edit that leaves the rest", () => {
    const before = counted(documents(FAST), YAML, "axis-speed");
    assert.equal(before, 2);
    const made = fixed(FAST, "axis-speed");
    assert.ok(made);
    assert.match(made.title, /^Cure all 2 `axis-speed` findings in this document: the move's 13 s become 13\.5\d* s$/);
    assert.equal(counted(documents(made.text), YAML, "axis-speed"), 0);
    const [, first, second] = /after: ([\d.]+) s[^]*after: (\d+) f/.exec(made.text) ?? [];
    assert.ok(2.25 <= Number(first) && Number(first) <= 2.252, first);
    // 2.25 s are 56.25 frames.
    assert.equal(second, "57");
    assert.equal(made.text.replace(`after: ${first} s`, "after: 2 s").replace("57 f", "50 f"), FAST);
  });

  it("does the same in JSON", () => {
    const keys = [
      { at: "0 s", axes: { slide: -0.3, pan: 0, tilt: 0 } },
      { after: "2 s", axes: { slide: 0.3 }, stop: true },
      { after: 2, axes: { slide: -0.3 }, stop: true },
    ];
    const camera = { use: "a.camera.yaml", lens: "wide" };
    const tolerance = { crossing: "1 ms", "near-limit": "100 %" };
    const move = { move: 1, rig: "slider.rig.yaml", camera, set: "table.set.yaml", tolerance, keys };
    const made = fixed(JSON.stringify(move, null, 1), "axis-speed", JSON_FILE);
    assert.ok(made);
    const after = JSON.parse(made.text) as typeof move;
    assert.deepEqual(
      after.keys.map((key) => ({ ...key, after: undefined })),
      keys.map((key) => ({ ...key, after: undefined })),
    );
    assert.equal(counted(documents(made.text, JSON_FILE), JSON_FILE, "axis-speed"), 0);
  });

  it("says how many, where some cannot be cured, and cures those by other values where no time helps", () => {
    const text = `${HEAD}keys:
  - { at: 0 s, axes: { slide: &end 1.2, pan: 0, tilt: 0 } }
  - { at: 20 s, axes: { slide: 0 }, stop: true }
  - { at: 40 s, axes: { slide: 1.1 }, stop: true }
  - { at: 60 s, axes: { slide: 0 }, stop: true }
  - { at: 80 s, axes: { slide: *end } }
`;
    const made = fixed(text, "axis-range");
    assert.ok(made);
    // What an alias repeats would change elsewhere too.
    assert.equal(made.title, "Cure 1 of 3 `axis-range` findings in this document");
    assert.equal(made.text, text.replace("slide: 1.1 ", "slide: 1 "));
  });

  it("mends names by the nearest ones, and fields, all at once", () => {
    const text = `${HEAD.replace("tolerance:", "tolerence:")}keys:
  - { at: 0 s, axes: { slyde: 0, pan: 0 }, fokus: lid }
  - { at: 9 s, axes: { slyde: 0.1, pann: 2 } }
`;
    const names = fixed(text, "unknown-axis");
    assert.equal(names?.title, "Cure all 3 `unknown-axis` findings in this document");
    assert.equal(names.text, text.replaceAll("slyde", "slide").replace("pann", "pan"));
    const fields = fixed(text, "unknown-field");
    assert.equal(fields?.text, text.replace("tolerence", "tolerance").replace("fokus", "focus"));
  });

  it("is nothing where nothing cures it", () => {
    assert.equal(fixed(`${HEAD}keys:\n  - { at: 9 s, axes: {} }\n  - { at: 0 s }\n`, "key-order"), undefined);
  });
});

describe("mending what changes no motion", () => {
  const mended = (text: string, file: string): string | undefined => {
    const made = runToEnd(fixSource(viewOf(documents(text, file), file)));
    return made && applyEdits(text, made.edits);
  };

  it("deletes each allow that allows nothing, by comment or field, and no other", () => {
    const text = `${HEAD}# allow judder: nothing passes
allow: [{ code: blur, reason: no }]
keys:
  - { at: 0 s, axes: { slide: -0.3, pan: 0, tilt: 0 } } # allow clearance: rehearsed
  - at: 1.8 s # allow axis-speed: rehearsed
    axes: { slide: 0.3 }
    allow:
      - { code: axis-jerk, reason: no }
      - { code: axis-accel, reason: seen } # kept, if it is so
      - { code: judder, reason: no }
  - { after: 9 s, axes: { slide: 0 } }
`;
    const kept = findingsIn(documents(text), YAML).filter(({ code }) => code === "axis-accel").length;
    const item = "      - { code: axis-accel, reason: seen } # kept, if it is so\n";
    const expected = `${HEAD}keys:
  - { at: 0 s, axes: { slide: -0.3, pan: 0, tilt: 0 } }
  - at: 1.8 s # allow axis-speed: rehearsed
    axes: { slide: 0.3 }
    allow:
${item}  - { after: 9 s, axes: { slide: 0 } }
`;
    assert.ok(kept > 0, "from rest to rest 0.6 m in 1.8 s take 5.77 · 0.6 / 1.8² = 1.07 m/s2 of 1");
    assert.equal(mended(text, YAML), expected);
  });

  it("takes signs away that JSON does not have, and changes no value", () => {
    const text = `{ "move": 1, "rig": "slider.rig.yaml", // the short one
  "camera": { "use": 'a.camera.yaml', "lens": "wide", },
  "keys": [{ at: 0, "axes": { "slide": .5, "pan": 0, "tilt": 0 } }, { "at": "9 s" }] }`;
    const made = mended(text, JSON_FILE);
    assert.deepEqual(JSON.parse(made ?? ""), {
      move: 1,
      rig: "slider.rig.yaml",
      camera: { use: "a.camera.yaml", lens: "wide" },
      keys: [{ at: 0, axes: { slide: 0.5, pan: 0, tilt: 0 } }, { at: "9 s" }],
    });
    assert.equal(counted(documents(made ?? "", JSON_FILE), JSON_FILE, "syntax"), 0);
  });

  it("leaves alone what would change the motion, and sound documents", () => {
    assert.equal(mended(FAST, YAML), undefined);
    assert.equal(mended(FAST.replace("slide: 0.3", "slyde: 0.3"), YAML), undefined);
  });
});
