import assert from "node:assert/strict";
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { SourceState } from "../core/model/sources.ts";
import { MAX_TEXT } from "../core/syntax/caps.ts";
import { diskBytes, diskSources, MAX_BYTES } from "./disk-sources.ts";
import { fileOfPath } from "./file-path.ts";
import { projectRoot } from "./project-root.ts";
import { assetsUnder, documentsUnder } from "./walk.ts";
import { replaceText, writeWhole, WriteRefused } from "./write-file.ts";

describe("host", () => {
  let folder: string;
  const put = (name: string, text = "rig: 1\n"): string => {
    const path = join(folder, name);
    mkdirSync(join(path, ".."), { recursive: true });
    writeFileSync(path, text);
    return path;
  };
  beforeEach(() => (folder = mkdtempSync(join(tmpdir(), "host-"))));
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  it("reads texts under its roots, links followed, and nothing else", () => {
    const inside = put("in/a.rig.yaml", "rig: 1 # é\n");
    const secret = put("out/b.rig.yaml");
    symlinkSync(secret, join(folder, "in/link.rig.yaml"));
    const sources = diskSources([join(folder, "in")]);
    assert.deepEqual(sources.read(fileOfPath(inside)), { state: "text", text: "rig: 1 # é\n" });
    assert.deepEqual(sources.read(fileOfPath(secret)), { state: "outside" });
    assert.deepEqual(sources.read(fileOfPath(join(folder, "in/link.rig.yaml"))), { state: "outside" });
    assert.deepEqual(sources.read(fileOfPath(join(folder, "in/none.rig.yaml"))), { state: "missing" });
    assert.deepEqual(sources.read(fileOfPath(join(folder, "in"))), { state: "missing" });
  });

  it("does not take a folder for a root that only begins with its name", () => {
    const path = put("kit-other/a.rig.yaml");
    mkdirSync(join(folder, "kit"));
    assert.equal(diskSources([join(folder, "kit")]).read(fileOfPath(path)).state, "outside");
  });

  it("reads of a huge file only enough to see that it is too large", () => {
    const path = put("a.rig.yaml", "#".repeat(MAX_BYTES + 1000));
    const state = diskSources([folder]).read(fileOfPath(path));
    assert.ok(state.state === "text" && MAX_TEXT < state.text.length && state.text.length <= MAX_BYTES);
  });

  it("tells of a mesh only that it is there, how large it is and when it changed, and reads it when asked to", () => {
    const path = put("in/hand.STL", "solid");
    const secret = put("out/hand.stl");
    const roots = [join(folder, "in")];
    const state = (): SourceState => diskSources(roots).read(fileOfPath(path));
    const before = state();
    assert.ok(before.state === "bytes" && before.size === 5 && before.stamp !== "");
    const stampOf = (one: SourceState): string => (one.state === "bytes" ? one.stamp : one.state);
    assert.equal(stampOf(state()), before.stamp);
    assert.equal(Buffer.from(before.content() ?? []).toString(), "solid");
    put("in/hand.STL", "solid, longer");
    assert.notEqual(stampOf(state()), before.stamp);
    assert.deepEqual(diskSources(roots).read(fileOfPath(secret)), { state: "outside" });
    assert.deepEqual(diskSources(roots).read(fileOfPath(join(folder, "in/none.stl"))), { state: "missing" });
    mkdirSync(join(folder, "in/folder.stl"));
    assert.deepEqual(diskSources(roots).read(fileOfPath(join(folder, "in/folder.stl"))), { state: "missing" });
    const bytes = (file: string, cap: number): string | undefined => {
      const found = diskBytes(fileOfPath(file), roots, cap);
      return found && Buffer.from(found).toString();
    };
    assert.equal(bytes(path, 13), "solid, longer");
    assert.equal(bytes(path, 12), undefined);
    assert.equal(bytes(secret, 100), undefined);
    assert.equal(bytes(join(folder, "in/folder.stl"), 100), undefined);
  });

  it("finds documents by name, without packages, hidden folders or circles of links", () => {
    for (const name of ["b.move.yaml", "a.rig.json", "kit/c.set.yml", "notes.yaml"]) put(name);
    for (const name of ["node_modules/x.rig.yaml", ".git/y.rig.yaml"]) put(name);
    symlinkSync(folder, join(folder, "kit/up"));
    const found = documentsUnder(folder).map((path) => path.slice(folder.length + 1));
    assert.deepEqual(found, ["a.rig.json", "b.move.yaml", "kit/c.set.yml"]);
    for (const name of ["arm.urdf", "kit/hand.STL", "node_modules/x.stl"]) put(name);
    const assets = assetsUnder(folder).map((path) => path.slice(folder.length + 1));
    assert.deepEqual(assets, ["arm.urdf", "kit/hand.STL"]);
    assert.throws(() => documentsUnder(join(folder, "none")));
  });

  it("takes the marked top of a project, else the folder beside, as the bounds of references", () => {
    const loose = put("loose/moves/a.move.yaml");
    assert.equal(projectRoot(loose), join(folder, "loose"));
    put("shoot/package.json", "{}");
    assert.equal(projectRoot(put("shoot/deep/moves/a.move.yaml")), join(folder, "shoot"));
  });

  it("writes whole files or none, and keeps their mode", () => {
    const path = put("a.rig.yaml", "old");
    chmodSync(path, 0o640);
    writeWhole(path, "new");
    assert.equal(readFileSync(path, "utf8"), "new");
    assert.equal(statSync(path).mode & 0o777, 0o640);
    mkdirSync(join(folder, "full.rig.yaml/x"), { recursive: true });
    assert.throws(() => writeWhole(join(folder, "full.rig.yaml"), "text"));
    assert.ok(existsSync(join(folder, "full.rig.yaml/x")));
    assert.deepEqual(readdirSync(folder).sort(), ["a.rig.yaml", "full.rig.yaml"]);
  });

  it("replaces a text that still stands as it was read, and no other", () => {
    const path = put("a.move.yaml", "read é\r\n");
    replaceText(path, "read é\r\n", "new\r\n");
    assert.equal(readFileSync(path, "utf8"), "new\r\n");
    const refused = (act: () => void, why: RegExp): void =>
      assert.throws(act, (error) => error instanceof WriteRefused && why.test(error.message));
    refused(() => replaceText(path, "read é\r\n", "newer"), /changed since it was read/);
    writeFileSync(path, Buffer.from([0x61, 0xff]));
    refused(() => replaceText(path, "a\ufffd", "b"), /not valid UTF-8/);
    symlinkSync(path, join(folder, "link.move.yaml"));
    refused(() => replaceText(join(folder, "link.move.yaml"), "a", "b"), /is a link/);
    refused(() => replaceText(folder, "a", "b"), /is no file/);
    refused(() => replaceText(join(folder, "none.move.yaml"), "a", "b"), /not there any more/);
    assert.deepEqual([...readFileSync(path)], [0x61, 0xff]);
    assert.deepEqual(readdirSync(folder).sort(), ["a.move.yaml", "link.move.yaml"]);
  });

  it("says that a folder may not be written, and leaves it as it is", () => {
    const path = put("locked/a.move.yaml", "read");
    chmodSync(join(folder, "locked"), 0o555);
    try {
      // Root writes everywhere.
      if (process.getuid?.() === 0) replaceText(path, "read", "new");
      else assert.throws(() => replaceText(path, "read", "new"), /may not be written/);
      assert.deepEqual(readdirSync(join(folder, "locked")), ["a.move.yaml"]);
    } finally {
      chmodSync(join(folder, "locked"), 0o755);
    }
  });
});
