import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { parse } from "yaml";
import type { Diagnostic } from "vscode-languageserver-protocol";
import { randomChoices } from "../fuzz/random.ts";
import { MOVE, RIG, SET, CAMERA } from "../lsp/documents.ts";
import { PUSHED } from "../lsp/harness.ts";
import { freshOf, type Fresh } from "./fresh.ts";
import { editDocuments } from "./edited-documents.ts";
import { startRobustServer, type RobustServer } from "./robust-server.ts";

/**
 * How many edits of the demo are told, and after how many all that is found of the motion is compared too. Many more, which
 * take long: `MOVEWRIGHT_EDITS=20000 MOVEWRIGHT_EDITS_WHOLE=20 npx mocha test/robust/edits.test.ts`.
 */
const EDITS = Number(process.env.MOVEWRIGHT_EDITS ?? 1200);
const WHOLE = Number(process.env.MOVEWRIGHT_EDITS_WHOLE ?? 100);
/** Edits of a small move, after each of which all that is found is pulled and compared. */
const PULLED = Number(process.env.MOVEWRIGHT_PULLED ?? 400);
const SEED = Number(process.env.MOVEWRIGHT_EDITS_SEED ?? 1);

const demo = (path: string): string =>
  readFileSync(fileURLToPath(new URL(`../../examples/${path}`, import.meta.url)), "utf8");
const asJson = (text: string): string => `${JSON.stringify(parse(text), null, 2)}\n`;

/** Documents that are edited: of the demo, and one of its moves as JSON and with CRLF. */
const DEMO: Readonly<Record<string, string>> = {
  ...Object.fromEntries(
    [
      "moves/once-around.move.yaml",
      "moves/over-the-lid.move.yaml",
      "moves/lid-then-cup.move.yaml",
      "kit/slider.rig.yaml",
      "kit/a-cam.camera.yaml",
      "teapots.set.yaml",
      "teapots.shoot.yaml",
    ].map((path) => [path, demo(path)]),
  ),
  "moves/round.move.json": asJson(demo("moves/once-around.move.yaml")),
  "moves/round-crlf.move.yaml": demo("moves/once-around.move.yaml").replaceAll("\n", "\r\n"),
};

/** A job of few axes, few keys and few bodies, whose motion takes no time. */
const SMALL: Readonly<Record<string, string>> = {
  "small/kit/slider.rig.yaml": RIG,
  "small/kit/a.camera.yaml": CAMERA,
  "small/moves/table.set.yaml": SET,
  "small/moves/along.move.yaml": MOVE,
  "small/moves/along.move.json": asJson(MOVE),
};

/** Findings in one order: those of one place stand as they were found, which is the same in both. */
const told = (items: readonly Diagnostic[] | undefined): unknown => JSON.parse(JSON.stringify(items ?? []));

const isSame = (one: unknown, other: unknown): boolean => JSON.stringify(one) === JSON.stringify(other);

/** What a failure says: the text before, the changes and the text after, to be put into a test of its own. */
const caseOf = (edit: number, path: string, before: string, changes: unknown, after: string): string =>
  `edit ${edit} of ${path}\n${JSON.stringify({ before, changes, after })}`;

describe("diagnostics after random edits", () => {
  let server: RobustServer;
  afterEach(async () => assert.equal(await server.stop(), 0));

  it(`of the demo are those of a fresh server, text after each of ${EDITS}, motion after each ${WHOLE}th`, async function () {
    this.timeout(Math.max(240_000, EDITS * 2000));
    server = await startRobustServer(DEMO, PUSHED);
    const paths = Object.keys(DEMO);
    const edited = editDocuments(DEMO, randomChoices(SEED));
    const fresh = freshOf(server, edited.texts);
    for (const path of paths) await server.open(path, DEMO[path]);
    const counts = { edits: 0, findings: 0, broken: 0, moved: 0, settled: 0, whole: 0 };
    while (counts.edits < EDITS) {
      const { path, before, changes } = edited.next();
      const after = await server.change(path, before, changes);
      edited.put(path, after);
      const version = server.version(path);
      await server.until(`edit ${counts.edits}`, () => server.published(path)?.version === version);
      const text = fresh.text(path);
      const published = told(server.published(path)?.diagnostics);
      const where = (): string => caseOf(counts.edits, path, before, changes, after);
      // What came may be all findings already, where the motion was known.
      if (!isSame(published, told(text.items))) assert.deepEqual(published, told(fresh.whole(path)), where());
      edited.judge(path, isSound(path, text));
      counts.edits += 1;
      counts.findings += text.items.length;
      if (text.analysis.move) counts.moved += 1;
      if (!isWellFormed(text.items)) counts.broken += 1;
      if (counts.edits % 1000 === 0) console.log(`      ${JSON.stringify(counts)}`);
      if (counts.edits % WHOLE === 0) counts.whole += await settle(server, fresh, path, where);
    }
    for (const path of paths) counts.settled += await settle(server, fresh, path, () => `${path} at the end`);
    console.log(`      ${JSON.stringify(counts)}`);
    assert.ok(counts.findings > EDITS / 2 && EDITS / 20 < counts.broken, JSON.stringify(counts));
    assert.ok(counts.broken < 0.9 * EDITS, JSON.stringify(counts));
  });

  it(`of a small job are those of a fresh server, all after each of ${PULLED}`, async function () {
    this.timeout(Math.max(120_000, PULLED * 1000));
    server = await startRobustServer(SMALL);
    const edited = editDocuments(SMALL, randomChoices(SEED + 1));
    const fresh = freshOf(server, edited.texts);
    for (const [path, text] of Object.entries(SMALL)) await server.open(path, text);
    const counts = { edits: 0, findings: 0, ofUsers: 0, moved: 0 };
    while (counts.edits < PULLED) {
      const { path, before, changes } = edited.next();
      const after = await server.change(path, before, changes);
      edited.put(path, after);
      const where = (): string => caseOf(counts.edits, path, before, changes, after);
      counts.findings += await pullWhole(server, fresh, path, where);
      // What a rig, a camera or a set says counts in the moves that use it.
      if (!path.includes(".move."))
        counts.ofUsers += await pullWhole(server, fresh, "small/moves/along.move.yaml", where);
      const text = fresh.text(path);
      edited.judge(path, isSound(path, text));
      if (text.analysis.move) counts.moved += 1;
      counts.edits += 1;
    }
    console.log(`      ${JSON.stringify(counts)}`);
    assert.ok(PULLED / 10 < counts.moved && PULLED < counts.findings, JSON.stringify(counts));
  });
});

/** True for a text that is worth coming back to: a move that can be solved, another document without errors. */
const isSound = (path: string, { items, analysis }: ReturnType<Fresh["text"]>): boolean =>
  path.includes(".move.") ? analysis.move !== undefined : items.every(({ severity }) => severity !== 1);

const isWellFormed = (items: readonly Diagnostic[]): boolean => items.every(({ code }) => code !== "syntax");

/** Waits for all that is found of a document and compares it; gives how much that was. */
async function settle(server: RobustServer, fresh: Fresh, path: string, where: () => string): Promise<number> {
  const all = told(fresh.whole(path));
  const isThere = (): boolean => isSame(told(server.published(path)?.diagnostics), all);
  await server.until("all findings", isThere).catch(() => undefined);
  assert.deepEqual(told(server.published(path)?.diagnostics), all, where());
  return (all as unknown[]).length;
}

/** Pulls as an editor does, again when it is told to, until all that is found has come. */
async function pullWhole(server: RobustServer, fresh: Fresh, path: string, where: () => string): Promise<number> {
  const all = told(fresh.whole(path));
  for (let round = 0; ; round++) {
    const refreshes = server.refreshes();
    const pulled = told(await server.pull(path));
    if (isSame(pulled, all)) return (all as unknown[]).length;
    // Findings of the motion come later where that takes long: then the server says so.
    if (round === 9 || !isSame(pulled, told(fresh.text(path).items))) assert.deepEqual(pulled, all, where());
    await server.until("a refresh", () => refreshes < server.refreshes());
  }
}
