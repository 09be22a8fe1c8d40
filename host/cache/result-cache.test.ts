import assert from "node:assert/strict";
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { defaultCacheFolder } from "./cache-place.ts";
import { CacheRefused, openCache } from "./open-cache.ts";
import { programIdentity } from "./program-identity.ts";
import { findResult, keepResult, type CachePlace, type Read } from "./result-cache.ts";
import { sweepCache } from "./sweep.ts";

describe("results that are kept", () => {
  let folder: string;
  let place: CachePlace;
  const reads = (digest: string): Read[] => [{ side: "now", file: "/a/b", digest }];
  const find = (digest: string, question = "what", at = place): unknown => findResult(at, question, () => digest);
  const keep = (digest: string, result: unknown, question = "what", at = place): void =>
    keepResult(at, question, reads(digest), result);
  const entries = (): string[] =>
    readdirSync(place.folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && entry.name.endsWith(".json"))
      .map(({ parentPath, name }) => join(parentPath, name));

  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), "cache-"));
    place = openCache(folder, "program one");
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  it("are found for the same question, program and files, and for no others", () => {
    keep("one", { answer: 1 });
    assert.deepEqual(find("one"), { answer: 1 });
    assert.equal(find("two"), undefined);
    assert.equal(find("one", "else"), undefined);
    assert.equal(find("one", "what", { ...place, program: "program two" }), undefined);
    assert.equal(
      findResult(place, "what", () => undefined),
      undefined,
    );
  });

  it("are kept for a few states of the files, the oldest let go", () => {
    for (const state of ["a", "b", "c", "d", "e"]) keep(state, state);
    assert.deepEqual(
      ["a", "b", "c", "d", "e"].map((state) => find(state)),
      [undefined, "b", "c", "d", "e"],
    );
    keep("c", "anew");
    assert.deepEqual([find("c"), find("b"), entries().length], ["anew", "b", 1]);
  });

  it("are passed over and made anew where an entry is cut off, changed, foreign, or none at all", () => {
    keep("one", { answer: 1 });
    const [path] = entries();
    const whole = readFileSync(path, "utf8");
    const changed = whole.replace('"answer":1', '"answer":2');
    assert.notEqual(changed, whole);
    const signed = (content: string): string => {
      // An entry with a good sum, of a program that means something else by it.
      rmSync(path);
      keepResult(place, "what", reads("one"), content);
      return readFileSync(path, "utf8").replace(/"variants":.*/, '"variants":[{"reads":[{}],"result":1}]}');
    };
    const broken = [
      "",
      "x",
      whole.slice(0, -5),
      whole.slice(0, 30),
      changed,
      `\n${whole}`,
      "\u0000".repeat(4000),
      signed("x"),
    ];
    for (const text of broken) {
      writeFileSync(path, text);
      assert.equal(find("one"), undefined, JSON.stringify(text.slice(0, 80)));
      keep("one", { answer: 3 });
      assert.deepEqual(find("one"), { answer: 3 });
    }
    rmSync(path);
    mkdirSync(path);
    assert.equal(find("one"), undefined);
    keep("one", 1);
    assert.equal(find("one"), undefined);
    rmSync(path, { recursive: true });
    const elsewhere = join(folder, "elsewhere");
    writeFileSync(elsewhere, "mine");
    symlinkSync(elsewhere, path);
    keep("one", 1);
    assert.deepEqual([find("one"), readFileSync(elsewhere, "utf8")], [1, "mine"]);
  });

  it("never leave their folder, whatever a question holds", () => {
    for (const question of ["../../etc/x", "a/../../b", "\u0000", "CON", "é".repeat(5000)]) keep("one", 1, question);
    assert.deepEqual(readdirSync(folder), ["results-1"]);
    assert.equal(entries().length, 5);
    for (const path of entries()) assert.match(path.slice(place.folder.length), /^\/[0-9a-f]{2}\/[0-9a-f]{62}\.json$/);
  });

  it("go when they are old or too many, what was used least lately first; nothing else goes", () => {
    const hour = 3600;
    const now = Date.now() / 1000;
    for (let i = 0; i < 20; i++) keep("one", "x".repeat(1000), `question ${i}`);
    const all = entries();
    for (const [i, path] of all.entries()) utimesSync(path, now - i * hour, now - i * hour);
    const [aside, fresh, mine] = [`.${all[0].split("/").at(-1)}.0123456789ab`, `.${all[1].split("/").at(-1)}.0123456789ab`, "mine.json"].map((name) => join(all[0], "..", name)); // prettier-ignore
    for (const path of [aside, fresh, mine]) writeFileSync(path, "half");
    for (const path of [aside, mine]) utimesSync(path, now - 99 * hour, now - 99 * hour);
    sweepCache(place.folder, { most: 12_000, force: true });
    const left = entries();
    const size = readFileSync(all[0]).length;
    assert.ok(left.length - 1 === Math.floor((12_000 * 0.75) / size), `${left.length} of ${size} bytes`);
    for (const path of all.slice(0, left.length - 1)) assert.ok(left.includes(path));
    assert.ok(left.includes(mine));
    assert.throws(() => readFileSync(aside));
    assert.equal(readFileSync(fresh, "utf8"), "half");
    utimesSync(all[0], now - 31 * 24 * hour, now - 31 * 24 * hour);
    sweepCache(place.folder);
    assert.ok(!entries().includes(all[0]));
    // It has just been looked through.
    utimesSync(all[1], now - 31 * 24 * hour, now - 31 * 24 * hour);
    sweepCache(place.folder);
    assert.ok(entries().includes(all[1]));
    sweepCache(join(folder, "nowhere"));
  });

  it("stay while they are used", () => {
    keep("one", 1);
    const [path] = entries();
    const old = Date.now() / 1000 - 31 * 86400;
    utimesSync(path, old, old);
    assert.equal(find("one"), 1);
    sweepCache(place.folder);
    assert.equal(find("one"), 1);
  });

  it("lie where the system has a person's caches, or where they are told to, if that can be", () => {
    const at = (platform: NodeJS.Platform, env: Record<string, string>) => defaultCacheFolder({ env, platform });
    assert.equal(at("linux", { HOME: "/people/ann" }), "/people/ann/.cache/movewright");
    assert.equal(at("linux", { HOME: "/people/ann", XDG_CACHE_HOME: "/fast" }), "/fast/movewright");
    assert.equal(at("linux", { HOME: "/people/ann", XDG_CACHE_HOME: "here" }), "/people/ann/.cache/movewright");
    assert.equal(
      at("darwin", { HOME: "/people/ann", XDG_CACHE_HOME: "/fast" }),
      "/people/ann/Library/Caches/movewright",
    );
    assert.equal(at("linux", {}), undefined);
    assert.equal(at("win32", { HOME: "/people/ann" }), undefined);
    writeFileSync(join(folder, "file"), "");
    for (const path of ["file", "file/below"]) {
      assert.throws(() => openCache(join(folder, path), "program"), (error) => error instanceof CacheRefused && /it is no folder/.test(error.message)); // prettier-ignore
    }
  });

  it("are of one program: another one for any byte of its files", () => {
    const [one, two] = ["one.cjs", "two.cjs"].map((name) => join(folder, name));
    writeFileSync(one, "one");
    writeFileSync(two, "two");
    const before = programIdentity([one, two]);
    assert.equal(programIdentity([one, two]), before);
    writeFileSync(two, "twO");
    assert.notEqual(programIdentity([one, two]), before);
    assert.equal(programIdentity([one, join(folder, "gone")]), undefined);
    assert.equal(programIdentity(), undefined);
  });
});
