import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import type { FindingCode } from "../../../core/base/finding-code.ts";
import { runToEnd } from "../../../core/base/task.ts";
import { applyEdits, type TextEdits } from "../../../core/edit/apply-edits.ts";
import { viewOf } from "../../../test/fixtures/clearings.ts";
import { findingsIn, type Documents } from "../../../test/fixtures/cured.ts";
import { findClearings } from "./clear-search.ts";
import { findEase } from "./ease-search.ts";
import { offerStretch, writeStretch } from "./fixes.ts";
import { textCures } from "./text-cures.ts";

const EXAMPLES = fileURLToPath(new URL("../../../examples", import.meta.url));

function textsIn(folder: string): [string, string][] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry): [string, string][] => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return textsIn(path);
    return /\.(yaml|json)$/.test(entry.name) ? [[`/${relative(EXAMPLES, path)}`, readFileSync(path, "utf8")]] : [];
  });
}

interface Offer {
  readonly title: string;
  readonly edits: TextEdits;
}

/** All that is offered for the first finding of a code. */
function offersFor(documents: Documents, file: string, code: FindingCode): readonly Offer[] {
  const view = viewOf(documents, file);
  const finding = [...view.analysis.textFindings, ...view.analysis.motionFindings].find((one) => one.code === code);
  assert.ok(finding, `${file} has ${code}`);
  const stretch = runToEnd(offerStretch(view, finding));
  const longer = stretch && runToEnd(writeStretch(view, finding, stretch.stretch));
  const ease = runToEnd(findEase(view, finding));
  return [
    ...textCures(view, finding),
    ...(stretch && longer ? [{ title: stretch.title, edits: longer }] : []),
    ...(ease ? [ease] : []),
    ...runToEnd(findClearings(view, finding)),
  ];
}

/** What is offered for each broken example: in this order and nothing else. */
const ROWS: readonly (readonly [file: string, code: FindingCode, titles: readonly RegExp[]])[] = [
  [
    "too-fast.move",
    "axis-speed",
    [
      // 15/8 · 0.6 m / 0.1 m/s
      /^Stretch the way from key 1 to key 2 from 10 s to 11\.25\d* s: slide then reaches 0\.(1|0999\d*) m\/s of 0\.1 m\/s$/,
      // 0.6 m in 10 s less a ramp of 4 s are 0.1 m/s.
      /^Take the way to key 2 at an even pace, with ramps of 4 s: slide then reaches 0\.1 m\/s of 0\.1 m\/s$/,
      // 15/8 · 0.533 m / 10 s
      /^Set slide at key 2 from 0\.3 to 0\.233 m: slide then reaches 0\.0999 m\/s of 0\.1 m\/s$/,
      /^Set slide at key 1 from -0\.3 to -0\.233 m: slide then reaches 0\.0999 m\/s of 0\.1 m\/s$/,
    ],
  ],
  [
    "starts-too-hard.move",
    "axis-accel",
    [/^Stretch .*: slide then reaches 0\.0\d+ m\/s2 of 0\.1 m\/s2$/, /^Set slide at key 2/, /^Set slide at key 1/],
  ],
  ["jerks.move", "axis-jerk", [/^Stretch .*: slide then reaches 0\.5\d* m\/s3 of 0\.6 m\/s3$/]],
  [
    "past-the-rail.move",
    "axis-range",
    [/^Set slide at key 2 from 0\.65 to 0\.6 m: slide then goes to 0\.6 m, with its end at 0\.6 m$/],
  ],
  [
    "too-high.move",
    "out-of-reach",
    [/^Set z of the camera's offset at key 2 from 0\.9 to 0\.\d+ m: the rig then gets there$/],
  ],
  [
    "out-of-the-crop.move",
    "out-of-frame",
    [/^Set framing across at key 2 from 0\.86 to 0\.81\d: the subject is then in the frame$/],
  ],
  [
    "racks-too-fast.move",
    "focus-speed",
    [
      /^Stretch .*: focus then uses (100|99\.\d) % of what its motor can$/,
      /^Set focus at key 1/,
      /^Set x of the place/,
    ],
  ],
  [
    "smears.move",
    "blur",
    [
      /^Stretch .*: the subject then smears by 10 px of 10 px allowed$/,
      /^Take the way to key 2 at an even pace/,
      /^Set framing/,
      /^Set framing/,
    ],
  ],
  [
    "rushes-over.move",
    "judder",
    [
      /^Stretch .* from 3\.6 s to 7\.\d+ s: nothing then crosses the frame in less than 6\.7\d s, where 6\.72 s is the least$/,
    ],
  ],
  [
    "soft-lid.move",
    "soft-subject",
    [/^Close the iris to f\/18$/, /^Focus on lid$/, /^Set focus at key 1/, /^Set x of the place/],
  ],
  ["through-the-pole.move", "aim-spin", [/^Set slide at key 1/, /^Set slide at key 2/]],
  ["leans-too-far.move", "tip-over", [/^Set column of the set-up .*, which is no assessment of safety$/]],
  ["idle-allow.move", "allow", [/^Delete this `allow` of /]],
  ["unknown-field.move", "unknown-field", [/^Write `stabilise`$/, /^Delete `/]],
  ["two-masters.move", "over-determined", [/^Delete `/]],
  ["other-elbow.move", "branch-change", []],
];

describe("what is offered for a finding", () => {
  const all: Documents = Object.fromEntries(textsIn(EXAMPLES));
  const count = (documents: Documents, file: string, code: FindingCode) =>
    findingsIn(documents, file).filter((one) => one.code === code).length;
  const errors = (documents: Documents, file: string): readonly string[] =>
    findingsIn(documents, file).flatMap(({ code, severity, axis }) =>
      severity === "error" ? [`${code} ${axis}`] : [],
    );

  for (const [name, code, titles] of ROWS) {
    for (const ending of ["yaml", "json"]) {
      // The same search twice tells nothing more where it is long.
      if (ending === "json" && !/idle|unknown|masters|past-the-rail/.test(name)) continue;
      it(`${code} of ${name}.${ending}: each alternative ends it and brings no error`, () => {
        const file = `/broken/${name}.${ending}`;
        const made = offersFor(all, file, code);
        const told = made.map(({ title }) => title);
        assert.equal(told.length, titles.length, told.join("\n"));
        titles.forEach((title, i) => assert.match(told[i], title));
        const before = { own: count(all, file, code), errors: new Set(errors(all, file)) };
        for (const { title, edits } of made) {
          const after = { ...all, [file]: applyEdits(all[file], edits) };
          assert.equal(count(after, file, code), before.own - 1, title);
          // A field that is read at last may have more to say.
          const isOfMotion = (one: string): boolean => code === "unknown-field" && one.startsWith("crop-margin");
          assert.deepEqual(
            errors(after, file).filter((one) => !before.errors.has(one) && !isOfMotion(one)),
            [],
            title,
          );
        }
      });
    }
  }
});
