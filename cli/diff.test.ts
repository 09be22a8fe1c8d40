import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { mkdirSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { KIT } from "../test/fixtures/kit.ts";
import { testFolder, withEnv, type TestFolder, type TestRepository } from "../test/support/repository.ts";
import type { Outcome } from "./failure.ts";
import { runProgram } from "./program.ts";

const MOVE = `move: 1
title: Past the lid
rig: ../kit/slider.rig.yaml
camera: { use: ../kit/a.camera.yaml, lens: wide }
set: ../kit/table.set.yaml
rate: 24
keys:
  - { at: 0 s, name: left, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 2 s, name: right, axes: { slide: 0.3, pan: 20 } }
`;

interface MoveAnswer {
  readonly path: string;
  readonly renamedFrom?: string;
  readonly state: string;
  readonly motion: string;
  readonly textSame: boolean;
  readonly causes: readonly string[];
  readonly keys: readonly { readonly key: string; readonly state: string }[];
  readonly effects?: { readonly duration: { readonly before?: number; readonly after?: number } };
  readonly findings: readonly { readonly state: string; readonly code: string; readonly path: string }[];
}
interface Answer {
  readonly summary: string;
  readonly moves: readonly MoveAnswer[];
  readonly documents: readonly { readonly path: string; readonly state: string; readonly moves: readonly string[] }[];
  readonly notes: readonly string[];
}

describe("movewright diff", () => {
  const here = process.cwd();
  let all: TestFolder;
  let made: TestRepository;
  let count = 0;
  before(() => (all = testFolder("diff")));
  after(() => all.remove());
  beforeEach(() => {
    made = all.repository(`r${count++}`);
    made.put(Object.fromEntries(Object.entries(KIT).map(([name, text]) => [`kit/${name}`, text])));
    made.put({ "moves/lid.move.yaml": MOVE });
    process.chdir(made.folder);
  });
  afterEach(() => process.chdir(here));

  const run = (...args: string[]): Promise<Outcome> => withEnv(all.env, () => runProgram(["diff", ...args]));
  const json = async (...args: string[]): Promise<Answer> => {
    const outcome = await run("--format", "json", ...args);
    assert.equal(outcome.exit, 0, outcome.notes?.join());
    return JSON.parse(outcome.output) as Answer;
  };
  const refusal = async (...args: string[]): Promise<string> => {
    const { exit, output, notes } = await run(...args);
    assert.deepEqual([exit, output], [2, ""]);
    return notes?.join("\n") ?? "";
  };
  const slower = MOVE.replace("at: 2 s", "at: 2.5 s");

  describe("of two files", () => {
    it("tells what is another in the second one", async () => {
      made.put({ "moves/other.move.yaml": slower });
      const { moves, summary } = await json("moves/lid.move.yaml", "moves/other.move.yaml");
      assert.equal(summary, "1 move changed");
      const [{ path, renamedFrom, motion, effects }] = moves;
      assert.deepEqual([path, renamedFrom, motion], ["moves/other.move.yaml", "moves/lid.move.yaml", "changed"]);
      assert.deepEqual(effects?.duration, { before: 2, after: 2.5, unit: "s" });
    });

    it("that are rigs puts one in the place of the other for all moves of the project", async () => {
      made.put({
        "kit/new.rig.yaml": KIT["slider.rig.yaml"].replace("limits: { speed: 0.5,", "limits: { speed: 0.2,"),
      });
      const { moves, documents } = await json("kit/slider.rig.yaml", "kit/new.rig.yaml");
      assert.deepEqual(
        documents.map(({ path }) => path),
        ["kit/new.rig.yaml"],
      );
      const [{ path, motion, textSame, findings }] = moves;
      assert.deepEqual([moves.length, path, motion, textSame], [1, "moves/lid.move.yaml", "same", true]);
      assert.deepEqual(
        findings.filter(({ state }) => state === "new").map(({ code }) => code),
        ["axis-speed"],
      );
    });

    it("says outright when only the layout, the units and the comments are others", async () => {
      const same = MOVE.replace("0.3, pan: 20", "30 cm, pan: 20 deg").replace("rate: 24", "rate: 24 # film");
      made.put({ "moves/other.move.yaml": same });
      const { output, exit } = await run("moves/lid.move.yaml", "moves/other.move.yaml", "--exit-code");
      assert.match(output, /^no motion change\n/);
      assert.equal(exit, 0);
    });

    it("refuses what can't be compared, in words", async () => {
      made.put({ "a.txt": "" });
      assert.match(await refusal("moves/lid.move.yaml"), /name two documents or two folders/);
      assert.match(await refusal("moves/lid.move.yaml", "nowhere.move.yaml"), /nowhere\.move\.yaml is not there/);
      assert.match(await refusal("moves/lid.move.yaml", "kit"), /not alike/);
      assert.match(
        await refusal("moves/lid.move.yaml", "kit/slider.rig.yaml"),
        /is a move document and .* a rig document/,
      );
      assert.match(await refusal("a.txt", "moves/lid.move.yaml"), /a\.txt is no document by its name/);
      assert.match(await refusal(".", "moves"), /lie one in the other/);
    });
  });

  describe("of two folders", () => {
    it("takes files of the same name for the same, with what is around them, and finds renamed ones", async () => {
      const [old, now] = ["old", "now"].map((name) => all.repository(`${name}${count}`));
      for (const side of [old, now]) side.put({ "kit/slider.rig.yaml": KIT["slider.rig.yaml"], "kit/a.camera.yaml": KIT["a.camera.yaml"], "kit/table.set.yaml": KIT["table.set.yaml"] }); // prettier-ignore
      old.put({
        "moves/same.move.yaml": MOVE,
        "moves/a.move.yaml": MOVE,
        "moves/b.move.yaml": MOVE.replace("Past", "Over"),
      });
      now.put({
        "moves/same.move.yaml": MOVE,
        "moves/a.move.yaml": slower,
        "moves/c.move.yaml": MOVE.replace("Past", "Over"),
      });
      const paths = [`../old${count}/moves`, `../now${count}/moves`];
      const { moves, documents } = await json(...paths);
      assert.deepEqual(
        moves.map(({ path, renamedFrom, motion }) => [path, renamedFrom, motion]),
        [
          [`../now${count}/moves/a.move.yaml`, undefined, "changed"],
          [`../now${count}/moves/c.move.yaml`, `../old${count}/moves/b.move.yaml`, "same"],
        ],
      );
      assert.deepEqual(documents, []);
      now.put({ "kit/slider.rig.yaml": KIT["slider.rig.yaml"].replace("speed: 0.5,", "speed: 0.2,") });
      const rig = await json(...paths);
      assert.deepEqual(
        rig.moves.map(({ causes }) => causes),
        Array(3).fill([`../now${count}/kit/slider.rig.yaml`]),
      );
    });
  });

  describe("of revisions", () => {
    it("tells each move that a changed rig affects, from whatever folder it is asked", async () => {
      made.put({ "moves/still.move.yaml": MOVE.replace("slide: 0.3", "slide: 0.05") });
      made.commit("one");
      made.put({ "kit/slider.rig.yaml": KIT["slider.rig.yaml"].replace("speed: 0.5,", "speed: 0.2,") });
      const answers = [await json("--git", "HEAD")];
      made.commit("two");
      answers.push(await json("--git", "HEAD~1..HEAD"), await json("--git", "HEAD~1...", "kit"));
      process.chdir("moves");
      answers.push(await json("--git", "HEAD~1..HEAD"));
      const rest = answers.map(({ summary, moves, documents }) => ({
        summary,
        moves: moves.map(({ path, motion, findings }) => [
          path.split("/").pop(),
          motion,
          findings.flatMap(({ state, code }) => (state === "new" ? [code] : [])),
        ]),
        documents: documents.map(({ path, moves: users }) => [path.split("/").pop(), users.length]),
      }));
      for (const answer of rest) {
        assert.deepEqual(answer, {
          summary: "1 move has new errors; no motion change in 2 moves",
          moves: [
            ["lid.move.yaml", "same", ["axis-speed"]],
            ["still.move.yaml", "same", []],
          ],
          documents: [["slider.rig.yaml", 2]],
        });
      }
      assert.equal(answers[0].moves[0].path, "moves/lid.move.yaml");
      assert.equal(answers[3].moves[0].path, "lid.move.yaml");
      assert.equal(answers[3].documents[0].path, "../kit/slider.rig.yaml");
    });

    it("gives exit code 1 where that is asked for and a motion is another one", async () => {
      made.commit("one");
      made.put({ "moves/lid.move.yaml": slower });
      assert.equal((await run("--git", "HEAD", "--exit-code")).exit, 1);
      assert.equal((await run("--git", "HEAD")).exit, 0);
      assert.equal((await run("--git", "HEAD..HEAD", "--exit-code")).exit, 0);
      assert.equal((await run("--git", "HEAD..HEAD")).output, "nothing changed in documents\n");
    });

    it("tells moves that came, went and were renamed, and keeps to the paths that are named", async () => {
      made.put({
        "moves/gone.move.yaml": MOVE.replace("rate: 24", "rate: 30"),
        "moves/named.move.yaml": MOVE.replace("Past", "Over"),
      });
      made.commit("one");
      rmSync("moves/gone.move.yaml");
      made.git("mv", "moves/named.move.yaml", "moves/-x 'y'.move.yaml");
      made.put({ "moves/lid.move.yaml": slower, "take/new.move.yaml": "move: 1\nkeys: nonsense\n" });
      made.commit("two");
      const { moves, summary } = await json("--git", "HEAD~1..");
      assert.match(summary, /1 move changed, 1 move added, 1 move removed/);
      assert.deepEqual(moves.map(({ path, renamedFrom, state }) => [path, renamedFrom, state]).sort(), [
        ["moves/-x 'y'.move.yaml", "moves/named.move.yaml", "both"],
        ["moves/gone.move.yaml", undefined, "removed"],
        ["moves/lid.move.yaml", undefined, "both"],
        ["take/new.move.yaml", undefined, "added"],
      ]);
      assert.match(await refusal("--git", "HEAD", "--driver"), /cannot be used with/);
      const named = await json("--git", "HEAD~1..", "--", "moves/-x 'y'.move.yaml", "moves/gone.move.yaml");
      assert.equal(named.moves.length, 2);
      assert.match(
        await refusal("--git", "HEAD~1..", "moves/ghost.move.yaml"),
        /holds no documents, neither in HEAD~1 nor in HEAD/,
      );
    });

    it("refuses in one line with a cure, and never with a trace", async () => {
      assert.match(await refusal("--git", "HEAD"), /^movewright: the repository has no commit yet[^\n]*$/);
      made.commit("one");
      assert.match(await refusal("--git", "mian"), /^movewright: `mian` is no revision .*did you mean `main`\?$/);
      process.chdir(all.folder);
      assert.match(await refusal("--git", "HEAD"), /is in no git repository$/);
    });

    it("follows links to the repository, and says of what is outside that it is read as it is now", async () => {
      const kit = join(all.folder, `outside${count}`);
      mkdirSync(kit);
      writeFileSync(join(kit, "package.json"), "{}");
      for (const [name, text] of Object.entries(KIT)) writeFileSync(join(kit, name), text);
      rmSync("kit", { recursive: true });
      made.put({ "moves/lid.move.yaml": MOVE.replaceAll("../kit", `../../outside${count}`) });
      made.commit("one");
      made.put({ "moves/lid.move.yaml": slower.replaceAll("../kit", `../../outside${count}`) });
      const link = join(all.folder, `link${count}`);
      symlinkSync(made.folder, link);
      process.chdir(all.folder);
      const { exit, output, notes } = await run("--git", "HEAD", join(link, "moves"));
      assert.equal(exit, 0);
      assert.match(output, new RegExp(`r${count - 1}/moves/lid.move.yaml Past the lid: motion changed`));
      assert.match(
        notes?.join("\n") ?? "",
        /outside.*slider\.rig\.yaml is outside of the repository: it is read as it is now/,
      );
    });

    it("is told as a page and as Markdown with its notes", async () => {
      made.put({ "moves/lid.move.yaml": MOVE.replace("Past the lid", '"<script>|`"') });
      made.commit("one");
      made.put({ "moves/lid.move.yaml": slower.replace("Past the lid", '"<script>|`"') });
      const page = (await run("--git", "HEAD", "--format", "html")).output;
      assert.match(page, /^<!doctype html>[^]*&lt;script&gt;\|`[^]*<\/html>\n$/);
      assert.doesNotMatch(page, /<script/);
      assert.match(
        (await run("--git", "HEAD", "--format", "markdown")).output,
        /^## Movewright: \*\*1 move changed\*\*\n/,
      );
    });
  });

  describe("as git's own diff program", () => {
    // Git starts it as users set it up, through the sources.
    const loader = createRequire(import.meta.url).resolve("tsx");
    const main = fileURLToPath(new URL("main.ts", import.meta.url));
    const command = `'${process.execPath}' --import '${loader}' '${main}' diff --driver --`;

    it("tells each file in its turn, with what moves name from the repository", () => {
      made.put({ ".gitattributes": "*.move.yaml diff=movewright\n*.rig.yaml diff=movewright\n" });
      made.put({
        "-odd 'name'.move.yaml": MOVE.replaceAll("../kit", "kit"),
        "old.move.yaml": MOVE.replaceAll("../kit", "kit"),
      });
      made.commit("one");
      made.git("config", "diff.movewright.command", command);
      made.put({ "-odd 'name'.move.yaml": slower.replaceAll("../kit", "kit") });
      rmSync("old.move.yaml");
      made.git("add", "--all");
      const { status, stdout, stderr } = spawnSync("git", ["diff", "--cached", "--no-renames"], { cwd: made.folder, env: all.env, encoding: "utf8" }); // prettier-ignore
      assert.deepEqual([status, stderr], [0, ""]);
      assert.match(
        stdout,
        /^-odd 'name'\.move\.yaml: 1 move changed\n[^]*key `right` at {2}2 s {2}2\.5 s {2}\+0\.5 s\n/,
      );
      assert.match(stdout, /\n\nold\.move\.yaml: 1 move removed/);
    });

    it("takes the arguments that git has for a renamed file, and lets git go on where one can't be told", async () => {
      made.put({ "old-content": MOVE, "new-content": slower });
      const renamed = await run("--driver", "--format", "json", "--", "moves/a.move.yaml", "old-content", "0".repeat(40), "100644", "new-content", "0".repeat(40), "100644", "moves/b.move.yaml", "similarity index 90%\n"); // prettier-ignore
      const [{ path, renamedFrom, motion }] = (JSON.parse(renamed.output) as Answer).moves;
      assert.deepEqual([path, renamedFrom, motion], ["moves/b.move.yaml", "moves/a.move.yaml", "changed"]);
      const added = await run("--driver", "--", "moves/lid.move.yaml", "/dev/null", ".", ".", "moves/lid.move.yaml", "0".repeat(40), "100644"); // prettier-ignore
      assert.match(added.output, /^moves\/lid\.move\.yaml: 1 move added/);
      const unmerged = await run("--driver", "--", "moves/lid.move.yaml");
      assert.deepEqual([unmerged.exit, /is not merged yet/.test(unmerged.output)], [0, true]);
    });

    it("looks at all moves that use a rig", async () => {
      made.put({
        "old-content": KIT["slider.rig.yaml"],
        "kit/slider.rig.yaml": KIT["slider.rig.yaml"].replace("speed: 0.5,", "speed: 0.2,"),
      });
      const { output } = await run(
        "--driver",
        "--",
        "kit/slider.rig.yaml",
        "old-content",
        "0".repeat(40),
        "100644",
        "kit/slider.rig.yaml",
        "0".repeat(40),
        "100644",
      );
      assert.match(output, /^kit\/slider\.rig\.yaml: 1 move has new errors; no motion change\n/);
      assert.match(output, /rig changed, 1 move of 1 affected/);
    });
  });
});
