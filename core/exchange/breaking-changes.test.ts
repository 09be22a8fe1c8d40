import assert from "node:assert/strict";
import { finding, moveDocument, TOP } from "../../test/fixtures/check-report.ts";
import { breakingChanges, type ChangedFile } from "./breaking-changes.ts";

const RIG = `${TOP}/kit/slider.rig.yaml`;
const MOVE = `${TOP}/moves/lid.move.yaml`;
const range = (line: number, from: number, to: number) => ({
  start: { line, character: from },
  end: { line, character: to },
});
/** The limit that `finding` names stands at line 4, 40 to 47. */
const limit = { words: "`limits.speed` was 0.5 m/s and is 0.4 m/s", range: range(4, 40, 47) };
const other = { words: "`name` was A and is B", range: range(1, 6, 7) };
const rig = (...fields: readonly (typeof limit)[]): ChangedFile => ({
  lines: fields.map(({ range: { start } }) => ({ start: start.line, end: start.line + 1 })),
  fields,
  isMeaningSame: false,
});

describe("changes that break moves", () => {
  const told = (changed: Record<string, ChangedFile>, ...documents: Parameters<typeof breakingChanges>[0]) =>
    breakingChanges(documents, new Map(Object.entries(changed))).map(
      ({ file, range: at, change, breaks, severity }) => ({
        at: `${file.slice(TOP.length + 1)}:${at.start.line}`,
        change,
        breaks: breaks.map((each) => each.slice(TOP.length + 1)),
        severity,
      }),
    );

  it("are the changed field that a finding leads to, once for all moves", () => {
    const again = finding({ file: `${TOP}/moves/again.move.yaml`, severity: "warning" });
    const found = told(
      { [RIG]: rig(other, limit) },
      moveDocument([finding(), finding()]),
      moveDocument([again], "again"),
    );
    assert.deepEqual(found, [
      {
        at: "kit/slider.rig.yaml:4",
        change: limit.words,
        breaks: ["moves/again.move.yaml", "moves/lid.move.yaml"],
        severity: "error",
      },
    ]);
  });

  it("are else the first change of each file that the move uses, with how many more there are", () => {
    const alone = finding({ related: [], severity: "warning" });
    assert.deepEqual(told({ [RIG]: rig(limit, other) }, moveDocument([alone])), [
      {
        at: "kit/slider.rig.yaml:1",
        change: `${other.words}, and 1 more change below`,
        breaks: ["moves/lid.move.yaml"],
        severity: "warning",
      },
    ]);
    const mesh: ChangedFile = { lines: [], fields: [], isMeaningSame: false };
    const uses = { ...moveDocument([alone]), inputs: [MOVE, `${TOP}/kit/arm.stl`] };
    assert.deepEqual(
      told({ [`${TOP}/kit/arm.stl`]: mesh, [RIG]: rig(limit) }, uses).map(({ at, change }) => [at, change]),
      [["kit/arm.stl:0", undefined]],
    );
  });

  it("are none where the move's own changed line tells, or its own change may be the cause", () => {
    const own = (line: number): ChangedFile => ({
      lines: [{ start: line, end: line + 1 }],
      fields: [],
      isMeaningSame: false,
    });
    assert.deepEqual(told({ [RIG]: rig(limit), [MOVE]: own(7) }, moveDocument([finding()])), []);
    assert.deepEqual(told({ [RIG]: rig(other), [MOVE]: own(2) }, moveDocument([finding()])), []);
    assert.equal(told({ [RIG]: rig(limit), [MOVE]: own(2) }, moveDocument([finding()])).length, 1);
  });

  it("are none for what is known, allowed or a note, nor of another layout", () => {
    const quiet = [finding({ known: "base" }), finding({ allowed: "rehearsed" }), finding({ severity: "information" })];
    assert.deepEqual(told({ [RIG]: rig(limit) }, moveDocument(quiet)), []);
    assert.deepEqual(told({ [RIG]: { ...rig(limit), isMeaningSame: true } }, moveDocument([finding()])), []);
    assert.deepEqual(told({}, moveDocument([finding()])), []);
  });
});
