import assert from "node:assert/strict";
import fc from "fast-check";
import { seededRandom, type Random } from "../base/random.ts";
import { documentKind } from "../model/document-kind.ts";
import { pathAt, type Path } from "../syntax/locate.ts";
import type { ScalarNode } from "../syntax/tree.ts";
import { KIT } from "../../test/fixtures/kit.ts";
import {
  demoFiles,
  reviewOfFiles,
  reviewOfMove,
  sideOfFiles,
  withFiles,
  type Files,
} from "../../test/support/change.ts";
import { randomMoveText } from "../../test/support/random-moves.ts";
import { scalars, treeOfText } from "../../test/support/same-rewrites.ts";
import type { Review } from "./review.ts";

const MOVE = "m.move.yaml";

/** Values of documents that the motion hangs on, whatever the move, and the least change of a bare one [its own unit]. */
const MATTERING: readonly (readonly [RegExp, number])[] = [
  [/^keys\.\d+\.axes\.(slide|tube|dolly|track)$/, 1e-6],
  [/^keys\.\d+\.axes\.(?!slide|tube|dolly|track)/, 1e-4],
  [/^keys\.\d+\.camera\.(at|offset)\.\d$/, 1e-6],
  [/^keys\.[1-9]\d*\.(at|after)$/, 1e-4],
  [/^keys\.\d+\.aim\.framing\.\d$/, 1e-6],
  [/^keys\.\d+\.roll$/, 1e-4],
  [/^place\.at\.\d$/, 1e-6],
  [/^place\.heading$/, 1e-4],
  [/^chain\.\d+\.origin\.at\.\d$/, 1e-6],
  [/^camera-mount\.at\.\d$/, 1e-6],
];

interface Value {
  readonly path: Path;
  readonly node: ScalarNode;
  readonly least: number;
}

/** Values of one document that matter. */
function valuesIn(file: string, files: Files): Value[] {
  const tree = treeOfText(file, files.get(file) as string);
  return scalars(tree.root).flatMap((node): Value[] => {
    const { path } = pathAt(tree, node.start);
    const found = MATTERING.find(([pattern]) => pattern.test(path.join(".")));
    return found && typeof node.value === "number" ? [{ path, node, least: found[1] }] : [];
  });
}

/** The files with one of these values larger or smaller by a little; and what was changed. */
function changedByLittle(
  files: Files,
  among: readonly string[],
  random: Random,
): { after: Files; file: string; path: Path; by: number } {
  const all = among.flatMap((file) => valuesIn(file, files).map((value) => ({ file, ...value })));
  const { file, path, node, least } = all[Math.floor(random() * all.length)];
  const by = (random() < 0.5 ? 1 : -1) * least * 10 ** Math.floor(4 * random());
  const text = files.get(file) as string;
  const written = Number(((node.value as number) + by).toFixed(12));
  const after = withFiles(files, { [file]: `${text.slice(0, node.start)}${written}${text.slice(node.end)}` });
  return { after, file, path, by };
}

/** All that a review lists as changed, by the last name that is no number. */
function listed({ moves, documents }: Review): string[] {
  const keys = moves.flatMap((move) => move.keys);
  const fields = [
    ...moves.flatMap((move) => move.fields),
    ...documents.flatMap((one) => one.fields),
    ...keys.flatMap((key) => key.fields),
  ];
  const moved = keys.some(({ time }) => time.before !== time.after) ? ["at", "after"] : [];
  return [...fields.map(({ field }) => field), ...moved];
}

function assertListed(review: Review, path: Path, context: string): void {
  const name = [...path].reverse().find((part) => typeof part === "string") as string;
  const all = listed(review);
  assert.ok(
    all.some((field) => field === name || field.endsWith(`.${name}`)),
    `${context}: ${name} among ${all.join()}`,
  );
}

describe("a change of one value", () => {
  const runs = Number(process.env.REVIEW_RUNS ?? 40);

  it("of 1e-4 deg, 1e-6 m or 0.1 ms and more is a change of the motion, and is listed", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (seed) => {
        const files: Files = new Map(Object.entries({ ...KIT, [MOVE]: randomMoveText(seed) }));
        const rig = /rig: (.*)/.exec(files.get(MOVE) as string)?.[1] ?? "";
        const { after, file, path, by } = changedByLittle(files, [MOVE, MOVE, rig], seededRandom(seed));
        const context = `seed ${seed}: ${file} ${path.join(".")} by ${by}`;
        const review = reviewOfFiles(files, after);
        assert.equal(review.moves.length, 1, context);
        if (review.moves[0].motion === "unknown") return;
        assert.equal(review.moves[0].motion, "changed", `${context}\n${files.get(MOVE) as string}`);
        assertListed(review, path, context);
      }),
      { numRuns: runs, seed: 8 },
    );
  });

  it("is one in each move of the demo", () => {
    const files = demoFiles();
    const before = sideOfFiles(files);
    const moves = [...files.keys()].filter((file) => documentKind(file)?.kind === "move");
    moves.forEach((file, idx) => {
      const { after, path, by } = changedByLittle(files, [file], seededRandom(idx + 1));
      const context = `${file} ${path.join(".")} by ${by}`;
      const move = reviewOfMove(file, before, sideOfFiles(after));
      assert.equal(move.motion, "changed", context);
      assertListed({ moves: [move], documents: [] }, path, context);
    });
  });

  it("of a target that is aimed at is one of the moves that aim at it, and of no other", () => {
    const files = demoFiles();
    const set = files.get("teapots.set.yaml") as string;
    const after = withFiles(files, {
      "teapots.set.yaml": set.replace("glaze: { at: [-0.05,", "glaze: { at: [-0.050001,"),
    });
    const review = reviewOfFiles(files, after);
    const changed = review.moves.filter(({ motion }) => motion === "changed").map(({ file }) => file);
    assert.deepEqual(changed, ["moves/along-the-glaze.move.yaml"]);
    assert.equal(review.moves.length, 8);
    assertListed(review, ["targets", "glaze", "at"], "glaze");
  });
});
