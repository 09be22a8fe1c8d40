import assert from "node:assert/strict";
import type { FileId } from "../core/base/span.ts";
import type { Analysis } from "../core/checks/analysis.ts";
import type { SourceState, Sources } from "../core/model/sources.ts";
import { parseTree } from "../core/syntax/parse.ts";
import { createMemo } from "../core/checks/memo.ts";
import { createAnalyses, type Engine } from "./analyses.ts";
import { createScheduler } from "./scheduler.ts";
import { createTexts } from "./files/texts.ts";

const MOVE = "/w/a.move.yaml";
const RIG = "/w/a.rig.yaml";
const URI = "file:///w/a.move.yaml";

/** An engine whose findings repeat the texts it saw, so that a test can tell which texts an answer is of. */
function echoEngine(steps = 3): Engine & { runs: () => number } {
  let runs = 0;
  const look = (file: FileId, sources: Sources): Analysis => {
    const seen = [file, RIG].map((input) => ({ input, state: sources.read(input) }));
    const unread = seen.filter(({ state }) => state.state === "unread").map(({ input }) => input);
    const message = seen.map(({ state }) => (state.state === "text" ? state.text : state.state)).join("|");
    const finding = {
      code: "syntax" as const,
      severity: "error" as const,
      message,
      place: { file, span: { start: 0, end: 0 } },
      related: [],
      cures: [],
    };
    return { file, kind: "move", textFindings: [finding], motionFindings: [], inputs: [file, RIG], unread };
  };
  const analyse: Engine["analyse"] = function* (file, sources) {
    runs += 1;
    const analysis = look(file, sources);
    for (let idx = 0; idx < steps; idx += 1) yield;
    return { ...analysis, motionFindings: analysis.textFindings };
  };
  return {
    runs: () => runs,
    analyseText: look,
    analyse,
    trial: analyse,
    aside: createMemo,
    tree: (_, text) => parseTree(text, "yaml"),
    side: () => assert.fail("Nothing is reviewed here."),
    forget: () => undefined,
  };
}

function setUp(engine: Engine, disk: Record<FileId, string>, onPause: () => void = () => undefined) {
  const failures: unknown[] = [];
  const texts = createTexts(async (file): Promise<SourceState> => {
    const text = disk[file];
    return text === undefined ? { state: "missing" } : { state: "text", text };
  });
  let now = 0;
  const scheduler = createScheduler({
    now: () => (now += 100),
    pause: async () => onPause(),
  });
  const analyses = createAnalyses(texts, engine, scheduler, (_, error) => failures.push(error));
  return { texts, analyses, disk, failures };
}

const message = (known: { analysis: Analysis }) => known.analysis.textFindings[0].message;

describe("analyses", () => {
  it("reads what is missing and asks again", async () => {
    const { analyses } = setUp(echoEngine(), { [MOVE]: "move", [RIG]: "rig" });
    assert.equal(message(await analyses.text(MOVE)), "move|rig");
  });

  it("lets the open text win over the disk, and the disk come back after it is closed", async () => {
    const { analyses, texts } = setUp(echoEngine(), { [MOVE]: "disk", [RIG]: "rig" });
    texts.open(URI, 1, "open");
    assert.equal(message(await analyses.text(MOVE)), "open|rig");
    texts.close(URI);
    assert.equal(message(await analyses.text(MOVE)), "disk|rig");
  });

  it("tells of each whole analysis that is made, and of none that is at hand", async () => {
    const { analyses, texts } = setUp(echoEngine(), { [MOVE]: "move", [RIG]: "rig" });
    const told: FileId[] = [];
    analyses.onWhole((file) => told.push(file));
    await analyses.text(MOVE);
    assert.deepEqual(told, []);
    await analyses.whole(MOVE, "shown");
    await analyses.whole(MOVE, "shown");
    assert.deepEqual(told, [MOVE]);
    texts.open(URI, 1, "other");
    await analyses.whole(MOVE, "shown");
    assert.deepEqual(told, [MOVE, MOVE]);
  });

  it("answers twice from one run, and runs again only when a text differs", async () => {
    const engine = echoEngine();
    const { analyses, texts, disk } = setUp(engine, { [MOVE]: "move", [RIG]: "rig" });
    await analyses.whole(MOVE, "shown");
    await analyses.whole(MOVE, "shown");
    assert.equal(engine.runs(), 1);
    assert.deepEqual(await texts.reload([RIG]), []);
    assert.ok(analyses.current(MOVE)?.whole);
    disk[RIG] = "other rig";
    assert.deepEqual(await texts.reload([RIG]), [RIG]);
    assert.deepEqual(analyses.dependents([RIG]), [MOVE]);
    assert.equal(analyses.current(MOVE), undefined);
    assert.equal(message(await analyses.whole(MOVE, "shown")), "move|other rig");
    assert.equal(engine.runs(), 2);
  });

  it("never gives an answer of an older version: an edit under a running analysis starts it again", async () => {
    let edited = false;
    const { analyses, texts } = setUp(echoEngine(50), { [RIG]: "rig" }, () => {
      if (edited) return;
      edited = true;
      texts.change(URI, 2, [{ text: "second" }]);
    });
    texts.open(URI, 1, "first");
    const known = await analyses.whole(MOVE, "shown");
    assert.equal(message(known), "second|rig");
    assert.equal(known.whole, true);
  });

  it("gives equal texts equal fingerprints and others others", async () => {
    const { analyses, texts } = setUp(echoEngine(), { [MOVE]: "move", [RIG]: "rig" });
    const first = await analyses.text(MOVE);
    texts.open(URI, 1, "move");
    const same = await analyses.text(MOVE);
    texts.change(URI, 2, [{ text: "move " }]);
    const other = await analyses.text(MOVE);
    assert.equal(first.fingerprint, same.fingerprint);
    assert.notEqual(first.fingerprint, other.fingerprint);
  });

  it("sets a document aside that fails twice, with one finding, until its text changes; others live on", async () => {
    const fine = echoEngine();
    const engine: Engine = {
      ...fine,
      *analyse(file, sources) {
        const state = sources.read(file);
        if (state.state === "text" && state.text === "bad") throw new Error("a broken stage");
        return yield* fine.analyse(file, sources);
      },
    };
    const { analyses, texts, failures } = setUp(engine, { [RIG]: "rig", "/w/b.move.yaml": "b" });
    texts.open(URI, 1, "bad");
    const first = await analyses.whole(MOVE, "shown");
    assert.deepEqual(
      first.analysis.textFindings.map((finding) => finding.code),
      ["internal-error"],
    );
    assert.match(message(first), /a broken stage/);
    assert.equal(failures.length, 1);
    assert.equal(await analyses.whole(MOVE, "shown"), first);
    assert.equal(failures.length, 1);
    assert.equal(message(await analyses.whole("/w/b.move.yaml", "shown")), "b|rig");
    texts.change(URI, 2, [{ text: "good" }]);
    assert.equal(message(await analyses.whole(MOVE, "shown")), "good|rig");
  });
});
