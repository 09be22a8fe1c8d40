import assert from "node:assert/strict";
import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  readdirSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { KIT } from "../test/fixtures/kit.ts";
import type { Outcome } from "./failure.ts";
import { runProgram } from "./program.ts";
import type { RetimeAnswer } from "./retime-answer.ts";

const MOVE = `move: 1 # from rest to rest
rig: kit/slider.rig.yaml
camera: { use: kit/a.camera.yaml, lens: wide }
set: kit/table.set.yaml
rate: 24
keys:
  - at: 0 s
    name: left
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 00:00:00:12   # half a second
    axes: { slide: 0.3 }
  - { after: 0.8 s, axes: { slide: 0.6 }, stop: true }
`;

// The slider's 0.5 m/s, 1 m/s2 and 8 m/s3 over 0.3 m from rest to rest: √(5.7735 · 0.3) = 1.3161 s binds
// (1.875 · 0.3 / 0.5 = 1.125 s, ∛(60 · 0.3 / 8) = 1.3104 s; Flash & Hogan 1985).
const NEEDED = Math.sqrt((10 / Math.sqrt(3)) * 0.3);

describe("movewright retime", () => {
  let folder: string;
  const put = (name: string, text: string): string => {
    mkdirSync(join(folder, name, ".."), { recursive: true });
    writeFileSync(join(folder, name), text);
    return join(folder, name);
  };
  const run = (...args: string[]): Promise<Outcome> => runProgram(["retime", ...args]);
  const json = async (...args: string[]): Promise<RetimeAnswer & Outcome> => {
    const outcome = await run(...args, "--format", "json");
    return { ...outcome, ...(JSON.parse(outcome.output) as RetimeAnswer) };
  };
  before(() => {
    folder = mkdtempSync(join(tmpdir(), "retime-"));
    for (const [name, text] of Object.entries(KIT)) put(`kit/${name}`, text);
  });
  after(() => rmSync(folder, { recursive: true, force: true }));

  const TWO = MOVE.replace(/ {2}- \{ after.*\n/, "").replace("00:00:00:12 ", "0.5 s ");

  it("says old and new times, what binds and when, and touches nothing", async () => {
    const path = put("a.move.yaml", TWO);
    const answer = await json(path, "--fit", "whole");
    assert.deepEqual([answer.exit, answer.version, answer.fit, answer.written], [0, 1, "whole", false]);
    assert.ok(Math.abs(answer.factor! - NEEDED / 0.5) < 1e-9);
    assert.equal(answer.duration.before, 0.5);
    assert.ok(NEEDED <= answer.duration.after && answer.duration.after < NEEDED + 1e-4);
    assert.deepEqual(
      answer.keys.map(({ name, before, text }) => [name, before, text.map(({ field, before: was }) => [field, was])]),
      [
        ["left", 0, []],
        ["key 2", 0.5, [["at", "0.5 s"]]],
      ],
    );
    const [{ axis, limit, share, key, time }] = answer.binding;
    assert.deepEqual([answer.binding.length, axis, limit, key], [1, "slide", "accel", "key 2"]);
    assert.ok(0.99 <= share && share <= 1);
    // Acceleration of the least-jerk way peaks at (3 ∓ √3) / 6 of its time.
    const early = ((3 - Math.sqrt(3)) / 6) * answer.duration.after;
    assert.ok(Math.min(Math.abs(time - early), Math.abs(answer.duration.after - early - time)) < 1e-6);
    assert.equal(readFileSync(path, "utf8"), TWO);
  });

  it("says it in words too", async () => {
    const { output, exit } = await run(put("a.move.yaml", TWO), "--fit", "whole");
    assert.equal(exit, 0);
    assert.match(output, /a\.move\.yaml, the whole move: 0\.5 s becomes 1\.3161 s \(time times 2\.6321\)/);
    assert.match(output, /key 2 +0\.5 s +1\.3161 s +at: 0\.5 s -> 1\.3161 s/);
    assert.match(output, /slide +acceleration +100 % +00:00:0\d:\d\d \(frame \d+\), to key 2/);
    assert.match(output, /Nothing is written without --write\./);
  });

  it("writes the times into the text and nothing else, keeping the file's mode", async () => {
    const path = put("b.move.yaml", MOVE.replaceAll("\n", "\r\n"));
    chmodSync(path, 0o640);
    for (const fit of ["segments", "whole", "fastest"]) {
      writeFileSync(path, MOVE.replaceAll("\n", "\r\n"));
      const answer = await json(path, "--fit", fit, "--write");
      assert.deepEqual([answer.exit, answer.written], [0, true], answer.output);
      const text = readFileSync(path, "utf8");
      const [, , second, third] = answer.keys
        .flatMap(({ text: changes }) => ["", ...changes.map(({ after }) => after)])
        .filter((one, i) => i < 2 || one !== "");
      assert.equal(
        text,
        MOVE.replaceAll("\n", "\r\n").replace("00:00:00:12", second).replace("after: 0.8 s", `after: ${third}`),
      );
      assert.equal(statSync(path).mode & 0o777, 0o640);
      if (fit === "fastest") assert.ok(0 < answer.lowerBound! && answer.lowerBound! <= answer.pathTime!);
      // Written once, there is nothing left to win.
      const again = await json(path, "--fit", fit);
      assert.ok(0.99 * answer.duration.after <= again.duration.after + 1 / 24);
    }
    assert.deepEqual(
      readdirSync(folder).filter((name) => name.startsWith(".")),
      [],
    );
  });

  it("ends with 1 and the findings where time does not cure them", async () => {
    const far = put("far.move.yaml", TWO.replace("slide: 0.3", "slide: 1.3"));
    const answer = await json(far, "--fit", "segments");
    assert.equal(answer.exit, 1);
    assert.deepEqual(
      answer.remaining.map(({ code, axis }) => [code, axis]),
      [["axis-range", "slide"]],
    );
    assert.match(answer.notes!.join("\n"), /far\.move\.yaml:\d+:\d+: error axis-range/);
    const free = put("kit/free.rig.yaml", KIT["slider.rig.yaml"].replace(/, limits: \{[^}]*\}/g, ""));
    assert.ok(free);
    const loose = await run(put("loose.move.yaml", TWO.replace("slider.rig", "free.rig")), "--fit", "whole");
    assert.equal(loose.exit, 1);
    assert.match(loose.output, /0\.5 s becomes 0\.5 s\n[^]*states a limit/);
    const torn = await run(put("torn.move.yaml", TWO.replace("kit/slider", "kit/none")), "--fit", "whole");
    assert.deepEqual([torn.exit, torn.output], [1, ""]);
    assert.match(torn.notes!.join("\n"), /missing-file[^]*cannot be retimed before this is mended/);
  });

  it("tells the shape of its JSON", async () => {
    const { output, exit } = await run("--help");
    assert.equal(exit, 0);
    for (const name of Object.keys(await json(put("a.move.yaml", TWO), "--fit", "fastest")))
      if (!["output", "exit", "notes"].includes(name)) assert.match(output, new RegExp(`\\b${name}\\b`));
  });

  it("ends with 2 where it could not run, and writes nothing", async () => {
    const shared = put(
      "shared.move.yaml",
      MOVE.replace("at: 00:00:00:12 ", "after: &t 0.5 s ").replace("after: 0.8 s", "after: *t"),
    );
    assert.match((await run(shared, "--fit", "whole")).output, /an alias[^]*Nothing to write/);
    for (const [args, why] of [
      [[shared, "--fit", "whole", "--write"], /was not written: .*alias/],
      [[join(folder, "a.move.yaml")], /--fit/],
      [[join(folder, "a.move.yaml"), "--fit", "slow"], /whole, segments, fastest/],
      [[join(folder, "kit/slider.rig.yaml"), "--fit", "whole"], /a move document is needed/],
    ] as const) {
      const outcome = await run(...args);
      assert.deepEqual([outcome.exit, outcome.output], [2, ""], args.join(" "));
      assert.match(outcome.notes!.join("\n"), why);
    }
    assert.match(readFileSync(shared, "utf8"), /&t 0\.5 s/);
    const path = put("a.move.yaml", TWO);
    symlinkSync(path, join(folder, "link.move.yaml"));
    const linked = await run(join(folder, "link.move.yaml"), "--fit", "whole", "--write");
    assert.equal(linked.exit, 2);
    assert.match(linked.notes!.join("\n"), /is a link/);
    assert.equal(readFileSync(path, "utf8"), TWO);
  });
});
