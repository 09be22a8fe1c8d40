import assert from "node:assert/strict";
import { chmodSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { testFolder, type TestFolder, type TestRepository } from "../test/support/repository.ts";
import { shippedProgram } from "../test/support/shipped-program.ts";
import type { Outcome } from "./failure.ts";
import { MERGE_DRIVER } from "./merge-hint.ts";
import { runProgram } from "./program.ts";

const MOVE = `move: 1 # from left to right
title: Pots
rate: 25
keys:
  - at: 0 s
    name: left
    axes: { slide: 0, pan: 10 }
  # the right end
  - at: 2 s
    name: right
    axes: { slide: 0.5, pan: -10 }
`;

const ODD = "kit's odd & <names>.move.yaml";

describe("movewright merge", () => {
  let all: TestFolder;
  before(() => (all = testFolder("merge")));
  after(() => all.remove());

  describe("by itself", () => {
    const put = (name: string, content: string | Buffer): string => {
      writeFileSync(join(all.folder, name), content);
      return join(all.folder, name);
    };
    const sides = (base: string | Buffer, ours: string | Buffer, theirs: string | Buffer): string[] => [
      put("base", base),
      put("ours", ours),
      put("theirs", theirs),
    ];
    const run = (...args: string[]): Promise<Outcome> => runProgram(["merge", ...args]);
    const ours = (): string => readFileSync(join(all.folder, "ours"), "utf8");

    it("writes the result to our side, and the program's answer is its exit code", async () => {
      const files = sides(MOVE, MOVE.replace("slide: 0,", "slide: 0.1,"), MOVE.replace("pan: 10", "pan: 12"));
      chmodSync(files[1], 0o640);
      assert.deepEqual(await run(...files, "--path", "a.move.yaml"), { output: "", exit: 0, notes: [] });
      assert.equal(ours(), MOVE.replace("slide: 0, pan: 10", "slide: 0.1, pan: 12"));
      assert.deepEqual(readdirSync(all.folder).sort(), ["base", "ours", "theirs"]);
    });

    it("tells of the conflicts that are left, with the marks that git asks for", async () => {
      const files = sides(MOVE, MOVE.replace("0.5", "0.6"), MOVE.replace("0.5", "0.7"));
      const labels = ["--ours-label", "HEAD", "--theirs-label", "to\u001bpic", "--marker-size", "9"];
      const outcome = await run(...files, "--path", "-a.move.yaml", ...labels);
      assert.equal(outcome.exit, 1);
      assert.deepEqual(outcome.notes, [
        "movewright: -a.move.yaml: 1 conflict is left; keep one side of each and delete the marks",
      ]);
      assert.match(ours(), /^<{9} HEAD\n.*0\.6.*\n={9}\n.*0\.7.*\n>{9} to\\x1bpic$/m);
    });

    it("prints instead where it is asked to, by lines where the name is none of ours", async () => {
      const files = sides("a\nb\nc\n", "A\nb\nc\n", "a\nb\nC\n");
      const { output, exit, notes } = await run(...files, "--print");
      assert.deepEqual([output, exit, ours()], ["A\nb\nC\n", 0, "A\nb\nc\n"]);
      assert.match(notes?.[0] ?? "", /was merged by lines: by its name the file is none of a rig/);
    });

    it("merges bytes that are no UTF-8 by lines, each as it stands", async () => {
      const latin = (text: string): Buffer => Buffer.from(text, "latin1");
      const files = sides(latin("# caf\xe9\nb\nc\n"), latin("# caf\xe9!\nb\nc\n"), latin("# caf\xe9\nb\nC\n"));
      const { exit, notes } = await run(...files, "--path", "a.move.yaml");
      assert.equal(exit, 0);
      assert.match(notes?.[0] ?? "", /a\.move\.yaml was merged by lines: it is not valid UTF-8/);
      assert.deepEqual(readFileSync(files[1]), latin("# caf\xe9!\nb\nC\n"));
    });

    it("could not run: says why, and leaves our side as it was", async () => {
      const files = sides(MOVE, MOVE.replace("0.5", "0.6"), MOVE.replace("0.5", "0.7"));
      const refused = async (why: RegExp, ...args: string[]): Promise<void> => {
        const { output, exit, notes } = await run(...args);
        assert.deepEqual([output, exit], ["", 2]);
        assert.match(notes?.join("\n") ?? "", why);
      };
      await refused(
        /is not for calling by hand: let git call it\. Put `\*\.move\.yaml merge=movewright`/,
        ...files.slice(1),
      );
      await refused(/git config merge\.movewright\.driver 'movewright merge %O/, "%O", "%A", "%B");
      await refused(/--marker-size x: a whole number from 1 to 1000/, ...files, "--marker-size", "x");
      await refused(/none cannot be merged: it is not there/, join(all.folder, "none"), files[1], files[2]);
      symlinkSync(files[1], join(all.folder, "link"));
      await refused(/link is a link/, files[0], join(all.folder, "link"), files[2], "--path", "a.move.yaml");
      assert.equal(ours(), MOVE.replace("0.5", "0.6"));
    });
  });

  describe("as a merge driver of git", () => {
    const program = shippedProgram("merge");
    let repository: TestRepository;

    before(() => {
      repository = all.repository("pots");
      const call = MERGE_DRIVER.replace(/^movewright/, `'${process.execPath}' '${program.main}'`);
      repository.git("config", "merge.movewright.driver", call);
      repository.put({ ".gitattributes": "*.move.yaml merge=movewright\n", [ODD]: MOVE });
      repository.commit("base");
      repository.git("branch", "side");
    });

    /** Changes the file on both branches and merges; what git says when it leaves a conflict. */
    function merged(mine: string, other: string): string | undefined {
      repository.git("checkout", "--quiet", "side");
      repository.put({ [ODD]: other });
      repository.commit("theirs");
      repository.git("checkout", "--quiet", "main");
      repository.put({ [ODD]: mine });
      repository.commit("ours");
      try {
        repository.git("merge", "--quiet", "--no-edit", "side");
        return undefined;
      } catch (error) {
        return String((error as { stdout: string }).stdout);
      }
    }
    const text = (): string => readFileSync(join(repository.folder, ODD), "utf8");

    it("merges one line that both changed, where git alone leaves a conflict", () => {
      assert.equal(merged(MOVE.replace("slide: 0,", "slide: 0.1,"), MOVE.replace("pan: 10", "pan: 12")), undefined);
      assert.equal(text(), MOVE.replace("slide: 0, pan: 10", "slide: 0.1, pan: 12"));
      assert.equal(repository.git("status", "--porcelain"), "");
    });

    it("leaves a conflict that git knows of", () => {
      const now = text();
      const said = merged(now.replace("0.5", "0.6"), now.replace("0.5", "0.7"));
      assert.match(said ?? "", /CONFLICT \(content\)/);
      // Labels are the usual ones where git knows no `%X`.
      assert.match(
        text(),
        /^<{7} (?:ours|HEAD)\n {4}axes: \{ slide: 0\.6, pan: -10 \}\n={7}\n {4}axes: \{ slide: 0\.7, .*\n>{7} (?:theirs|side)$/m,
      );
      assert.match(repository.git("status", "--porcelain"), /^UU /m);
      repository.git("merge", "--abort");
    });
  });
});
