import assert from "node:assert/strict";
import { headOf } from "../../test/support/random-moves.ts";
import { apart, viewOf } from "../../test/support/rewritten.ts";
import { provenEdits } from "../../server/service/rewrites/rewrites.ts";
import { askedEdit } from "../../server/service/rewrites/asked-edits.ts";
import { applyEdits } from "./apply-edits.ts";

const HEAD = headOf("crane");

/** The text with a key at a played time, and what is said of it. */
async function added(text: string, time: number, file = "m.move.yaml"): Promise<{ text: string; note?: string }> {
  const view = viewOf(text, file);
  const asked = askedEdit(view, { kind: "add-key", time });
  assert.ok(!("refusal" in asked), "refusal" in asked ? asked.refusal : "");
  const made = await provenEdits(view, asked, (other) => Promise.resolve(viewOf(other, file).analysis));
  assert.ok("edits" in made, "refusal" in made ? made.refusal : "");
  return { text: applyEdits(text, made.edits), ...("note" in made ? { note: made.note } : {}) };
}

function refusalOf(text: string, time: number): string | undefined {
  const asked = askedEdit(viewOf(text, "m.move.yaml"), { kind: "add-key", time });
  return "refusal" in asked ? asked.refusal : undefined;
}

describe("adding a key at a time", () => {
  const two = (more = ""): string => `${HEAD}keys:
  - { at: 0 s, axes: { swing: -10, lift: 5 }, aim: lid }
  # The end.
  - { at: 4 s, axes: { swing: 10, lift: 5 }${more} }
`;

  it("falls on the way that is played then, in the notation of the next key, and changes nothing", async () => {
    // Least jerk from rest to rest (Flash & Hogan 1985) at a quarter of the time: 0.103515625 of the way.
    const made = await added(two(), 1);
    assert.equal(
      made.text,
      two().replace("  # The end.\n", "  - { at: 1 s, axes: { swing: -7.92969, lift: 5 } }\n  # The end.\n"),
    );
    assert.equal(made.note, undefined);
    assert.ok(apart(two(), made.text, "m.move.yaml") < 1e-5);
    const slow = two().replace("keys:", "speed: 50 %\nkeys:");
    assert.equal((await added(slow, 2)).text, made.text.replace("keys:", "speed: 50 %\nkeys:"));
  });

  it("keeps an ease that has the least jerk by letting its ends rest, and tells what another one loses", async () => {
    const least = await added(two(", ease: minimum-jerk"), 1);
    assert.ok(apart(two(), least.text, "m.move.yaml") < 1e-5);
    assert.doesNotMatch(least.text, /ease/);
    const linear = two(", ease: { linear: { ramp: 0.5 s } }");
    const other = await added(linear, 1);
    assert.match(other.note ?? "", /^between keys the motion changes, `\w+` by up to [\d.]+ deg at /);
    assert.ok(1e-3 < apart(linear, other.text, "m.move.yaml"));
  });

  it("gives both halves of an arc a point to go through", async () => {
    const text = `${headOf("telescope")}keys:
  - { at: 0 s, camera: { at: [1.5, -0.2, 1.2] }, aim: lid }
  - { at: 4 s, camera: { at: [1.5, 0.2, 1.2] }, path: { arc: { via: [1.4, 0, 1.2] } } }
`;
    const made = await added(text, 1.5);
    assert.equal(made.text.match(/path: \{ arc: \{ via: \[/g)?.length, 2, made.text);
    // Through three points of it there is one circle: centre [x, 0], (1.4 - x)² = (1.5 - x)² + 0.2², x = 1.65, radius 0.25.
    for (const [, place] of made.text.matchAll(/(?:at|via): \[([^\]]*)\]/g)) {
      const [x, y, z] = place.split(", ").map(Number);
      assert.ok(Math.abs(Math.hypot(x - 1.65, y) - 0.25) < 2e-6 && z === 1.2, made.text);
    }
  });

  it("spells a path in JSON as it stood", async () => {
    const text = `{ "move": 1, "rig": "telescope.rig.yaml", "camera": { "use": "a.camera.yaml", "lens": "wide" }, "set": "table.set.yaml",
  "keys": [
    { "at": "0 s", "camera": { "at": [1.5, -0.2, 1.2] }, "aim": "lid" },
    { "after": "4 s", "path": "line", "camera": { "at": [1.52, 0.2, 1.25] } }
  ] }`;
    const made = await added(text, 1, "m.move.json");
    const { keys } = JSON.parse(made.text) as { keys: { after?: string; path?: string }[] };
    assert.deepEqual(
      keys.map(({ after, path }) => [after, path]),
      [
        [undefined, undefined],
        ["1 s", "line"],
        ["3 s", "line"],
      ],
    );
  });

  it("says why not", () => {
    const held = two().replace("aim: lid }", "aim: lid, hold: 1 s }");
    assert.equal(refusalOf(held, 0.5), "`key 1` is held at that time: let the hold be shorter first");
    assert.equal(refusalOf(two(), 4), "`key 2` is at that time already");
    assert.equal(refusalOf(two(), 3.99), "`key 2` is at that time already");
    assert.match(refusalOf(two(", hold: 2 s"), 5) ?? "", /^`key 2` is held/);
    const broken = two().replace("swing: 10", "swng: 10");
    assert.match(refusalOf(broken.replace("rig: crane", "rig: crne"), 1) ?? "", /^the move cannot be solved/);
  });
});
