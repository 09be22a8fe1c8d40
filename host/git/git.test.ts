import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { chmodSync, existsSync, mkdirSync, renameSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { createHash } from "node:crypto";
import { join } from "node:path";
import type { SourceState } from "../../core/model/sources.ts";
import {
  repositoryAt,
  testFolder,
  withEnv,
  type TestFolder,
  type TestRepository,
} from "../../test/support/repository.ts";
import { diskSources } from "../disk-sources.ts";
import { shownName } from "./byte-name.ts";
import { openComparison, type Comparison } from "./comparison.ts";
import { GitFailure } from "./git-failure.ts";
import { refusal } from "./repository.ts";

const textOf = (state: SourceState): string | undefined => (state.state === "text" ? state.text : undefined);

describe("revisions of a repository", () => {
  let all: TestFolder;
  let made: TestRepository;
  let count = 0;
  before(() => (all = testFolder("revisions")));
  after(() => all.remove());
  beforeEach(() => (made = all.repository(`r${count++}`)));

  const open = (range: string, folder = made.folder, roots = [folder]): Comparison =>
    withEnv(all.env, () => openComparison(folder, range, diskSources(roots)));
  const read = (side: Comparison["after"], name: string, folder = made.folder): string | undefined =>
    withEnv(all.env, () => textOf(side.sources.read(`${folder}/${name}`)));
  const names = (side: Comparison["after"], folder = made.folder): string[] =>
    side.documents.map((file) => file.slice(folder.length + 1));
  const failure = (range: string, folder = made.folder): string => {
    try {
      open(range, folder);
    } catch (error) {
      if (error instanceof GitFailure) return error.message;
      throw error;
    }
    return assert.fail("nothing was refused");
  };

  it("are read under the ids of the working tree, whatever stands on the disk", () => {
    made.put({ "moves/a.move.yaml": "move: 1\n", "kit/arm.rig.yaml": "rig: 1\n", "notes.txt": "none of ours" });
    made.commit("one");
    made.put({ "moves/a.move.yaml": "move: 1 # two\n" });
    made.commit("two");
    made.put({ "moves/a.move.yaml": "move: 1 # now\n" });
    const commits = open("HEAD~1..HEAD");
    assert.deepEqual(names(commits.before), ["kit/arm.rig.yaml", "moves/a.move.yaml"]);
    assert.equal(read(commits.before, "moves/a.move.yaml"), "move: 1\n");
    assert.equal(read(commits.after, "moves/a.move.yaml"), "move: 1 # two\n");
    assert.equal(read(commits.after, "notes.txt"), "none of ours");
    assert.equal(read(open("HEAD").after, "moves/a.move.yaml"), "move: 1 # now\n");
    assert.equal(read(open("HEAD..").after, "moves/a.move.yaml"), "move: 1 # two\n");
    assert.deepEqual(commits.notes(), []);
  });

  it("have files of every name that a disk can have", () => {
    const odd = ["two words.move.yaml", "a \"quote\" 'and' `tick`.move.yaml", "new\nline.move.yaml", "-rf.move.yaml"];
    odd.push(
      "--output=x.move.yaml",
      "tab\there.move.yaml",
      "back\\slash.move.yaml",
      "späte Töpfe.move.yaml",
      ":(top)x.move.yaml",
    );
    for (const name of odd) made.put({ [name]: `move: 1 # before ${JSON.stringify(name)}\n` });
    const bytes = Buffer.concat([Buffer.from("caf"), Buffer.of(0xe9), Buffer.from(".move.yaml")]);
    const more = Buffer.concat([Buffer.from("caf"), Buffer.of(0xe8), Buffer.from(".move.yaml")]);
    made.putBytes(bytes, "move: 1 # e9\n");
    made.putBytes(more, "move: 1 # e8\n");
    made.commit("one");
    made.putBytes(bytes, "move: 1 # e9 now\n");
    for (const range of ["HEAD..HEAD", "HEAD"]) {
      const compared = open(range);
      for (const side of [compared.before, compared.after]) {
        assert.equal(side.documents.length, odd.length + 2);
        for (const name of odd) assert.equal(read(side, name), `move: 1 # before ${JSON.stringify(name)}\n`);
        const shown = names(side).map(shownName);
        assert.equal(new Set(shown).size, shown.length);
        for (const wanted of ["caf\\xe9.move.yaml", "caf\\xe8.move.yaml", "new\\x0aline.move.yaml"]) {
          assert.ok(shown.includes(wanted), `${wanted} in ${shown.join(" ")}`);
        }
      }
      const e9 = names(compared.after).find((name) => shownName(name) === "caf\\xe9.move.yaml")!;
      assert.equal(read(compared.before, e9), "move: 1 # e9\n");
      assert.equal(read(compared.after, e9), range === "HEAD" ? "move: 1 # e9 now\n" : "move: 1 # e9\n");
    }
  });

  it("know files again under another name, between commits as git does and on the disk by what is in them", () => {
    const lines = Array.from({ length: 20 }, (_, i) => `# line ${i}`).join("\n");
    made.put({ "a.move.yaml": `move: 1\n${lines}\n`, "b.rig.yaml": `rig: 1\n${lines}\n` });
    made.commit("one");
    renameSync(join(made.folder, "a.move.yaml"), join(made.folder, "c.move.yaml"));
    made.put({ "c.move.yaml": `move: 1\n${lines}\n# more\n` });
    const expected = [[`${made.folder}/c.move.yaml`, `${made.folder}/a.move.yaml`]];
    assert.deepEqual([...open("HEAD").renamed], expected);
    made.commit("two");
    assert.deepEqual([...open("HEAD~1..HEAD").renamed], expected);
  });

  it("start with the last commit that both have where three dots say so", () => {
    made.put({ "a.move.yaml": "move: 1\n" });
    const first = made.commit("one");
    made.git("checkout", "--quiet", "-b", "side");
    made.put({ "b.move.yaml": "move: 1\n" });
    made.commit("two");
    made.git("checkout", "--quiet", "--detach", "main");
    made.put({ "c.move.yaml": "move: 1\n" });
    made.commit("three");
    assert.equal(open("side...HEAD").range.before.commit, first);
    assert.deepEqual(names(open("side..HEAD").before), ["a.move.yaml", "b.move.yaml"]);
    made.git("checkout", "--quiet", "--orphan", "apart");
    made.commit("four");
    assert.match(failure("side...apart"), /`side` and `apart` have no commit in common; .*`side\.\.apart`/);
  });

  it("are refused in words with a cure", () => {
    assert.match(failure("HEAD"), /no commit yet/);
    made.put({ "a.move.yaml": "move: 1\n" });
    made.commit("one");
    made.git("branch", "release");
    assert.match(failure("relaese"), /`relaese` is no revision .*did you mean `release`\?/);
    assert.match(failure("HAED..main"), /did you mean `HEAD`/);
    assert.match(failure("--all"), /`--all` is no revision/);
    assert.match(failure("HEAD:a.move.yaml"), /is no commit/);
    assert.match(failure("f".repeat(40)), /is no revision/);
    assert.match(failure("a\n\u001b[31mb"), /`a\\x0a\\x1b\[31mb` is no revision/);
    assert.match(failure("HEAD", all.folder), /is in no git repository/);
    assert.match(failure("HEAD", join(made.folder, "nowhere")), /is no folder/);
    assert.match(failure("HEAD", join(made.folder, ".git")), /inside of a repository's own folder/);
    all.git(all.folder, "clone", "--quiet", "--bare", made.folder, `bare${count}`);
    assert.match(failure("HEAD", join(all.folder, `bare${count}`)), /is a bare repository/);
  });

  it("say what a shallow clone lacks and how to get it", () => {
    made.put({ "a.move.yaml": "move: 1\n" });
    made.commit("one");
    made.git("branch", "base");
    made.put({ "a.move.yaml": "move: 1 # two\n" });
    made.commit("two");
    made.git("tag", "v2");
    made.git("checkout", "--quiet", "-b", "side", "base");
    made.commit("three");
    const clone = join(all.folder, `shallow${count}`);
    all.git(all.folder, "clone", "--quiet", "--depth=1", "--no-single-branch", `file://${made.folder}`, clone);
    assert.match(failure("HEAD~1", clone), /shallow.*git fetch --unshallow.*fetch-depth: 0/);
    assert.match(failure("origin/main...HEAD", clone), /no commit in common in this shallow clone.*--unshallow/);
    assert.match(failure("main", clone), /did you mean `origin\/main`\?/);
  });

  it("fetch nothing into a partial clone, and say so", () => {
    made.put({ "a.move.yaml": "move: 1\n" });
    made.commit("one");
    made.put({ "a.move.yaml": "move: 1 # two\n" });
    made.commit("two");
    made.git("config", "uploadpack.allowFilter", "true");
    const clone = join(all.folder, `partial${count}`);
    all.git(all.folder, "clone", "--quiet", "--filter=blob:none", `file://${made.folder}`, clone);
    const compared = open("HEAD~1..HEAD", clone);
    assert.equal(read(compared.after, "a.move.yaml", clone), "move: 1 # two\n");
    assert.throws(() => read(compared.before, "a.move.yaml", clone), /partial.*git fetch --refetch --no-filter/);
  });

  it("take what lies outside as it is now, within bounds, and say so", () => {
    const beside = join(all.folder, `beside${count}`);
    mkdirSync(beside);
    writeFileSync(join(beside, "arm.rig.yaml"), "rig: 1\n");
    made.put({ "a.move.yaml": "move: 1\n" });
    symlinkSync(join(beside, "arm.rig.yaml"), join(made.folder, "link.rig.yaml"));
    symlinkSync("a.move.yaml", join(made.folder, "same.move.yaml"));
    mkdirSync(join(made.folder, "kit"));
    made.put({ "kit/b.move.yaml": "move: 1 # b\n" });
    symlinkSync("kit", join(made.folder, "tools"));
    symlinkSync("circle.move.yaml", join(made.folder, "circle.move.yaml"));
    made.commit("one");
    const bound = open("HEAD..HEAD");
    assert.deepEqual(bound.after.sources.read(`${beside}/arm.rig.yaml`), { state: "outside" });
    assert.deepEqual(bound.after.sources.read(`${made.folder}/link.rig.yaml`), { state: "outside" });
    assert.deepEqual(bound.notes(), []);
    const wide = open("HEAD..HEAD", made.folder, [made.folder, beside]);
    assert.equal(read(wide.after, "link.rig.yaml"), "rig: 1\n");
    assert.equal(read(wide.after, "same.move.yaml"), "move: 1\n");
    assert.equal(read(wide.after, "tools/b.move.yaml"), "move: 1 # b\n");
    assert.deepEqual(wide.after.sources.read(`${made.folder}/circle.move.yaml`), { state: "missing" });
    assert.deepEqual(wide.after.sources.read(`${made.folder}/tools/none.move.yaml`), { state: "missing" });
    assert.equal(wide.notes().length, 1);
    assert.match(wide.notes()[0], /arm\.rig\.yaml is outside of the repository: it is read as it is now/);
  });

  it("reach into a submodule that is here, and name one whose documents are not compared", () => {
    const kit = all.repository(`kit${count}`);
    kit.put({ "arm.rig.yaml": "rig: 1\n" });
    kit.commit("one");
    made.put({ "a.move.yaml": "move: 1\n" });
    made.git("-c", "protocol.file.allow=always", "submodule", "--quiet", "add", kit.folder, "kit");
    made.commit("one");
    const inside = repositoryAt(join(made.folder, "kit"), (...args) => all.git(join(made.folder, "kit"), ...args));
    inside.put({ "arm.rig.yaml": "rig: 1 # two\n" });
    inside.commit("two");
    made.commit("two");
    inside.put({ "arm.rig.yaml": "rig: 1 # now\n" });
    const compared = open("HEAD~1..HEAD");
    assert.equal(read(compared.before, "kit/arm.rig.yaml"), "rig: 1\n");
    assert.equal(read(compared.after, "kit/arm.rig.yaml"), "rig: 1 # two\n");
    assert.deepEqual(names(compared.after), ["a.move.yaml"]);
    assert.match(
      compared.notes().join(),
      /^kit is a submodule .*`movewright diff --git [0-9a-f]{10}\.\.[0-9a-f]{10}` in kit$/,
    );
    assert.equal(read(open("HEAD").after, "kit/arm.rig.yaml"), "rig: 1 # now\n");
    rmSync(join(made.folder, "kit"), { recursive: true });
    mkdirSync(join(made.folder, "kit"));
    made.put({ "kit/arm.rig.yaml": "rig: 1 # loose\n" });
    const loose = open("HEAD~1..HEAD");
    assert.equal(read(loose.before, "kit/arm.rig.yaml"), "rig: 1 # loose\n");
    assert.match(loose.notes().join("\n"), /in the submodule kit, which is not here .*read as it is now/);
  });

  it("of a mesh are its bytes, also where Git LFS keeps them", () => {
    const mesh = "solid pot\nendsolid pot\n";
    const sum = createHash("sha256").update(mesh).digest("hex");
    const pointer = `version https://git-lfs.github.com/spec/v1\noid sha256:${sum}\nsize ${mesh.length}\n`;
    made.put({ "a.stl": mesh, "b.stl": pointer, "c.stl": pointer.replace(sum, "0".repeat(64)) });
    made.commit("one");
    const kept = join(made.folder, ".git/lfs/objects", sum.slice(0, 2), sum.slice(2, 4));
    mkdirSync(kept, { recursive: true });
    writeFileSync(join(kept, sum), mesh);
    const compared = open("HEAD..HEAD");
    const content = (name: string): string | undefined => {
      const state = compared.after.sources.read(`${made.folder}/${name}`);
      assert.ok(state.state === "bytes");
      assert.equal(state.size, mesh.length);
      const bytes = withEnv(all.env, () => state.content());
      return bytes && Buffer.from(bytes).toString();
    };
    assert.equal(
      withEnv(all.env, () => content("a.stl")),
      mesh,
    );
    assert.equal(
      withEnv(all.env, () => content("b.stl")),
      mesh,
    );
    assert.equal(
      withEnv(all.env, () => content("c.stl")),
      undefined,
    );
    assert.match(compared.notes().join(), /c\.stl is kept by Git LFS and is not here .*git lfs fetch --all/);
  });

  it("are the same as the disk where only line ends or the time of a mesh differ", () => {
    made.put({ "a.move.yaml": "move: 1\nrate: 24\n", "a.stl": "solid pot\nendsolid pot\n" });
    made.commit("one");
    made.put({ "a.move.yaml": "move: 1\r\nrate: 24\r\n", "a.stl": "solid pot\nendsolid pot\n" });
    const compared = open("HEAD");
    withEnv(all.env, () => {
      for (const name of ["a.move.yaml", "a.stl"]) {
        const [old, now] = [compared.before, compared.after].map(({ sources }) =>
          sources.read(`${made.folder}/${name}`),
        );
        if (old.state === "bytes" && now.state === "bytes") assert.equal(old.stamp, now.stamp);
        else assert.deepEqual(old, now);
      }
    });
  });

  it("take a mesh that Git LFS did not fill in for unchanged, and what git ignores as it is now", () => {
    const pointer = `version https://git-lfs.github.com/spec/v1\noid sha256:${"a".repeat(64)}\nsize 5000\n`;
    made.put({ "pot.stl": pointer, ".gitignore": "*.obj\n", "arm.obj": "v 0 0 0\n", "loose.rig.yaml": "rig: 1\n" });
    made.git("add", "pot.stl", ".gitignore");
    made.git("commit", "--quiet", "--message", "one");
    const compared = open("HEAD");
    withEnv(all.env, () => {
      const states = (name: string): SourceState[] =>
        [compared.before, compared.after].map(({ sources }) => sources.read(`${made.folder}/${name}`));
      const [old, now] = states("pot.stl");
      assert.ok(old.state === "bytes" && now.state === "bytes" && old.stamp === now.stamp);
      assert.deepEqual(
        states("arm.obj").map(({ state }) => state),
        ["bytes", "bytes"],
      );
      assert.deepEqual(
        states("loose.rig.yaml").map(({ state }) => state),
        ["missing", "text"],
      );
    });
    assert.match(compared.notes().join("\n"), /^\S*arm\.obj is ignored by git: it is read as it is now$/);
  });

  it("have what a sparse checkout leaves off the disk, and not what was deleted or is ignored", () => {
    made.put({ "in/a.move.yaml": "move: 1\n", "out/b.move.yaml": "move: 1 # b\n", "in/gone.move.yaml": "move: 1\n" });
    made.put({ ".gitignore": "in/ignored.move.yaml\n" });
    made.commit("one");
    made.git("sparse-checkout", "set", "in");
    rmSync(join(made.folder, "in/gone.move.yaml"));
    made.put({ "in/ignored.move.yaml": "move: 1\n", "in/new.move.yaml": "move: 1\n" });
    const { after: side } = open("HEAD");
    assert.ok(!existsSync(join(made.folder, "out")));
    assert.deepEqual(names(side), ["in/a.move.yaml", "in/new.move.yaml", "out/b.move.yaml"]);
    assert.equal(read(side, "out/b.move.yaml"), "move: 1 # b\n");
  });

  it("are found from another working tree of the repository", () => {
    made.put({ "a.move.yaml": "move: 1\n" });
    made.commit("one");
    const other = join(all.folder, `worktree${count}`);
    made.git("worktree", "add", "--quiet", "--detach", other);
    writeFileSync(join(other, "a.move.yaml"), "move: 1 # there\n");
    const compared = open("HEAD", other);
    assert.equal(read(compared.before, "a.move.yaml", other), "move: 1\n");
    assert.equal(read(compared.after, "a.move.yaml", other), "move: 1 # there\n");
  });

  it("start no program that the repository, its configuration or the environment names", () => {
    made.put({ "a.move.yaml": "move: 1\n", ".gitattributes": "* filter=spy diff=spy\n" });
    made.commit("one");
    const mark = join(all.folder, `ran${count}`);
    const spy = join(made.folder, "spy.sh");
    writeFileSync(spy, `#!/bin/sh\ntouch '${mark}'\ncat\n`);
    chmodSync(spy, 0o755);
    writeFileSync(join(made.folder, "git"), `#!/bin/sh\ntouch '${mark}'\n`);
    chmodSync(join(made.folder, "git"), 0o755);
    mkdirSync(join(made.folder, ".git/hooks"), { recursive: true });
    for (const hook of ["post-index-change", "reference-transaction", "fsmonitor-watchman"]) {
      writeFileSync(join(made.folder, ".git/hooks", hook), `#!/bin/sh\ntouch '${mark}'\n`, { mode: 0o755 });
    }
    const settings = { "core.fsmonitor": spy, "core.pager": spy, "diff.external": spy, "filter.spy.clean": spy };
    const more = {
      "filter.spy.smudge": spy,
      "filter.spy.process": spy,
      "diff.spy.textconv": spy,
      "diff.spy.command": spy,
    };
    for (const [name, value] of Object.entries({ ...settings, ...more, "core.sshCommand": spy }))
      made.git("config", name, value);
    made.put({ "a.move.yaml": "move: 1 # now\n" });
    const env = {
      ...all.env,
      GIT_EXTERNAL_DIFF: spy,
      GIT_PAGER: spy,
      GIT_SSH_COMMAND: spy,
      PATH: `.:${made.folder}/..:${all.env.PATH}`,
    };
    const here = process.cwd();
    try {
      process.chdir(made.folder);
      withEnv({ ...env, GIT_DIR: join(all.folder, "nowhere") }, () => {
        const compared = openComparison(made.folder, "HEAD", diskSources([made.folder]));
        assert.equal(textOf(compared.before.sources.read(`${made.folder}/a.move.yaml`)), "move: 1\n");
        openComparison(made.folder, "HEAD..HEAD", diskSources([made.folder]));
      });
    } finally {
      process.chdir(here);
    }
    assert.ok(!existsSync(mark));
    // The traps are armed: plain git walks into them.
    spawnSync("git", ["diff", "HEAD"], { cwd: made.folder, env: all.env });
    assert.ok(existsSync(mark));
  });

  it("need git, and say so", () => {
    made.commit("one");
    assert.throws(
      () => withEnv({ ...all.env, PATH: "." }, () => openComparison(made.folder, "HEAD", diskSources([]))),
      /git is not installed, or not on the PATH/,
    );
  });

  it("of somebody else's repository are not read until it is trusted", () => {
    made.commit("one");
    // Git's own words, as it says them to another user.
    const env = { ...all.env, GIT_TEST_ASSUME_DIFFERENT_OWNER: "1", LC_ALL: "C" };
    const { status, stderr } = spawnSync("git", ["rev-parse", "HEAD"], { cwd: made.folder, env, encoding: "utf8" });
    assert.equal(status, 128);
    const { message } = refusal(made.folder, ["rev-parse"], { status: 128, output: Buffer.alloc(0), said: stderr });
    assert.match(message, /belongs to another user.*git config --global --add safe\.directory ".*\/r\d+"`/);
  });
});
