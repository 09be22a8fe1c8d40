import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { chmodSync, copyFileSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { parse } from "yaml";
import { root } from "../architecture/project-files.ts";
import { KIT } from "../fixtures/kit.ts";
import { testFolder, type TestFolder, type TestRepository } from "../support/repository.ts";
import { MOVE, shippedProgram } from "../support/shipped-program.ts";

interface Hook {
  readonly id: string;
  readonly entry: string;
  readonly language: string;
  readonly files: string;
  readonly pass_filenames?: boolean;
}

const FAST = MOVE.replace("at: 2 s", "at: 0.6 s");

describe("hooks before a commit", () => {
  const hooks = parse(readFileSync(path.join(root, ".pre-commit-hooks.yaml"), "utf8")) as readonly Hook[];
  const hook = (id: string): Hook => hooks.find((each) => each.id === id) ?? assert.fail(id);
  const { main } = shippedProgram("hooks");
  let all: TestFolder;
  let made: TestRepository;
  let clone: string;
  let env: NodeJS.ProcessEnv;
  before(() => {
    all = testFolder("hooks");
    made = all.repository("pottery");
    const kit = Object.entries(KIT).map(([name, text]) => [`kit/${name}`, text]);
    made.put({ ...Object.fromEntries(kit), "lid.move.yaml": MOVE, "fast.move.yaml": FAST });
    made.commit("one");
    // The program as it is installed: by its name on the path.
    const bin = path.join(all.folder, "bin");
    mkdirSync(bin);
    writeFileSync(path.join(bin, "movewright"), `#!/bin/sh\nexec "${process.execPath}" "${main}" "$@"\n`);
    chmodSync(path.join(bin, "movewright"), 0o755);
    // A clone whose program is built.
    clone = path.join(all.folder, "clone of hooks");
    for (const file of ["scripts/program.sh", "dist/cli/main.cjs"])
      mkdirSync(path.dirname(path.join(clone, file)), { recursive: true });
    copyFileSync(path.join(root, "scripts/program.sh"), path.join(clone, "scripts/program.sh"));
    writeFileSync(path.join(clone, "dist/cli/main.cjs"), `require(${JSON.stringify(main)});\n`);
    env = { ...all.env, PATH: `${bin}:${all.env.PATH}`, XDG_CACHE_HOME: path.join(all.folder, "cache") };
  });
  after(() => all.remove());

  /** As the manager of hooks does: a file of its clone with the entry's words, then the names of the files that match. */
  const run = ({ entry, pass_filenames: isPassing = true }: Hook, files: readonly string[]) => {
    const [program, ...args] = entry.split(" ");
    return spawnSync(path.join(clone, program), [...args, ...(isPassing ? files : [])], {
      cwd: made.folder,
      env,
      encoding: "utf8",
    });
  };

  it("match the names of documents and of what they are made from, and no others", () => {
    const check = new RegExp(hook("movewright-check").files);
    for (const name of ["a.move.yaml", "kit/b.rig.json", "x/movewright.config.yml", "kit/arm.urdf", "day.shoot.yml"])
      assert.match(name, check);
    for (const name of ["move.yaml", "a.move.yaml.orig", "notmovewright.config.yaml", "a.txt", ".github/moves.yml"])
      assert.doesNotMatch(name, check);
    for (const { language } of hooks) assert.equal(language, "script");
  });

  it("let pass what is as it was, and stop what a change breaks, in documents beside it too", () => {
    const passed = run(hook("movewright-check"), ["lid.move.yaml"]);
    assert.equal(passed.status, 0, passed.stdout + passed.stderr);
    made.put({ "kit/slider.rig.yaml": KIT["slider.rig.yaml"].replace("speed: 0.5", "speed: 0.2") });
    const stopped = run(hook("movewright-check"), ["kit/slider.rig.yaml"]);
    assert.equal(stopped.status, 1, stopped.stderr);
    assert.match(stopped.stdout, /^kit\/slider\.rig\.yaml:\d+:\d+: error breaks-moves .*lid\.move\.yaml/m);
    made.git("checkout", "--quiet", "--force", "HEAD");
  });

  it("lay out the documents that they are given", () => {
    made.put({ "odd.move.yaml": MOVE.replace("title: Lid", "title:   Lid") });
    assert.equal(run(hook("movewright-format"), ["odd.move.yaml"]).status, 0);
    assert.match(readFileSync(path.join(made.folder, "odd.move.yaml"), "utf8"), /^title: Lid$/m);
    made.git("clean", "--quiet", "--force");
  });

  it("work as a plain hook of git", () => {
    const own = path.join(made.folder, ".git/hooks/pre-commit");
    mkdirSync(path.dirname(own), { recursive: true });
    copyFileSync(path.join(root, "examples/ci/pre-commit.sh"), own);
    chmodSync(own, 0o755);
    const commit = () =>
      spawnSync("git", ["commit", "--quiet", "-m", "two"], { cwd: made.folder, env, encoding: "utf8" });
    made.put({ "new.move.yaml": FAST });
    made.git("add", "--all");
    const stopped = commit();
    assert.equal(stopped.status, 1);
    assert.match(stopped.stdout + stopped.stderr, /new\.move\.yaml:\d+:\d+: error axis-speed/);
    made.put({ "new.move.yaml": MOVE });
    made.git("add", "--all");
    const done = commit();
    assert.equal(done.status, 0, done.stdout + done.stderr);
    assert.equal(made.git("log", "--format=%s", "-1").trim(), "two");
  });
});
