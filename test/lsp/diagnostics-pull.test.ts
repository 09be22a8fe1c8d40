import assert from "node:assert/strict";
import type { Diagnostic, WorkspaceDiagnosticReport } from "vscode-languageserver-protocol";
import { MOVE, RIG, SET, WORKSPACE } from "./documents.ts";
import { codes, startServer, textIn, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";

/** 0.6 m in 1.5 s, from rest to rest: 15/8 · 0.6/1.5 = 0.75 m/s at the middle, of 0.4 m/s. */
const FAST = MOVE.replace("at: 4 s", "at: 1.5 s");

describe("diagnostics by pull", () => {
  let client: Client;
  let version = 1;
  before(async () => {
    client = await startServer(WORKSPACE);
    await client.open(PATH, MOVE, version);
  });
  after(async () => assert.equal(await client.stop(), 0));
  const edit = (text: string) => client.change(PATH, text, (version += 1));

  it("are declared, for documents and the workspace, with UTF-16 positions", () => {
    const { capabilities } = client.initialized;
    assert.equal(capabilities.positionEncoding, "utf-16");
    const provider = capabilities.diagnosticProvider as {
      interFileDependencies: boolean;
      workspaceDiagnostics: boolean;
    };
    assert.equal(provider.interFileDependencies, true);
    assert.equal(provider.workspaceDiagnostics, true);
  });

  it("are none for a move that passes, and nothing is pushed beside", async () => {
    await edit(MOVE);
    assert.deepEqual(await client.pullUntil(PATH, (items) => items.length === 0), []);
    assert.deepEqual(client.published, []);
  });

  it("answer `unchanged` while nothing changed, and for a text that was typed back", async () => {
    await edit(MOVE);
    await client.pullUntil(PATH, (items) => items.length === 0);
    // The first answer may be of the text alone; the second is whole.
    const first = await settled(client, PATH);
    const again = await client.pull(PATH, first.resultId);
    assert.equal(again.kind, "unchanged");
    await edit(`${MOVE}# a remark\n`);
    assert.equal((await client.pull(PATH, first.resultId)).kind, "full");
    await edit(MOVE);
    await settled(client, PATH);
    assert.equal((await client.pull(PATH, first.resultId)).kind, "unchanged");
  });

  it("hold one for each violation span, at the key, with limit and keys as related places", async () => {
    await edit(FAST);
    const items = await client.pullUntil(PATH, (found) => found.some(({ code }) => code === "axis-speed"));
    const speed = items.filter(({ code, message }) => code === "axis-speed" && message.includes("slide"));
    assert.equal(speed.length, 1);
    const [found] = speed;
    assert.equal(found.severity, 1);
    assert.equal(found.source, "movewright");
    assert.match(found.message, /0\.75 m\/s/);
    assert.match(found.message, /0\.4 m\/s/);
    assert.equal(textIn(FAST, found.range), "-0.3");
    const related = (found.relatedInformation ?? []).map(({ location }) => location);
    const limit = related.find(({ uri }) => uri === client.uri("kit/slider.rig.yaml"));
    assert.ok(limit, "the limit's own field is related");
    assert.match(textIn(RIG, limit.range), /0\.4/);
    assert.ok(related.filter(({ uri }) => uri === client.uri(PATH)).length >= 2, "both keys are related");
  });

  it("come for the text while the motion can't be solved", async () => {
    await edit(MOVE.replace("aim: { at: lid", "aim: { at: lit"));
    const items = await client.pullUntil(PATH, (found) => found.length > 0);
    assert.deepEqual(codes(items), ["unknown-target"]);
    assert.equal(textIn(MOVE.replace("at: lid", "at: lit"), items[0].range), "lit");
  });

  it("change when a rig that is not open changes on disk", async () => {
    await edit(MOVE);
    await client.pullUntil(PATH, (items) => items.length === 0);
    const before = client.refreshes();
    client.write("kit/slider.rig.yaml", RIG.replace("speed: 0.4", "speed: 0.2"));
    await client.watched("kit/slider.rig.yaml", 2);
    await client.until("a refresh", () => client.refreshes() > before);
    const items = await client.pullUntil(PATH, (found) => found.length > 0);
    assert.deepEqual(codes(items), ["axis-speed"]);
    client.write("kit/slider.rig.yaml", RIG);
    await client.watched("kit/slider.rig.yaml", 2);
    await client.pullUntil(PATH, (found) => found.length === 0);
  });

  it("ask for nothing when a file was saved without a change", async () => {
    await edit(MOVE);
    await settled(client, PATH);
    const before = client.refreshes();
    await client.watched("kit/slider.rig.yaml", 2);
    await client.pull(PATH);
    await new Promise((resolve) => setTimeout(resolve, 200));
    assert.equal(client.refreshes(), before);
  });

  it("change when a set that is open is edited, saved or not", async () => {
    await edit(MOVE);
    await client.pullUntil(PATH, (items) => items.length === 0);
    await client.open("moves/table.set.yaml", SET);
    const before = client.refreshes();
    await client.change("moves/table.set.yaml", SET.replace("lid:", "lip:"), 2);
    await client.until("a refresh", () => client.refreshes() > before);
    const items = await client.pullUntil(PATH, (found) => found.length > 0);
    assert.deepEqual([...new Set(codes(items))], ["unknown-target"]);
    await client.close("moves/table.set.yaml");
    await client.pullUntil(PATH, (found) => found.length === 0);
  });

  it("say that a file is missing, until it appears", async () => {
    const text = MOVE.replace("table.set.yaml", "other.set.yaml");
    await edit(text);
    const items = await client.pullUntil(PATH, (found) => found.length > 0);
    assert.ok(codes(items).includes("missing-file"));
    client.write("moves/other.set.yaml", SET);
    await client.watched("moves/other.set.yaml", 1);
    await client.pullUntil(PATH, (found) => found.length === 0);
    client.remove("moves/other.set.yaml");
    await client.watched("moves/other.set.yaml", 3);
    await client.pullUntil(PATH, (found) => codes(found).includes("missing-file"));
  });

  it("are those of the last of many edits that come faster than answers", async () => {
    const texts = Array.from({ length: 20 }, (_, idx) => (idx % 2 === 0 ? FAST : MOVE.replace("lid:", "li:")));
    const pulls: Promise<unknown>[] = [];
    for (const text of texts) {
      await edit(text);
      pulls.push(client.pull(PATH));
    }
    await edit(MOVE);
    await Promise.all(pulls);
    assert.deepEqual(await settledItems(client, PATH), []);
  });

  it("of the workspace hold the documents that are not open", async () => {
    client.write("moves/fast.move.yaml", FAST);
    await client.watched("moves/fast.move.yaml", 1);
    const report = await workspacePull(client, []);
    const byUri = new Map(report.items.map((item) => [item.uri, item]));
    assert.equal(byUri.has(client.uri(PATH)), false);
    const fast = byUri.get(client.uri("moves/fast.move.yaml"));
    assert.ok(fast?.kind === "full" && codes(fast.items).includes("axis-speed"));
    const rig = byUri.get(client.uri("kit/slider.rig.yaml"));
    assert.ok(rig?.kind === "full" && rig.items.length === 0);
    const previous = report.items.map(({ uri, ...item }) => ({ uri, value: String(item.resultId) }));
    const second = await workspacePull(client, previous);
    assert.deepEqual(new Set(second.items.map(({ kind }) => kind)), new Set(["unchanged"]));
    client.remove("moves/fast.move.yaml");
    await client.watched("moves/fast.move.yaml", 3);
    const third = await workspacePull(client, previous);
    const gone = third.items.find(({ uri }) => uri === client.uri("moves/fast.move.yaml"));
    assert.ok(gone?.kind === "full" && gone.items.length === 0);
  });

  it("of the workspace wait for a change where the client takes parts", async () => {
    const report = await workspacePull(client, []);
    const previous = report.items.map(({ uri, ...item }) => ({ uri, value: String(item.resultId) }));
    const parts: string[] = [];
    client.connection.onNotification("$/progress", (params: { token: string; value: WorkspaceDiagnosticReport }) => {
      if (params.token === "parts") parts.push(...params.value.items.map(({ uri }) => uri));
    });
    let isOver = false;
    const held = client.connection
      .sendRequest("workspace/diagnostic", { previousResultIds: previous, partialResultToken: "parts" })
      .then(() => (isOver = true));
    await client.pull(PATH);
    await new Promise((resolve) => setTimeout(resolve, 300));
    assert.equal(isOver, false);
    client.write("kit/slider.rig.yaml", `${RIG}# a remark\n`);
    await client.watched("kit/slider.rig.yaml", 2);
    await held;
    assert.ok(parts.includes(client.uri("kit/slider.rig.yaml")));
    client.write("kit/slider.rig.yaml", RIG);
    await client.watched("kit/slider.rig.yaml", 2);
  });
});

/** The report once the motion is in it too. */
async function settled(client: Client, path: string): Promise<{ resultId: string; items: readonly Diagnostic[] }> {
  for (let previous: string | undefined; ;) {
    const report = await client.pull(path);
    assert.ok(report.kind === "full" && report.resultId !== undefined);
    if (report.resultId === previous) return { resultId: report.resultId, items: report.items };
    previous = report.resultId;
    await new Promise((resolve) => setTimeout(resolve, 300));
  }
}

const settledItems = async (client: Client, path: string) => (await settled(client, path)).items;

function workspacePull(client: Client, previousResultIds: { uri: string; value: string }[]) {
  return client.connection.sendRequest<WorkspaceDiagnosticReport>("workspace/diagnostic", { previousResultIds });
}
