import assert from "node:assert/strict";
import { KIT } from "../../../test/fixtures/kit.ts";
import { reviewOfMove, sideOfFiles } from "../../../test/support/change.ts";
import { headOf } from "../../../test/support/random-moves.ts";
import type { MoveReview } from "../review.ts";

const FILE = "m.move.yaml";

const side = (text: string) => sideOfFiles(new Map(Object.entries({ ...KIT, [FILE]: text })));

function review(before: string, after: string): MoveReview {
  return reviewOfMove(FILE, side(before), side(after));
}

/** What became of keys, each on a line: `changed rise 2 -> 2.5: axes.swing 10 deg -> 12 deg`. */
function keysOf({ keys }: MoveReview): string[] {
  return keys.map(({ state, key, renamedFrom, time: { before, after }, fields }) => {
    const name = renamedFrom === undefined ? key : `${renamedFrom} as ${key}`;
    const time = before === after ? `${before}` : `${before} -> ${after}`;
    const said = fields.map(({ field, was, is }) => `${field} ${was} -> ${is}`).join(", ");
    return `${state} ${name} ${time}${said === "" ? "" : `: ${said}`}`;
  });
}

const move = (...keys: string[]): string =>
  `${headOf("crane")}keys:\n${keys.map((key) => `  - { ${key} }\n`).join("")}`;

const START = "at: 0 s, axes: { swing: 0, lift: 0 }, aim: lid";
const UP = "at: 2 s, axes: { swing: 10, lift: 5 }";
const OVER = "at: 4 s, axes: { swing: 20, lift: 0 }";
const END = "at: 6 s, axes: { swing: 30, lift: -5 }";

describe("review of keys", () => {
  const plain = move(START, UP, OVER, END);

  it("says nothing of keys that stay", () => {
    assert.deepEqual(keysOf(review(plain, plain)), []);
  });

  it("matches keys without names in their order by the nearest time", () => {
    assert.deepEqual(keysOf(review(plain, move(START, UP, "at: 3 s, axes: { swing: 18 }", OVER, END))), [
      "added key 3 undefined -> 3",
    ]);
    assert.deepEqual(keysOf(review(plain, move(START, OVER, END))), ["removed key 2 2 -> undefined"]);
    assert.deepEqual(keysOf(review(plain, move(START, UP, OVER.replace("4 s", "4.6 s"), END))), [
      "changed key 3 4 -> 4.6",
    ]);
    assert.deepEqual(keysOf(review(plain, move(START, UP.replace("swing: 10", "swing: 12"), OVER, END))), [
      "changed key 2 2: axes.swing 10 deg -> 12 deg",
    ]);
  });

  it("knows keys again that all come later, for one is put before them", () => {
    const after = (seconds: number, key: string): string => key.replace(/at: \d s/, `after: ${seconds} s`);
    const before = move(START, after(2, UP), after(2, OVER), after(2, END));
    const more = move(START, "after: 2 s, axes: { swing: 3, lift: -8 }", after(2, UP), after(2, OVER), after(2, END));
    assert.deepEqual(keysOf(review(before, more)), [
      "added key 2 undefined -> 2",
      "changed key 3 2 -> 4",
      "changed key 4 4 -> 6",
      "changed key 5 6 -> 8",
    ]);
  });

  it("matches named keys by their names, wherever they are", () => {
    const before = move(START, `name: up, ${UP}`, `name: over, ${OVER}`, END);
    const swapped = move(START, `name: over, ${UP}`, `name: up, ${OVER}`, END);
    assert.deepEqual(keysOf(review(before, swapped)), [
      "changed over 4 -> 2: axes.swing 20 deg -> 10 deg, axes.lift 0 deg -> 5 deg",
      "changed up 2 -> 4: axes.swing 10 deg -> 20 deg, axes.lift 5 deg -> 0 deg",
    ]);
  });

  it("knows a renamed key by its time and content, also one that had no name", () => {
    const before = move(START, `name: up, ${UP}`, OVER, END);
    const renamed = review(before, move(START, `name: climb, ${UP}`, `name: over, ${OVER}`, END));
    assert.deepEqual(keysOf(renamed), ["changed up as climb 2", "changed key 3 as over 4"]);
    assert.equal(renamed.motion, "same");
    const also = move(START, `name: climb, ${UP.replace("lift: 5", "lift: 6")}`, OVER, END);
    assert.deepEqual(keysOf(review(before, also)), ["changed up as climb 2: axes.lift 5 deg -> 6 deg"]);
    const other = move(START, "name: dip, at: 3 s, axes: { plate: 8 }, focus: lid", OVER, END);
    assert.deepEqual(keysOf(review(before, other)).sort(), ["added dip undefined -> 3", "removed up 2 -> undefined"]);
  });

  it("tells each field of a key with both values, and how far it went", () => {
    const full = move(
      START,
      `${UP}, aim: { at: lid, framing: [0.4, 0.5] }, focus: 2 m, iris: 4, hold: 10 f, ease: minimum-jerk`,
      END,
    );
    const other = move(
      START,
      "at: 2.04 s, axes: { swing: 10, lift: 5.001, plate: 3 }, aim: { at: spout, framing: [0.4, 0.55] }, focus: lid, iris: 5.6, hold: 0.6 s, stop: true, ease: { linear: { ramp: 0.2 s } }",
      END,
    );
    const { keys, motion } = review(full, other);
    assert.equal(motion, "changed");
    const [key] = keys;
    assert.equal(key.time.before, 2);
    assert.ok(Math.abs((key.time.after ?? 0) - 2.04) < 1e-12);
    const told = key.fields.map(({ field, was, is }) => [field, was, is]);
    assert.deepEqual(told, [
      ["axes.lift", "5 deg", "5.001 deg"],
      ["axes.plate", undefined, "3 deg"],
      ["aim", "lid", "spout"],
      ["aim.framing", "[0.4, 0.5]", "[0.4, 0.55]"],
      ["focus", "2 m", "lid"],
      ["iris", "4", "5.6"],
      ["hold", "0.4 s", "0.6 s"],
      ["stop", undefined, "true"],
      ["ease", "minimum-jerk", "{ linear: { ramp: 0.2 s } }"],
    ]);
    const lift = key.fields[0];
    assert.equal(lift.dimension, "angle");
    assert.ok(Math.abs((lift.by ?? 0) - (0.001 * Math.PI) / 180) < 1e-12);
    assert.equal(lift.place.after && other.slice(lift.place.after.span.start, lift.place.after.span.end), "5.001");
    assert.equal(lift.place.before && full.slice(lift.place.before.span.start, lift.place.before.span.end), "5");
  });

  it("says nothing of what only reads otherwise", () => {
    const one = move(START, `${UP}, aim: lid, stop: false`, "at: 150 f, axes: { swing: 30 deg, lift: -5 deg }");
    const same = move(
      START,
      "aim: { at: lid }, axes: { lift: 87.26646259971647 mrad, swing: 10 deg }, at: 50 f",
      "at: 6, axes: { swing: 30, lift: -5 }, note: as before",
    );
    const { keys, motion } = review(one, same);
    assert.equal(motion, "same");
    assert.deepEqual(
      keys.flatMap(({ fields }) => fields.map(({ field }) => field)),
      ["note"],
    );
  });

  it("compares keys of a side that can't be solved, by its own rate, as far as they are read", () => {
    const broken = (text: string): string => text.replace("crane.rig", "gone.rig").replace("rate: 25", "rate: 50");
    const { motion, problem, keys, effects } = review(
      plain,
      broken(move(START, UP.replace("2 s", "120 f"), OVER.replace("4 s", "oops"), END.replace("30", "31"))),
    );
    assert.equal(motion, "unknown");
    assert.match(problem.after ?? "", /gone\.rig\.yaml/);
    assert.equal(problem.before, undefined);
    assert.equal(effects, undefined);
    assert.deepEqual(keysOf({ keys } as MoveReview), [
      "changed key 2 2 -> 2.4",
      "changed key 3 4 -> undefined",
      "changed key 4 6: axes.swing 30 deg -> 31",
    ]);
  });

  it("tells a change of the move's own speed once, not at each key", () => {
    const slow = plain.replace("rate: 25", "rate: 25\nspeed: 50 %");
    const { keys, fields, effects } = review(plain, slow);
    assert.deepEqual(keys, []);
    assert.deepEqual(
      fields.map(({ field, was, is }) => [field, was, is]),
      [["speed", undefined, "50 %"]],
    );
    assert.deepEqual(effects?.duration, { before: 6, after: 12, dimension: "time" });
  });

  it("takes no longer for a thousand keys of which few are others", () => {
    const many = Array.from({ length: 1000 }, (_, idx) => `at: ${idx} s, axes: { swing: ${idx % 7} }`);
    const other = many.map((key, idx) => (idx === 500 ? key.replace(/swing: \d/, "swing: 9") : key));
    const texts = [many, other].map((keys) => move(...keys).replace("crane.rig", "gone.rig"));
    const start = performance.now();
    assert.deepEqual(keysOf(review(texts[0], texts[1])), ["changed key 501 500: axes.swing 3 -> 9"]);
    assert.ok(performance.now() - start < 5_000);
  });
});
