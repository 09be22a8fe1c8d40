import assert from "node:assert/strict";
import fc from "fast-check";
import { KIT } from "../../../test/fixtures/kit.ts";
import { memorySources } from "../../../test/fixtures/memory-sources.ts";
import { analyseText, createMemo } from "../../checks/analyse.ts";
import { scaledMove } from "../../motion/retime-timing.ts";
import { parseTree } from "../../syntax/parse.ts";
import { applyEdits } from "../apply-edits.ts";
import { writeTimes, type MoveText, type TimeEdits } from "./time-edits.ts";

const HEAD = `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
`;

/** The kit's documents are read once. */
const memo = createMemo();

function moveText(text: string, name = "a.move.yaml"): MoveText {
  const files = new Map([...Object.entries(KIT), [name, text]]);
  const { move, textFindings } = analyseText(name, memorySources(files), memo);
  assert.ok(move, JSON.stringify(textFindings.map(({ message }) => message)));
  return { text, tree: parseTree(text, name.endsWith("json") ? "json" : "yaml"), move };
}

function written(document: MoveText, factor: number): Extract<TimeEdits, { ok: true }> {
  const put = writeTimes(document, scaledMove(document.move, factor));
  assert.ok(put.ok, put.ok ? "" : put.reason);
  return put;
}

const stretchedText = (text: string, factor: number, name?: string): string =>
  applyEdits(text, written(moveText(text, name), factor).edits);

/** Keys of a slide, each with the time that it is given. */
const keys = (...times: string[]): string =>
  `keys:\n${times.map((time, i) => `  - ${time}\n    axes: { slide: ${i % 2 === 0 ? 0 : 0.3} }\n    aim: lid\n`).join("")}`;

describe("times in a text", () => {
  it("are written in the unit in which they stand, rounded up", () => {
    for (const [before, after] of [
      ["at: 3 s", "at: 3.7038 s"],
      ["at: 3", "at: 3.7038"],
      ["at: 3000 ms", "at: 3703.8 ms"],
      ["at: 0.05 min", "at: 0.061729 min"],
      ["at: 75 f", "at: 93 f"],
      ["at: 75f", "at: 93f"],
      ['at: "00:00:03:00"', 'at: "00:00:03:18"'],
      ["at: 00:00:03:00", "at: 00:00:03:18"],
      ["after: 3 s", "after: 3.7038 s"],
      ["after: '75 frames'", "after: '93 frames'"],
      ["after: 00:00:03:00", "after: 00:00:03:18"],
    ]) {
      // 3 s / 0.81 = 3.703703.. s, 92.6 frames at 25.
      const text = HEAD + keys("at: 0 s", before);
      assert.equal(stretchedText(text, 1 / 0.81), HEAD + keys("at: 0 s", after));
    }
  });

  it("count drop-frame labels from the start", () => {
    const head = `${HEAD}rate: 29.97df\nstart: "00:00:59;00"\n`;
    // 40 frames become 50: frame 1770 + 50 = 1820 is labelled 00:01:00;22, as 00 and 01 of that minute are dropped
    // (SMPTE ST 12-1).
    const text = head + keys('at: "00:00:59;00"', 'at: "00:01:00;12"');
    assert.equal(stretchedText(text, 1.25), head + keys('at: "00:00:59;00"', 'at: "00:01:00;22"'));
  });

  it("are written time where the move plays at another speed", () => {
    const text = `${HEAD}speed: 50 %\n${keys("at: 0 s", "at: 2 s")}`;
    assert.equal(moveText(text).move.keys[1].time, 4);
    assert.equal(stretchedText(text, 1.5), `${HEAD}speed: 50 %\n${keys("at: 0 s", "at: 3 s")}`);
  });

  it("are holds and ramps too, and ways count from the end of a hold", () => {
    const text =
      HEAD +
      keys("at: 0 s", "at: 2 s\n    hold: 25 f\n    ease: { linear: { ramp: 500 ms } }", "after: 4 s", "at: 9 s");
    const after =
      HEAD +
      keys("at: 0 s", "at: 3 s\n    hold: 38 f\n    ease: { linear: { ramp: 750 ms } }", "after: 6 s", "at: 13.52 s");
    // 25 frames become 37.5, rounded up, so that the last key is 20 ms late.
    assert.equal(stretchedText(text, 1.5), after);
  });

  it("are written time where keys state speeds", () => {
    const text = HEAD + keys("at: 0 s\n    speed: 50 %", "at: 2 s\n    speed: 200 %", "after: 4 s");
    // From 50 % to 200 % at 125 % on the average: 1.6 s; then 2 s at 200 %.
    const played = moveText(text).move.keys.map((key) => key.time);
    [0, 1.6, 3.6].forEach((time, i) => assert.ok(Math.abs(played[i] - time) < 1e-9, `${played[i]}`));
    assert.equal(stretchedText(text, 1.5), text.replace("at: 2 s", "at: 3 s").replace("after: 4 s", "after: 6 s"));
  });

  it("carry later keys along where they are written from the beginning, and stay where nothing changes", () => {
    const text = HEAD + keys("at: 0 s", "at: 1 s", "after: 20 f", "at: 5 s");
    const document = moveText(text);
    const [first, second, third, fourth] = document.move.keys;
    const later = (key: typeof first): typeof first => ({ ...key, time: key.time + 0.5 });
    const put = writeTimes(document, { ...document.move, keys: [first, later(second), later(third), later(fourth)] });
    assert.ok(put.ok);
    assert.equal(applyEdits(text, put.edits), HEAD + keys("at: 0 s", "at: 1.5 s", "after: 20 f", "at: 5.5 s"));
    assert.deepEqual(
      put.changes.map(({ key, field, before, after }) => [key, field, before, after]),
      [
        [1, "at", "1 s", "1.5 s"],
        [3, "at", "5 s", "5.5 s"],
      ],
    );
    const same = writeTimes(document, document.move);
    assert.deepEqual(same.ok && same.edits, []);
  });

  it("are not written where another place of the text would change too", () => {
    for (const [text, why] of [
      [HEAD + keys("at: 0 s", "at: 1 s", "after: &wait 2 s", "after: *wait"), /alias/],
      [
        `${HEAD}keys:\n  - at: 0 s\n    axes: { slide: 0 }\n    aim: lid\n  - &k { after: 1 s, axes: { slide: 0.3 } }\n  - *k\n`,
        /alias/,
      ],
      [HEAD + keys("at: 0 s", "at: >-\n      1 s"), /one line/],
    ] as const) {
      const document = moveText(text);
      const put = writeTimes(document, scaledMove(document.move, 1.1));
      assert.ok(!put.ok && why.test(put.reason), put.ok ? text : put.reason);
    }
  });

  it("are written beside anchors and aliases of other values", () => {
    const text = HEAD + keys("at: 0 s", "at: &end 2 s").replaceAll("aim: lid", "aim: &lid lid").replace("&lid", "&a");
    assert.equal(stretchedText(text, 1.5), text.replace("&end 2 s", "&end 3 s"));
  });

  it("leave every other byte of the text as it is", () => {
    const time = fc.record({
      field: fc.constantFrom("at", "after"),
      style: fc.constantFrom("s", "bare", "ms", "f", "label"),
      way: fc.integer({ min: 5, max: 90 }),
    });
    const layout = fc.record({
      form: fc.constantFrom("block", "flow", "json"),
      end: fc.constantFrom("\n", "\r\n"),
      quote: fc.constantFrom("", "'", '"'),
      comment: fc.constantFrom("", " # at: 1 s, not this one", "   # é 🫖"),
    });
    fc.assert(
      fc.property(
        fc.array(time, { minLength: 1, maxLength: 6 }),
        layout,
        fc.double({ min: 0.3, max: 3, noNaN: true }),
        (times, form, factor) => {
          const { parts, slots } = render(times, form);
          const text = slots.reduce((sum, slot, i) => sum + slot + parts[i + 1], parts[0]);
          const name = form.form === "json" ? "a.move.json" : "a.move.yaml";
          const after = stretchedText(text, factor, name);
          // What is left once the parts around the times are taken away must be times.
          let rest = after;
          parts.forEach((part, i) => {
            const at = i === 0 ? 0 : rest.indexOf(part);
            assert.ok(rest.startsWith(part) || 0 < at, JSON.stringify({ text, after }));
            if (0 < i) assert.match(rest.slice(0, at), /^\d+(\.\d+)?( s| ms| f)?$|^\d\d:\d\d:\d\d:\d\d$/);
            rest = rest.slice(at + part.length);
          });
          assert.equal(rest, "");
          const again = moveText(after, name).move.keys;
          const old = moveText(text, name).move.keys;
          again.slice(1).forEach((key, i) => {
            const [was, is] = [old[i + 1].time - old[i].time, key.time - again[i].time];
            assert.ok(was * factor <= is + 1e-6 && is < was * factor + 0.041, `${was} s became ${is} s at ${factor}`);
          });
        },
      ),
      { numRuns: 80, seed: 5 },
    );
  });
});

type Time = { readonly field: string; readonly style: string; readonly way: number };
type Layout = { readonly form: string; readonly end: string; readonly quote: string; readonly comment: string };

/** A document as the parts around its times, and the times. Ways are whole frames at 25. */
function render(times: readonly Time[], { form, end, quote, comment }: Layout): { parts: string[]; slots: string[] } {
  const json = form === "json";
  const mark = json ? '"' : quote;
  const parts: string[] = [];
  const slots: string[] = [];
  const name = (word: string): string => (json ? `"${word}"` : word);
  let open = json
    ? `{"move": 1, "rig": "slider.rig.yaml", "camera": {"use": "a.camera.yaml", "lens": "wide"}, "set": "table.set.yaml",${end}  "keys": [{"at": "0 s", "axes": {"slide": 0}, "aim": "lid"}`
    : HEAD.replaceAll("\n", end) + `keys:${comment}${end}  - { at: 0 s, axes: { slide: 0 }, aim: lid }${comment}${end}`;
  let frame = 0;
  times.forEach(({ field, style, way }, i) => {
    frame += way;
    const frames = field === "at" ? frame : way;
    const bare = style === "bare";
    const m = bare ? "" : mark;
    const start = json ? `,${end}    {` : form === "flow" ? "  - { " : "  - ";
    parts.push(`${open}${start}${name(field)}: ${m}`);
    slots.push(timeOf(frames, style));
    const axes = `${name("axes")}: { ${name("slide")}: ${i % 2 === 0 ? 0.2 : 0.1} }`;
    open = json
      ? `${m}, ${axes} }`
      : form === "flow"
        ? `${m}, ${axes} }${comment}${end}`
        : `${m}${comment}${end}    ${axes}${end}`;
  });
  parts.push(open + (json ? `]}${end}` : ""));
  return { parts, slots };
}

function timeOf(frames: number, style: string): string {
  const two = (value: number): string => String(Math.floor(value)).padStart(2, "0");
  if (style === "f") return `${frames} f`;
  if (style === "ms") return `${frames * 40} ms`;
  if (style === "label") return `00:00:${two(frames / 25)}:${two(frames % 25)}`;
  return style === "bare" ? String(frames / 25) : `${frames / 25} s`;
}
