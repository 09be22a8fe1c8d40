import assert from "node:assert/strict";
import { runToEnd } from "../../core/base/task.ts";
import type { FindingCode } from "../../core/base/finding-code.ts";
import { analyse } from "../../core/checks/analyse.ts";
import type { PlacedFinding } from "../../core/checks/finding.ts";
import { applyEdits } from "../../core/edit/apply-edits.ts";
import { parseTree } from "../../core/syntax/parse.ts";
import { findingsIn, type Documents } from "../../test/fixtures/cured.ts";
import { KIT } from "../../test/fixtures/kit.ts";
import { memorySources } from "../../test/fixtures/memory-sources.ts";
import { findClearings } from "./clear-search.ts";
import { solvedOf, type View } from "./view.ts";

const FILE = "m.move.yaml";
const RIGS = ["slider", "crane", "telescope"] as const;
type Rig = (typeof RIGS)[number];

/** Links of each rig at rest. */
const STILL: Readonly<Record<Rig, string>> = {
  slider: "slide: 0, pan: 0, tilt: 0",
  crane: "swing: 0, lift: 0, pan: 0, tilt: 0",
  telescope: "swing: 0, lift: 0, tube: 0, pan: 0, tilt: 0",
};

function viewOf(documents: Documents, file = FILE): View {
  const sources = memorySources(new Map(Object.entries(documents)));
  const analysis = runToEnd(analyse(file, sources));
  const parse = (each: string) => parseTree(each, file.endsWith(".json") ? "json" : "yaml");
  const text = documents[file];
  const solved = solvedOf(analysis);
  return {
    file,
    kind: "move",
    text,
    tree: parse(text),
    parse,
    analysis,
    solved,
    sources,
    names: () => undefined,
  } as unknown as View;
}

interface Offered {
  readonly title: string;
  readonly after: Documents;
}

/** What is offered for the first finding of a code, each with the documents after it. */
function offers(documents: Documents, code: FindingCode, file = FILE): readonly Offered[] {
  const view = viewOf(documents, file);
  const finding = view.analysis.motionFindings.find((each) => each.code === code);
  assert.ok(finding, `no ${code}: ${view.analysis.textFindings.map(({ message }) => message).join("; ")}`);
  return runToEnd(findClearings(view, finding)).map(({ title, edits }) => ({
    title,
    after: { ...documents, [file]: applyEdits(documents[file], edits) },
  }));
}

const errors = (documents: Documents, file: string): readonly PlacedFinding[] =>
  findingsIn(documents, file).filter(({ severity }) => severity === "error");

/** Something is offered, and each offer leaves one finding of the code less and no other error. */
function assertClears(documents: Documents, code: FindingCode, file = FILE): readonly Offered[] {
  const made = offers(documents, code, file);
  assert.ok(0 < made.length && made.length <= 3, `${made.length} offers for ${code}`);
  const count = (all: Documents) => findingsIn(all, file).filter((each) => each.code === code).length;
  const before = errors(documents, file).filter((each) => each.code !== code);
  for (const { title, after } of made) {
    assert.equal(count(after), count(documents) - 1, title);
    const others = errors(after, file).filter((each) => each.code !== code);
    assert.deepEqual(
      others.map((each) => each.code),
      before.map((each) => each.code),
      title,
    );
  }
  return made;
}

const CALM = "tolerance: { crossing: 1 ms, clearance: 200 mm, self-clearance: 0 }";

const move = (rig: string, rest: string): string => `move: 1
rig: ${rig}.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: ball.set.yaml
${rest}`;

/** A ball beside the way of each rig, and the keys of that way. */
const WAYS: Readonly<Record<Rig, { readonly ball: string; readonly to: string }>> = {
  slider: { ball: "[0.25, 0.3, 1.25]", to: "slide: 0.25" },
  crane: { ball: "[1.66, 0.6, 1.1]", to: "swing: 22, lift: 4" },
  telescope: { ball: "[2.1, 0.35, 1.05]", to: "tube: 0.3, swing: 8" },
};

const ball = (at: string, kind = "obstacles"): string => `set: 1
targets: { lid: { at: [4, 0, 1.1] } }
${kind}: { ball: { sphere: { radius: 0.1 }, at: ${at} } }
`;

const near = (rig: Rig, kind = "obstacles"): Documents => ({
  ...KIT,
  "ball.set.yaml": ball(WAYS[rig].ball, kind),
  [FILE]: move(
    rig,
    `${CALM}\nkeys:\n  - { at: 0 s, axes: { ${STILL[rig]} } }\n  - { at: 12 s, axes: { ${WAYS[rig].to} } }\n`,
  ),
});

/** From, to, and what hangs from which link where. */
const HUNG = {
  slider: ["slide: 0, pan: 0, tilt: 0", "slide: 0.4, tilt: -66", "tilt", "[0.95, 0, 0]"],
  crane: ["swing: 0, lift: 0, pan: 0, tilt: 0", "swing: 10, lift: -20", "pan", "[0, 0, -0.55]"],
  telescope: ["swing: 0, lift: 0, tube: 0, pan: 0, tilt: 0", "swing: 10, lift: -20", "pan", "[0, 0, -0.5]"],
} as const;

function hung(from: string, to: string, link: string, at: string, rig: string): Documents {
  const body = `bodies: [{ name: foot, on: ${link}, sphere: { radius: 0.1 }, at: ${at} }]\n`;
  const keys = `keys:\n  - { at: 0 s, axes: { ${from} } }\n  - { at: 12 s, axes: { ${to} } }\n`;
  const text = move("hung", `${CALM}\n${keys}`);
  return { ...KIT, "ball.set.yaml": "set: 1\n", "hung.rig.yaml": `${KIT[`${rig}.rig.yaml`]}${body}`, [FILE]: text };
}

/** [deg] Where the hood is too near to the stay, on its way towards it. */
const FOLDED: Readonly<Record<Rig, number>> = { slider: -62, crane: -45, telescope: -45 };

/** A rig that tilts its hood down to a stay, with 60 mm to keep between them. */
function folding(rig: Rig): Documents {
  const at = rig === "slider" ? "[0.15, 0, -0.13]" : "[0.18, 0, -0.38]";
  const bodies = `bodies:
  - { name: stay, on: pan, box: [0.02, 0.4, 0.02], at: ${at} }
  - { name: hood, on: tilt, sphere: { radius: 0.02 }, at: [0.2, 0, 0.05] }
`;
  const text = `move: 1
rig: own.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
tolerance: { crossing: 1 ms, clearance: 0, self-clearance: 60 mm }
keys:
  - { at: 0 s, axes: { ${STILL[rig]} } }
  - { at: 12 s, axes: { tilt: ${FOLDED[rig]} } }
`;
  return { ...KIT, "own.rig.yaml": `${KIT[`${rig}.rig.yaml`]}${bodies}`, [FILE]: text };
}

/** A stand on the base to the left of the camera's first view, and a pan towards it. */
function standing(rig: Rig, to: string): Documents {
  const at = rig === "slider" ? "[0, 1.5, 1.5]" : "[1.5, 1.5, 1.5]";
  const body = `bodies: [{ name: stand, on: base, cylinder: { radius: 0.03, height: 3 }, at: ${at} }]\n`;
  const text = `move: 1
rig: own.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
tolerance: { crossing: 1 ms, clearance: 0, self-clearance: 0 }
keys:
  - { at: 0 s, axes: { ${STILL[rig]} } }
  - { at: 12 s, axes: { ${to} } }
`;
  return { ...KIT, "own.rig.yaml": `${KIT[`${rig}.rig.yaml`]}${body}`, [FILE]: text };
}

describe("one value that clears a move", () => {
  for (const rig of RIGS) {
    it(`leads the ${rig} past what stands there at the clearance`, () => {
      const made = assertClears(near(rig), "clearance");
      for (const { title } of made)
        assert.match(title, /^Set .+ from -?[\d.]+ to -?[\d.]+ (m|deg): .+ then stays .+ from ball$/);
    });

    it(`keeps the ${rig} from a person, and says that this is no assessment`, () => {
      const made = assertClears(near(rig, "people"), "people");
      for (const { title } of made) assert.match(title, /no assessment of safety$/);
    });
  }

  for (const [rig, [from, to, link, at]] of Object.entries(HUNG)) {
    it(`lifts what hangs from the ${rig} off the floor`, () => {
      const made = assertClears(hung(from, to, link, at, rig), "floor");
      for (const { title } of made) assert.match(title, /: foot then stays \S+ m above the floor$/);
    });
  }

  for (const rig of RIGS) {
    it(`keeps parts of the ${rig} from each other`, () => {
      const made = assertClears(folding(rig), "self-clearance");
      for (const { title } of made)
        assert.match(title, /^Set tilt at key 2 from -\d\d to -[\d.]+ deg: stay then stays .+ from hood$/);
    });

    it(`pans the ${rig} until its stand is out of the picture`, () => {
      const made = assertClears(standing(rig, "pan: 60"), "in-view");
      for (const { title } of made) assert.match(title, /: stand is then out of the picture$/);
    });
  }
});

describe("what is offered for a clearance", () => {
  it("changes a value by what is needed and no more: a sphere beside a slide, by Pythagoras", () => {
    const documents = near("slider");
    const [{ title, after }] = assertClears(documents, "clearance");
    const slide = Number(/slide: ([\d.]+) } }\n$/.exec(after[FILE])?.[1]);
    assert.match(title, new RegExp(`from 0.25 to ${slide} m`));
    // The pupil is 0.16 m before and 0.05 m below the middle of the ball: 0.3 m from there it is this far along the slide.
    const needed = 0.3 - Math.sqrt(0.3 ** 2 - 0.16 ** 2 - 0.05 ** 2);
    assert.ok(needed - 0.003 <= slide && slide <= needed, `${slide} m for ${needed} m`);
    const less = { ...documents, [FILE]: documents[FILE].replace("slide: 0.25", `slide: ${needed + 0.001}`) };
    assert.equal(
      errors(less, FILE).filter(({ code }) => code === "clearance").length,
      1,
      "1 mm farther it is too near",
    );
  });

  it("keeps the notation of each value, and every other byte", () => {
    const documents = near("telescope");
    const text = documents[FILE].replace("tube: 0.3, swing: 8", 'tube: 300 mm, swing: "8 deg" # past the ball\n   ');
    const made = assertClears({ ...documents, [FILE]: text }, "clearance");
    const texts = made.map(({ after }) => after[FILE]);
    const same = (one: string) => one.replace(/tube: \d+ mm|swing: "[\d.]+ deg"|lift: [\d.]+/g, "");
    assert.ok(texts.some((one) => /tube: 2\d\d mm/.test(one)));
    assert.ok(texts.some((one) => /swing: "[\d.]+ deg"/.test(one) && !one.includes('"8 deg"')));
    for (const one of texts) assert.equal(same(one), same(text));
  });

  it("writes JSON", () => {
    const file = "m.move.json";
    const keys = [
      { at: "0 s", axes: { swing: 0, lift: 0, pan: 0, tilt: 0 } },
      { at: "12 s", axes: { swing: "22 deg", lift: 4 } },
    ];
    const tolerance = { crossing: "1 ms", clearance: 0.2, "self-clearance": 0 };
    const camera = { use: "a.camera.yaml", lens: "wide" };
    const json = { move: 1, rig: "crane.rig.yaml", camera, set: "ball.set.yaml", tolerance, keys };
    const made = assertClears({ ...near("crane"), [file]: JSON.stringify(json, null, 2) }, "clearance", file);
    const written = made.map(({ after }) => (JSON.parse(after[file]) as typeof json).keys[1].axes);
    assert.ok(written.some(({ swing }) => /^1\d(\.\d)? deg$/.test(String(swing))));
  });

  it("moves the point of a camera key", () => {
    const keys = `  - { at: 0 s, camera: { at: [1.6, 0, 1.1] }, aim: lid }
  - { at: 12 s, camera: { from: lid, offset: [-2.1, 200 mm, 0] } }
`;
    const documents = { ...near("telescope"), [FILE]: move("telescope", `${CALM}\nkeys:\n${keys}`) };
    const made = assertClears(documents, "clearance");
    assert.ok(
      made.some(({ title }) => /of the camera's offset at key 2/.test(title)),
      made.map(({ title }) => title).join(),
    );
    assert.ok(made.some(({ after }) => /offset: \[-2\.1, -?\d+ mm, 0\]/.test(after[FILE])));
  });

  it("turns to where the rig stands and its set-up only where the keys have too little to offer", () => {
    const rig = `rig: 1
chain:
  - { axis: column, type: linear, origin: { at: [0, 0, 0.5] }, range: [0, 1], drive: setup }
  - { axis: pan, type: rotary, range: [-100, 100], limits: { speed: 30, accel: 60, jerk: 400 } }
`;
    const keys = "keys:\n  - { at: 0 s, axes: { pan: 0 } }\n  - { at: 9 s, axes: { pan: 1 } }\n";
    const text = move("post", `place: { at: [0 mm, 0.1] }\nsetup: { column: 0.4 }\n${CALM}\n${keys}`);
    const documents = { ...KIT, "post.rig.yaml": rig, "ball.set.yaml": ball("[0.05, 0.2, 0.75]"), [FILE]: text };
    const titles = assertClears(documents, "clearance").map(({ title }) => title);
    assert.ok(
      titles.some((title) => /^Set column of the set-up from 0\.4 to /.test(title)),
      titles.join(),
    );
    assert.ok(
      titles.some((title) => /^Set [xy] of the place from /.test(title)),
      titles.join(),
    );
  });

  it("clears a pass whose target stands elsewhere", () => {
    const keys = `  - { at: 0 s, camera: { from: lid, offset: [-2, -0.3, 0] }, aim: lid }
  - { at: 12 s, camera: { from: lid, offset: [-2, 0, 0] } }
`;
    const passes = "passes: [{ name: aside, targets: { lid: { shift: [0, 0.15, 0] } } }]";
    const documents = { ...near("telescope"), [FILE]: move("telescope", `${CALM}\n${passes}\nkeys:\n${keys}`) };
    const [finding] = findingsIn(documents, FILE).filter(({ code }) => code === "clearance");
    assert.equal(finding.pass, "aside");
    assertClears(documents, "clearance");
  });

  it("is nothing where no single value does it", () => {
    const cage = `set: 1
obstacles:
  left: { box: [3, 0.02, 3], at: [0, 0.25, 1] }
  right: { box: [3, 0.02, 3], at: [0, -0.25, 1] }
`;
    const keys = "keys:\n  - { at: 0 s, axes: { slide: 0.15, pan: 0, tilt: 0 } }\n";
    const shut = { ...near("slider"), "ball.set.yaml": cage, [FILE]: move("slider", `${CALM}\n${keys}`) };
    assert.deepEqual(offers({ ...shut, [FILE]: shut[FILE].replace("200 mm", "300 mm") }, "clearance"), []);
    // The tilt alone would do, beyond its range.
    const low = { ...hung(...HUNG.slider, "slider") };
    const tight = { ...low, "hung.rig.yaml": low["hung.rig.yaml"].replace("range: [-95, 60]", "range: [-95, -66]") };
    assert.deepEqual(offers({ ...tight, [FILE]: tight[FILE].replace("tilt: 0", "tilt: -70") }, "floor"), []);
  });

  it("is nothing for a rig that is in its own picture wherever it looks, or whose value stands for more than one key", () => {
    for (const rig of RIGS) {
      const seen = standing(rig, "pan: 0.5");
      const fixed = seen["own.rig.yaml"]
        .replace("on: base", "on: tilt")
        .replace(/at: \[[^\]]+\] }]/, "at: [0.5, 0, 0.05] }]");
      assert.deepEqual(offers({ ...seen, "own.rig.yaml": fixed }, "in-view"), [], rig);
      // Both keys say the same number, which stands for both: another value would change both.
      const folded = folding(rig);
      const [first, second] = [`tilt: &down ${FOLDED[rig]} }`, "tilt: *down }"];
      const text = folded[FILE].replace("tilt: 0 }", first).replace(`tilt: ${FOLDED[rig]} } }\n`, `${second} }\n`);
      const kept = { ...folded, [FILE]: text };
      assert.deepEqual(offers(kept, "self-clearance"), [], rig);
    }
  });

  it("is nothing for people who are far enough but beside something fast: time helps there", () => {
    const documents = near("crane", "people");
    const fast = documents[FILE].replace("clearance: 200 mm", "clearance: 10 mm").replace("12 s", "3 s");
    const view = viewOf({ ...documents, [FILE]: fast });
    const finding = view.analysis.motionFindings.find(({ code }) => code === "people");
    assert.equal(finding?.unit, "m/s");
    assert.deepEqual(runToEnd(findClearings(view, finding)), []);
  });
});
