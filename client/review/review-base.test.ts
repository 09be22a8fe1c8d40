import assert from "node:assert/strict";
import type { GitChange, GitCommit, GitRepository } from "../git-repository.ts";
import { findBase, usualNames } from "./review-base.ts";

const FOLDER = "file:///pottery";
const hash = (letter: string): string => letter.repeat(40);
const [FORK, MAIN, HEAD] = [hash("a"), hash("b"), hash("c")];

/** A change as the Git extension tells it: by numbers of its own, uris with the old place first where it was renamed. */
const change = (name: string, status: number, renamedTo?: string): GitChange => ({
  uri: `${FOLDER}/${name}`,
  originalUri: `${FOLDER}/${name}`,
  renameUri: renamedTo === undefined ? undefined : `${FOLDER}/${renamedTo}`,
  status,
});

interface Facts {
  readonly head?: string;
  readonly names?: Readonly<Record<string, string>>;
  readonly left?: string;
  readonly differs?: readonly GitChange[];
  readonly working?: readonly GitChange[];
  readonly untracked?: readonly GitChange[];
}

/** Stands in for the editor's Git extension. */
function repository(facts: Facts): GitRepository & { readonly compared: string[] } {
  const { names = {}, left, differs = [], working = [], untracked = [] } = facts;
  const compared: string[] = [];
  const commit = (name: string): Promise<GitCommit> => {
    const found = names[name] ?? ([FORK, MAIN, HEAD].includes(name) ? name : undefined);
    return found === undefined
      ? Promise.reject(new Error("unknown revision"))
      : Promise.resolve({ hash: found, message: "" });
  };
  return {
    compared,
    rootUri: { fsPath: "/pottery" },
    state: {
      HEAD: { commit: "head" in facts ? facts.head : HEAD },
      workingTreeChanges: working,
      untrackedChanges: untracked,
      indexChanges: [],
      onDidChange: () => ({ dispose: () => undefined }),
    },
    getCommit: commit,
    log: () => Promise.resolve([]),
    getObjectDetails: () => Promise.reject(new Error("not asked for here")),
    buffer: () => Promise.reject(new Error("not asked for here")),
    diffWith(ref) {
      compared.push(ref);
      return Promise.resolve(differs);
    },
    getMergeBase: () => Promise.resolve(left),
  };
}

describe("the base of a review", () => {
  it("is by itself the commit at which the work left the branch that work begins from", async () => {
    const git = repository({ names: { "origin/main": MAIN, main: MAIN }, left: FORK });
    const found = await findBase(git, FOLDER, undefined);
    assert.ok("base" in found);
    assert.deepEqual(found.base, { of: FOLDER, revision: FORK, label: "origin/main" });
    assert.equal(found.about, "origin/main (aaaaaaa), by default");
    assert.deepEqual(git.compared, [FORK]);
    assert.deepEqual(await usualNames(git), ["origin/main", "main"]);
  });

  it("is by itself the last commit where the work has left nothing, and where there is no such branch", async () => {
    for (const git of [repository({ names: { main: HEAD }, left: HEAD }), repository({})]) {
      const found = await findBase(git, FOLDER, undefined);
      assert.ok("base" in found);
      assert.deepEqual([found.base.revision, found.base.label], [HEAD, "HEAD"]);
    }
  });

  it("is what a person chose, under the name that was chosen, a commit under the beginning of its number", async () => {
    const git = repository({ names: { glaze: MAIN, [MAIN.slice(0, 12)]: MAIN }, left: FORK });
    const named = await findBase(git, FOLDER, "glaze");
    assert.ok("base" in named);
    assert.deepEqual([named.base.label, named.base.revision, named.about], ["glaze", FORK, "glaze (aaaaaaa)"]);
    const numbered = await findBase(git, FOLDER, MAIN.slice(0, 12));
    assert.ok("base" in numbered);
    assert.equal(numbered.base.label, "bbbbbbb");
  });

  it("is the commit itself where both share no history", async () => {
    const found = await findBase(repository({ names: { glaze: MAIN } }), FOLDER, "glaze");
    assert.ok("base" in found);
    assert.equal(found.base.revision, MAIN);
  });

  it("is none before the first commit, and where the chosen one is gone or would be read as an option", async () => {
    const empty = await findBase(repository({ head: undefined }), FOLDER, undefined);
    assert.deepEqual(empty, { problem: "The repository has no commits yet, so there is no base to compare with." });
    for (const name of ["gone", "--all"]) {
      const found = await findBase(repository({}), FOLDER, name);
      assert.ok("problem" in found);
      assert.match(found.problem, new RegExp(`^There is no commit \`${name}\` in the repository any more\\.`));
    }
  });

  it("differs from the disk in what Git knows and in what it does not, each file once, renamed ones with their old place", async () => {
    const [untracked, modified] = [7, 5];
    const git = repository({
      differs: [change("lid.move.yaml", modified), change("old.move.yaml", 3, "new.move.yaml")],
      working: [change("lid.move.yaml", modified), change("spout.move.yaml", untracked)],
      untracked: [change("spout.move.yaml", untracked), change("cup.move.yaml", untracked)],
    });
    const found = await findBase(git, FOLDER, undefined);
    assert.ok("base" in found);
    assert.deepEqual(found.changed, [
      { uri: `${FOLDER}/lid.move.yaml` },
      { uri: `${FOLDER}/new.move.yaml`, was: `${FOLDER}/old.move.yaml` },
      { uri: `${FOLDER}/spout.move.yaml` },
      { uri: `${FOLDER}/cup.move.yaml` },
    ]);
  });
});
