import assert from "node:assert/strict";
import { DOMParser, onErrorStopParsing, type Element } from "@xmldom/xmldom";
import fc from "fast-check";
import { KIT } from "../../test/fixtures/kit.ts";
import { memorySources } from "../../test/fixtures/memory-sources.ts";
import { headOf, randomMoveText } from "../../test/support/random-moves.ts";
import { dataOf, inOtherUnits, shuffled, writtenAnew } from "../../test/support/same-rewrites.ts";
import { seededRandom } from "../base/random.ts";
import { runToEnd } from "../base/task.ts";
import { analyseText } from "../checks/analyse.ts";
import { snapshotTable } from "../exchange/snapshot-table.ts";
import { planTrajectory } from "../motion/plan.ts";
import { brief, niceStep, steady } from "./snapshot-number.ts";
import { snapshotSamples } from "./snapshot-samples.ts";
import { drawSnapshot, SNAPSHOT_FORM, snapshotForm } from "./snapshot.ts";

interface Snapshot {
  readonly picture: string;
  readonly table: string;
}

function snapshotOf(files: ReadonlyMap<string, string>, file = "m.move.yaml"): Snapshot {
  const { move, textFindings } = analyseText(file, memorySources(files));
  assert.ok(move, textFindings.map(({ message }) => message).join("; "));
  const trajectory = runToEnd(planTrajectory(move));
  const samples = runToEnd(snapshotSamples(trajectory));
  return { picture: drawSnapshot(trajectory, samples), table: snapshotTable(trajectory, samples, "m.snapshot.svg") };
}

const kitWith = (text: string): Map<string, string> => new Map(Object.entries({ ...KIT, "m.move.yaml": text }));
const slider = (keys: string, title = "Along the shelf"): Snapshot =>
  snapshotOf(kitWith(`${headOf("slider")}title: ${title}\nkeys:\n${keys}`));

const STRAIGHT = `  - { at: 0 s, name: left, axes: { slide: -0.3, pan: 0, tilt: 0 } }
  - { at: 2 s, name: right, axes: { slide: 0.5 } }
`;

const elements = (picture: string, name: string): Element[] => {
  const document = new DOMParser({ onError: onErrorStopParsing }).parseFromString(picture, "image/svg+xml");
  return [...document.getElementsByTagName(name)];
};
const number = (element: Element, name: string): number => Number(element.getAttribute(name));

describe("snapshots of moves", () => {
  it("are the same to the byte for a move that is written anew: units, order of fields, layout, comments", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (seed) => {
        const random = seededRandom(seed);
        const before = kitWith(randomMoveText(seed));
        let after: ReadonlyMap<string, string> = before;
        for (const file of before.keys()) after = inOtherUnits(after, file, 0.6, random) as ReadonlyMap<string, string>;
        const written = [...after].map(([file, text]): [string, string] => [
          file,
          writtenAnew(shuffled(dataOf(text), random), "yaml", random),
        ]);
        assert.deepEqual(snapshotOf(new Map(written)), snapshotOf(before), `seed ${seed}`);
      }),
      { numRuns: Number(process.env.MOVEWRIGHT_RUNS ?? 12), seed: 11 },
    );
  });

  it("differ where the motion does", () => {
    const [one, other] = [slider(STRAIGHT), slider(STRAIGHT.replace("0.5", "0.51"))];
    assert.notEqual(one.picture, other.picture);
    assert.notEqual(one.table, other.table);
    // What is before the change stays line by line.
    const lines = one.table.split("\n");
    const differing = other.table.split("\n").filter((line, i) => line !== lines[i]);
    assert.deepEqual(
      differing.map((line) => line.slice(0, 9)),
      ["Duration:", "| 2 | rig", "| slide |"],
    );
  });

  it("show the entrance pupil where the rig takes it, on the scale that is written at the grid", () => {
    const { picture } = slider(STRAIGHT);
    // By hand from the kit: 0.04 m of the mount and 0.05 m of the pupil ahead; 0.9 + 0.15 + 0.1 + 0.05 m high.
    const places = [[0.09, -0.3, 1.2], [0.09, 0.5, 1.2]]; // prettier-ignore
    const labels = elements(picture, "text").filter((text) => text.getAttribute("font-size") === "10");
    const scaleOf = (anchor: string, axis: "x" | "y", isRight: boolean): ((value: number) => number) => {
      const own = labels.filter(
        (text) =>
          text.getAttribute("text-anchor") === anchor && number(text, "x") > 480 === isRight && number(text, "y") < 450,
      );
      const shift = axis === "y" ? -4 : 0;
      const [a, b] = [own[0], own[own.length - 1]].map((text) => [
        Number(text.textContent),
        number(text, axis) + shift,
      ]);
      return (value) => a[1] + ((value - a[0]) * (b[1] - a[1])) / (b[0] - a[0]);
    };
    const circles = elements(picture, "circle").map((circle) => [number(circle, "cx"), number(circle, "cy")]);
    const top = places.map(([x, y]) => [scaleOf("middle", "x", false)(x), scaleOf("end", "y", false)(y)]);
    // From the side both keys are at one place and share a mark.
    const [[x, , z]] = places;
    const side = [scaleOf("middle", "x", true)(x), scaleOf("end", "y", true)(z)];
    assert.equal(circles.length, 3);
    [...top, side].forEach((place, i) => {
      assert.ok(
        Math.hypot(circles[i][0] - place[0], circles[i][1] - place[1]) < 0.11,
        `${circles[i].join()} ${place.join()}`,
      );
    });
    assert.deepEqual(elements(picture, "text").filter((text) => text.getAttribute("font-weight") === "600").map((text) => text.textContent), [
      "Along the shelf", "1", "2", "1, 2", "Shares of limits over time", "1", "2", "slide", "over the limit",
    ]); // prettier-ignore
  });

  it("say how much of its limits an axis takes, by the closed form of the least jerk", () => {
    // Flash & Hogan 1985: speed 1.875, acceleration 10/√3, jerk 60 of the way over the powers of the time. The kit's slide
    // has 0.5 m/s, 1 m/s2, 8 m/s3; 0.8 m in 2 s.
    const share = (factor: number, power: number, limit: number): string =>
      ((100 * factor * 0.8) / 2 ** power / limit).toFixed(1);
    const { table, picture } = slider(STRAIGHT);
    const row = table.split("\n").find((line) => line.startsWith("| slide |")) ?? "";
    assert.ok(row.includes(` ${share(1.875, 1, 0.5)} % at about 1 s `), row);
    assert.ok(row.includes(` ${share(10 / Math.sqrt(3), 2, 1)} % `), row);
    assert.ok(row.includes(` ${share(60, 3, 8)} % at about 0 s `), row);
    assert.match(table, /Highest share: 150\.0 % of the speed of slide\./);
    assert.ok(picture.includes(">over the limit<"));
    assert.match(
      table,
      /^\| 2 \| right \| 2\.000 \| {2}\| 0\.090 \| 0\.500 \| 1\.200 \| 0\.5000 \| 0\.000 \| 0\.000 \|$/m,
    );
  });

  it("hold words of documents as words", () => {
    const keys = STRAIGHT.replace("name: left", 'name: "a|b <i> @all"');
    const { picture, table } = slider(keys, '"<script>alert(1)</script> | ]]> \\u202e & <!-- \\u0007"');
    assert.equal(elements(picture, "script").length, 0);
    assert.ok(!/<script|<!--(?! A snapshot)|\u202e/.test(table) && !table.includes(String.fromCharCode(7)), table);
    assert.equal(table.split("\n").filter((line) => line.startsWith("| 1 ")).length, 1);
    const cells = (table.split("\n").find((line) => line.startsWith("| 1 ")) ?? "").split("|").length;
    assert.equal(cells, (table.split("\n").find((line) => line.startsWith("| key ")) ?? "").split("|").length);
  });

  it("are made of moves of one place, of one key and of no limits", () => {
    const still = slider("  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }\n");
    assert.ok(still.picture.includes("No axis that moves has a limit"));
    assert.match(still.table, /No axis that moves has a limit/);
    elements(still.picture, "svg");
  });

  it("are known by their beginning, with or without ends of lines of another kind", () => {
    const { picture, table } = slider(STRAIGHT);
    assert.equal(snapshotForm(picture), SNAPSHOT_FORM);
    assert.equal(snapshotForm(table.replaceAll("\n", "\r\n")), SNAPSHOT_FORM);
    assert.equal(snapshotForm("<svg/>"), undefined);
    assert.equal(snapshotForm("# notes\n<!-- A snapshot made by Movewright, form 1. -->"), undefined);
  });
});

describe("numbers of snapshots", () => {
  it("are rounded alike a hair below and above the half way", () => {
    for (const value of [0.05, 0.15, 12.25, -0.05, -3.75]) {
      assert.equal(steady(value - 1e-12, 1), steady(value + 1e-12, 1));
    }
    assert.deepEqual([steady(-0.00001, 2), steady(-0.3, 1), steady(Infinity, 1), brief(1.5, 3), brief(10, 2)], ["0.00", "-0.3", "unbounded", "1.5", "10"]); // prettier-ignore
  });

  it("have steps that people count in", () => {
    assert.deepEqual([0.03, 0.05, 0.11, 1, 2.4, 7, 9.99].map((value) => Number(niceStep(value).toFixed(6))), [0.05, 0.05, 0.2, 1, 2.5, 10, 10]); // prettier-ignore
  });
});
