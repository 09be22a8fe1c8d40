import assert from "node:assert/strict";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { KIT } from "../test/fixtures/kit.ts";
import type { Outcome } from "./failure.ts";
import { runProgram } from "./program.ts";

const MOVE = `move: 1
title: Along the shelf
rig: ../kit/slider.rig.yaml
camera: { use: ../kit/a.camera.yaml, lens: wide }
set: ../kit/table.set.yaml
keys:
  - { at: 0 s, name: left, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 2 s, name: right, axes: { slide: 0.5 } }
`;

describe("movewright snapshot", () => {
  let folder: string;
  const put = (name: string, text: string): string => {
    mkdirSync(join(folder, name, ".."), { recursive: true });
    writeFileSync(join(folder, name), text);
    return join(folder, name);
  };
  const read = (name: string): string => readFileSync(join(folder, name), "utf8");
  const moves = (): string[] => readdirSync(join(folder, "moves")).sort();
  const run = (...args: string[]): Promise<Outcome> => runProgram(["snapshot", ...args]);
  const validate = async (): Promise<{ exit: number; lines: string[] }> => {
    const { output, exit } = await run(join(folder, "moves"), "--validate");
    return { exit, lines: output.replaceAll(`${folder}/moves/`, "").trimEnd().split("\n") };
  };
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), "snapshot-"));
    for (const [name, text] of Object.entries(KIT)) put(`kit/${name}`, text);
    put("moves/a.move.yaml", MOVE);
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  it("keeps a picture and a table beside each move, and writes them again only when the motion is another", async () => {
    assert.deepEqual(await validate(), {
      exit: 1,
      lines: [
        "a.snapshot.svg: is not there; run movewright snapshot",
        "a.snapshot.md: is not there; run movewright snapshot",
        "snapshots looked at: 2 missing",
      ],
    });
    assert.deepEqual(moves(), ["a.move.yaml"]);
    const { exit, output } = await run(join(folder, "moves"));
    assert.equal(exit, 0);
    assert.match(output, /a\.snapshot\.svg: written\n.*a\.snapshot\.md: written\nsnapshots: 2 written\n$/);
    assert.deepEqual(moves(), ["a.move.yaml", "a.snapshot.md", "a.snapshot.svg"]);
    assert.match(read("moves/a.snapshot.md"), /!\[.*\]\(<a\.snapshot\.svg>\)/);
    const made = [read("moves/a.snapshot.svg"), read("moves/a.snapshot.md")];
    put(
      "moves/a.move.yaml",
      `# said again\n${MOVE.replace("slide: 0.5", "slide: 50 cm").replace("at: 2 s", "at: 2000 ms")}`,
    );
    assert.deepEqual(await validate(), { exit: 0, lines: ["snapshots looked at: 2 up to date"] });
    assert.match((await run(join(folder, "moves"))).output, /^snapshots: 2 up to date\n$/);
    assert.deepEqual([read("moves/a.snapshot.svg"), read("moves/a.snapshot.md")], made);
    // A checkout may give lines other ends.
    put("moves/a.snapshot.md", made[1].replaceAll("\n", "\r\n"));
    assert.equal((await validate()).exit, 0);
  });

  it("has those of the examples as they are", async () => {
    const move = fileURLToPath(new URL("../examples/moves/over-the-lid.move.yaml", import.meta.url));
    const { output, exit } = await run(move, "--validate");
    assert.deepEqual([output, exit], ["snapshots looked at: 2 up to date\n", 0]);
  });

  it("says which are stale and why, a changed rig too", async () => {
    await run(join(folder, "moves"));
    put("kit/slider.rig.yaml", KIT["slider.rig.yaml"].replace("speed: 0.5", "speed: 0.6"));
    const { exit, lines } = await validate();
    assert.equal(exit, 1);
    assert.match(lines[0], /^a\.snapshot\.svg: differs from line \d+ on: the move, or what it names, has changed/);
    assert.match(lines[1], /^a\.snapshot\.md: differs from line 7 on/);
    put("moves/a.snapshot.md", read("moves/a.snapshot.md").replace(/form \d+/, "form 0"));
    assert.match((await validate()).lines[1], /was made in form 0, and this program makes form 1/);
    const json = JSON.parse((await run(join(folder, "moves"), "--validate", "--format", "json")).output) as {
      files: unknown[];
    };
    assert.equal(json.files.length, 2);
  });

  it("tells of snapshots whose move is gone, and leaves what is not its own", async () => {
    await run(join(folder, "moves"));
    put("moves/b.move.yaml", MOVE);
    rmSync(join(folder, "moves/a.move.yaml"));
    put("moves/b.snapshot.md", "# My own notes\n");
    put("moves/c.snapshot.svg", "<svg/>");
    const { output, exit } = await run(join(folder, "moves"));
    assert.equal(exit, 2);
    assert.match(output, /b\.snapshot\.md: is there and is not an older answer of this program/);
    assert.match(output, /a\.snapshot\.svg: its move is not there any more; delete it/);
    assert.ok(!/c\.snapshot/.test(output));
    assert.equal(read("moves/b.snapshot.md"), "# My own notes\n");
    rmSync(join(folder, "moves/b.snapshot.md"));
    assert.equal((await run(join(folder, "moves"))).exit, 0);
    assert.deepEqual((await validate()).lines.pop(), "snapshots looked at: 2 up to date, 2 without a move");
    assert.equal((await validate()).exit, 1);
    symlinkSync(join(folder, "moves/b.snapshot.md"), join(folder, "moves/d.snapshot.md"));
    put("moves/d.move.yaml", MOVE.replace("0.5", "0.4"));
    assert.match((await run(join(folder, "moves/d.move.yaml"))).output, /d\.snapshot\.md: is a link/);
  });

  it("keeps them in a folder of their own where it is asked to", async () => {
    const out = join(folder, "deep/shots");
    assert.equal((await run(join(folder, "moves"), "--out", out)).exit, 0);
    assert.deepEqual(moves(), ["a.move.yaml"]);
    assert.deepEqual(readdirSync(out).sort(), ["a.snapshot.md", "a.snapshot.svg"]);
    assert.equal((await run(join(folder, "moves"), "--out", out, "--validate")).exit, 0);
  });

  it("goes on where one move cannot be solved or shares the files of another, and says so", async () => {
    put("moves/b.move.yaml", MOVE.replace("keys:", "kays:"));
    put("moves/a.move.json", JSON.stringify({ move: 1, rig: "../kit/slider.rig.yaml", camera: { use: "../kit/a.camera.yaml", lens: "wide" }, keys: [{ at: 0, axes: { slide: 0 } }, { at: 1, axes: { slide: 0.1 } }] })); // prettier-ignore
    const { output, exit, notes } = await run(join(folder, "moves"));
    assert.equal(exit, 2);
    assert.match(
      output,
      /a\.move\.yaml: would have the same snapshot as .*a\.move\.json; give one of them another name/,
    );
    assert.match(output, /b\.move\.yaml: cannot be solved before its errors are mended/);
    assert.match(notes?.join("\n") ?? "", /b\.move\.yaml:6:1: error/);
    rmSync(join(folder, "moves/a.move.json"));
    assert.equal((await run(join(folder, "moves"))).exit, 1);
    const none = await run(join(folder, "kit"));
    assert.deepEqual([none.exit, none.output], [2, ""]);
    assert.match(none.notes?.join("") ?? "", /no move is among the documents/);
  });
});
