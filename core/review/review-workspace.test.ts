import assert from "node:assert/strict";
import { demoFiles, replaced, reviewOfFiles, withFiles, type Files } from "../../test/support/change.ts";
import { createMemo } from "../checks/memo.ts";
import type { DocumentReview, MoveReview, Review } from "./review.ts";

const SLIDER_MOVES = ["moves/along-the-glaze.move.yaml", "moves/once-around.move.yaml"];

const files = demoFiles();

/** What is the same from test to test is solved once. */
const memos = [createMemo(), createMemo()] as const;
const reviewOf = (before: Files, after: Files, renames: Readonly<Record<string, string>> = {}): Review =>
  reviewOfFiles(before, after, renames, memos);

const changesOf = ({ fields }: MoveReview | DocumentReview): unknown[] =>
  fields.map(({ field, was, is }) => [field, was, is]);

function documentOf({ documents }: Review, file: string): DocumentReview {
  const found = documents.find((one) => one.file === file);
  assert.ok(found, `${file} among ${documents.map((one) => one.file).join()}`);
  return found;
}

const movesOf = ({ moves }: Review): string[] => moves.map(({ file }) => file);

describe("review of a workspace", () => {
  it("has nothing to say of what is the same", () => {
    assert.deepEqual(reviewOf(files, demoFiles()), { moves: [], documents: [] });
  });

  it("lists every move that a change of a rig does something to, and how", () => {
    const after = replaced(files, "kit/slider.rig.yaml", "limits: { speed: 0.1,", "limits: { speed: 6 cm/s,");
    const review = reviewOf(files, after);
    assert.deepEqual(movesOf(review), SLIDER_MOVES);
    for (const { motion, isTextSame, causes, keys, fields, findings } of review.moves) {
      assert.deepEqual([motion, isTextSame, causes], ["same", true, ["kit/slider.rig.yaml"]]);
      assert.deepEqual([keys, fields], [[], []]);
      assert.ok(findings.some(({ state, code }) => state === "new" && code === "axis-speed"));
    }
    const rig = documentOf(review, "kit/slider.rig.yaml");
    assert.deepEqual(changesOf(rig), [["chain.slide.limits.speed", "0.1 m/s", "0.06 m/s"]]);
    assert.ok(Math.abs((rig.fields[0].by ?? 0) + 0.04) < 1e-12);
    assert.equal(rig.isMeaningSame, false);
    assert.deepEqual(rig.moves, SLIDER_MOVES);
  });

  it("says of a document that is only written otherwise that it means the same", () => {
    const rig = files.get("kit/slider.rig.yaml") as string;
    const other = rig
      .replace("speed: 0.1, accel: 0.1", "accel: 100 mm/s2, speed: 100 mm/s")
      .replace("rig: 1", "rig: 1 # said again");
    const review = reviewOf(files, withFiles(files, { "kit/slider.rig.yaml": other }));
    const { isMeaningSame, isTextSame, fields } = documentOf(review, "kit/slider.rig.yaml");
    assert.deepEqual([isMeaningSame, isTextSame, fields], [true, false, []]);
    assert.deepEqual(
      review.moves.map(({ motion, effects }) => [motion, effects]),
      SLIDER_MOVES.map(() => ["same", undefined]),
    );
    const noted = replaced(files, "kit/slider.rig.yaml", "payload: {", "note: for the small pots\npayload: {");
    const told = documentOf(reviewOf(files, noted), "kit/slider.rig.yaml");
    assert.deepEqual([told.isMeaningSame, changesOf(told)], [true, [["note", undefined, "for the small pots"]]]);
  });

  it("tells an axis that is called otherwise once, and its moves as the same motion", () => {
    const renamed = (file: string, from: RegExp, to: string): [string, string] => [
      file,
      (files.get(file) as string).replace(from, to),
    ];
    const after = withFiles(
      files,
      Object.fromEntries([
        renamed("kit/slider.rig.yaml", /\bslide\b/g, "carriage-way"),
        ...SLIDER_MOVES.map((file) => renamed(file, /\bslide\b/g, "carriage-way")),
      ]),
    );
    const review = reviewOf(files, after);
    assert.deepEqual(changesOf(documentOf(review, "kit/slider.rig.yaml")), [
      ["chain.carriage-way", "slide", "carriage-way"],
    ]);
    for (const { file, motion, keys, findings, fields } of review.moves) {
      assert.equal(motion, "same", file);
      assert.deepEqual(keys, [], file);
      assert.deepEqual(
        findings.filter(({ state }) => state !== "still"),
        [],
        file,
      );
      assert.deepEqual(fields, [], file);
    }
  });

  it("tells items of a set by their names: added, gone, another", () => {
    const set = files.get("teapots.set.yaml") as string;
    const after = withFiles(files, {
      "teapots.set.yaml": set
        .replace(/ {2}knob: .*\n/, "  jug: { sphere: { radius: 0.06 }, at: [2.2, 0.9, 0.8] }\n")
        .replace("radius: 0.085 }", "radius: 0.09 }")
        .replace("floor: 0\n", "floor: 0 mm\n"),
    });
    const review = reviewOf(files, after);
    const { fields } = documentOf(review, "teapots.set.yaml");
    assert.deepEqual(
      fields.map(({ field, was, is }) => [field, was, is]),
      [
        ["obstacles.teapot.sphere.radius", "85 mm", "90 mm"],
        ["obstacles.jug", undefined, "jug: { sphere: { radius: 0.06 }, at: [2.2, 0.9, 0.8] }"],
        ["obstacles.knob", "knob: { sphere: { radius: 0.015 }, at: [0, 0, 0.17], on: plate }", undefined],
      ],
    );
    assert.ok(review.moves.every(({ motion }) => motion === "same"));
    assert.equal(review.moves.length, 8);
  });

  it("lists moves that a camera, a config, a mesh or a URDF file does something to", () => {
    const sensor = reviewOf(files, replaced(files, "kit/a-cam.camera.yaml", "flange: ", "flange: 1"));
    assert.ok(sensor.moves.length >= 7 && sensor.documents.some(({ kind }) => kind === "camera"));

    const config = withFiles(files, { "moves/movewright.config.yaml": "config: 1\nseverity:\n  near-limit: error\n" });
    const strict = reviewOf(files, config);
    const added = documentOf(strict, "moves/movewright.config.yaml");
    assert.deepEqual([added.kind, added.state, added.moves.length], ["config", "added", 8]);
    assert.ok(
      strict.moves.every(({ motion, causes }) => motion === "same" && causes.join() === "moves/movewright.config.yaml"),
    );

    const mesh = [...files.keys()].find(
      (file) => file.startsWith("kit/meshes/") && typeof files.get(file) !== "string",
    );
    assert.ok(mesh);
    const bytes = files.get(mesh) as Uint8Array;
    const touched = Uint8Array.from([...bytes, 0]);
    const meshed = reviewOf(files, new Map([...files, [mesh, touched]]));
    const asset = documentOf(meshed, mesh);
    assert.deepEqual([asset.kind, asset.state, asset.isMeaningSame], [undefined, "both", false]);
    assert.deepEqual(movesOf(meshed), asset.moves);
    assert.ok(asset.moves.length > 0);

    const urdf = replaced(files, "kit/rail-arm.urdf", 'velocity="', 'velocity="0');
    const armed = reviewOf(files, urdf);
    assert.deepEqual(movesOf(armed), ["moves/low-past-the-pots.move.yaml"]);
    assert.deepEqual(documentOf(armed, "kit/rail-arm.urdf").moves, movesOf(armed));
  });

  it("tells moves that are new, gone and renamed, and what is named under its new name", () => {
    const lid = "moves/over-the-lid.move.yaml";
    const gone = reviewOf(files, withFiles(files, { [lid]: undefined }));
    assert.deepEqual(
      gone.moves.map(({ file, state, motion }) => [file, state, motion]),
      [[lid, "removed", "changed"]],
    );
    const moved = withFiles(files, {
      [lid]: undefined,
      "moves/late/lid.move.yaml": (files.get(lid) as string).replaceAll("../", "../../"),
    });
    const renamed = reviewOf(files, moved, { [lid]: "moves/late/lid.move.yaml" });
    const [move] = renamed.moves;
    assert.deepEqual(
      [move.file, move.renamedFrom, move.state, move.motion],
      ["moves/late/lid.move.yaml", lid, "both", "same"],
    );
    assert.deepEqual([move.fields, move.keys, move.effects], [[], [], undefined]);
    assert.ok(move.findings.every(({ state }) => state === "still"));
  });

  it("matches findings by what they are about, not by line or number, and under other names of keys", () => {
    const file = "moves/over-the-lid.move.yaml";
    const fast = replaced(files, file, "at: 3 s", "at: 0.9 s");
    const faster = replaced(fast, file, "at: 0.9 s", "at: 0.8 s");
    const after = replaced(
      replaced(faster, file, "name: over", "name: across"),
      file,
      "keys:\n",
      "# Hurried.\nkeys:\n",
    );
    const [move] = reviewOf(fast, after).moves;
    const speeds = move.findings.filter(({ code }) => code === "axis-speed" || code === "axis-accel");
    assert.ok(speeds.length > 0);
    assert.ok(
      speeds.every(({ state, element, before }) => state === "still" && before && !element.includes("keys.over.")),
    );
    const cured = reviewOf(after, files)
      .moves[0].findings.filter(({ state }) => state === "gone")
      .map(({ code }) => code);
    assert.ok(cured.includes("axis-accel"), cured.join());
  });

  it("is mirrored when its sides are", () => {
    const file = "moves/once-around.move.yaml";
    const one = replaced(files, "teapots.set.yaml", "floor: 0\n", "floor: 0.01\n");
    const other = replaced(
      replaced(files, file, "slide: 0.15", "slide: 0.14"),
      file,
      "  - at: 12 s\n    name: right\n",
      "  - at: 12 s\n    name: to the right\n",
    );
    const there = reviewOf(one, other);
    const back = reviewOf(other, one);
    assert.deepEqual(movesOf(there), movesOf(back));
    const swap = { new: "gone", gone: "new", still: "still" } as const;
    const states = { added: "removed", removed: "added", changed: "changed", both: "both" } as const;
    there.moves.forEach((move, idx) => {
      const mirror = back.moves[idx];
      assert.equal(mirror.motion, move.motion);
      assert.deepEqual(
        mirror.keys.map(({ time, state, fields }) => [
          time.before,
          state,
          fields.map(({ field, was, is }) => [field, was, is]),
        ]),
        move.keys.map(({ time, state, fields }) => [
          time.after,
          states[state],
          fields.map(({ field, was, is }) => [field, is, was]),
        ]),
      );
      assert.deepEqual(
        mirror.findings.map(({ state, code, element }) => [state, code, element].join()).sort(),
        move.findings
          .map(({ state, code, element }) =>
            [swap[state], code, element.replace("keys.to the right", "keys.right")].join(),
          )
          .sort(),
      );
      const [a, b] = [move.effects, mirror.effects];
      assert.equal(a === undefined, b === undefined);
      assert.deepEqual(
        [b?.duration.before, b?.clearance?.before, b?.passError?.before],
        [a?.duration.after, a?.clearance?.after, a?.passError?.after],
      );
      assert.ok(Math.abs((a?.path?.byTime.value ?? 0) - (b?.path?.byTime.value ?? 0)) < 1e-9);
    });
    assert.deepEqual(
      documentOf(back, "teapots.set.yaml").fields.map(({ field, was, is }) => [field, is, was]),
      changesOf(documentOf(there, "teapots.set.yaml")),
    );
  });
});
