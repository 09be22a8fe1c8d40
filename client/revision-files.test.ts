import assert from "node:assert/strict";
import type { GitCommit, GitRepository } from "./git-repository.ts";
import { namedRevision, offeredRevisions, readRevision } from "./revision-files.ts";

const commit = (letter: string, message: string, day: number): GitCommit => ({
  hash: letter.repeat(40),
  message,
  authorName: "Potter",
  commitDate: new Date(Date.UTC(2026, 2, day)),
});
const FIRST = commit("a", "Begin with the slider", 1);
const SECOND = commit("b", "Raise the arm\n\nIt was in the picture.", 2);
const THIRD = commit("c", "Move the lid", 3);
const LAST = commit("d", "Write of something else", 4);

const FILES: Readonly<Record<string, Readonly<Record<string, Uint8Array>>>> = {
  [SECOND.hash]: {
    "/pottery/lid.move.yaml": new TextEncoder().encode("move: 1 # é\n"),
    "/pottery/arm.stl": Uint8Array.of(0, 255, 128),
  },
};

/** Stands in for the editor's Git extension: rejects as that does for a path that a commit does not have. */
function repository(more: Partial<GitRepository> = {}): GitRepository {
  const named: Readonly<Record<string, GitCommit>> = { main: LAST, "HEAD~2": SECOND, bbbb: SECOND };
  const found = (ref: string, path: string): Uint8Array | undefined => FILES[ref]?.[path];
  return {
    rootUri: { fsPath: "/pottery" },
    state: {
      HEAD: { commit: LAST.hash },
      workingTreeChanges: [],
      indexChanges: [],
      onDidChange: () => ({ dispose: () => undefined }),
    },
    diffWith: () => Promise.resolve([]),
    getMergeBase: () => Promise.resolve(undefined),
    getCommit: (ref) => {
      const known = [FIRST, SECOND, THIRD, LAST].find(({ hash }) => hash === ref) ?? named[ref];
      return known ? Promise.resolve(known) : Promise.reject(new Error("Failed to execute git"));
    },
    log: ({ path, maxEntries }) =>
      Promise.resolve((path.endsWith(".set.yaml") ? [THIRD, SECOND] : [SECOND, FIRST]).slice(0, maxEntries)),
    getObjectDetails: (ref, path) => {
      const bytes = found(ref, path);
      if (!bytes) return Promise.reject(Object.assign(new Error("Path not known"), { gitErrorCode: "UnknownPath" }));
      return Promise.resolve({ object: `object of ${path}`, size: bytes.length });
    },
    buffer: (ref, path) => Promise.resolve(found(ref, path) ?? Uint8Array.of()),
    ...more,
  };
}

describe("files of a revision", () => {
  it("are read as text, as bytes, or looked at", async () => {
    const git = repository();
    assert.deepEqual(await readRevision(git, SECOND.hash, "/pottery/lid.move.yaml", "text"), {
      state: "text",
      text: "move: 1 # é\n",
    });
    const facts = { state: "bytes", size: 3, stamp: "object of /pottery/arm.stl" };
    assert.deepEqual(await readRevision(git, SECOND.hash, "/pottery/arm.stl", "facts"), facts);
    // 0, 255, 128 in base64, by RFC 4648.
    assert.deepEqual(await readRevision(git, SECOND.hash, "/pottery/arm.stl", "bytes"), { ...facts, data: "AP+A" });
  });

  it("are missing where the revision does not have them, and a repository that can't be read is a failure", async () => {
    assert.deepEqual(await readRevision(repository(), FIRST.hash, "/pottery/lid.move.yaml", "text"), {
      state: "missing",
    });
    const locked = repository({ getObjectDetails: () => Promise.reject(new Error("The repository is locked.")) });
    await assert.rejects(readRevision(locked, SECOND.hash, "/pottery/lid.move.yaml", "text"), /locked/);
  });

  it("are not fetched when they are too large", async () => {
    const huge = repository({
      getObjectDetails: () => Promise.resolve({ object: "x", size: 30_000_000 }),
      buffer: () => Promise.reject(new Error("it was read all the same")),
    });
    assert.deepEqual(await readRevision(huge, SECOND.hash, "/pottery/lid.move.yaml", "text"), {
      state: "too-large",
      bytes: 30_000_000,
    });
  });
});

describe("revisions to compare with", () => {
  it("are the last commit and those that changed the move or what it uses, newest first, each once", async () => {
    const offered = await offeredRevisions(repository(), ["/pottery/lid.move.yaml", "/pottery/table.set.yaml"]);
    assert.deepEqual(
      offered.map(({ revision, label }) => [revision[0], label]),
      [
        ["d", "HEAD (ddddddd)"],
        ["c", "ccccccc"],
        ["b", "bbbbbbb"],
        ["a", "aaaaaaa"],
      ],
    );
    assert.equal(offered[2].about, "Raise the arm · Potter · 2026-03-02");
  });

  it("name the last commit once where it changed the move", async () => {
    const git = repository({ log: () => Promise.resolve([LAST, SECOND]) });
    const offered = await offeredRevisions(git, ["/pottery/lid.move.yaml"]);
    assert.deepEqual(
      offered.map(({ label }) => label),
      ["HEAD (ddddddd)", "bbbbbbb"],
    );
  });

  it("are what a person types, when there is such a commit", async () => {
    assert.equal((await namedRevision(repository(), " main "))?.label, "main (ddddddd)");
    assert.deepEqual(await namedRevision(repository(), "HEAD~2"), {
      revision: SECOND.hash,
      label: "HEAD~2 (bbbbbbb)",
      about: "Raise the arm · Potter · 2026-03-02",
    });
    assert.equal((await namedRevision(repository(), "bbbb"))?.label, "bbbbbbb");
    for (const none of ["nothing", "", "  ", "--output=x"]) {
      assert.equal(await namedRevision(repository(), none), undefined, none);
    }
  });
});
