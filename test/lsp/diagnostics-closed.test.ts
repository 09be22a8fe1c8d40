import assert from "node:assert/strict";
import type { CheckWorkspaceResult } from "../../protocol/requests.ts";
import { MOVE, RIG, WORKSPACE } from "./documents.ts";
import { codes, PUSHED, startServer, type Client } from "./harness.ts";

const FAST = MOVE.replace("at: 4 s", "at: 1.5 s");
const settle = () => new Promise((resolve) => setTimeout(resolve, 800));

describe("diagnostics by push of documents that are not open", () => {
  let client: Client;
  before(async () => (client = await startServer({ ...WORKSPACE, "moves/fast.move.yaml": FAST }, PUSHED)));
  after(async () => assert.equal(await client.stop(), 0));
  const of = (path: string) => client.published.filter(({ uri }) => uri === client.uri(path));
  const found = (path: string) => codes(of(path).at(-1)?.diagnostics ?? []);
  const set = (movewright: object) =>
    client.connection.sendNotification("workspace/didChangeConfiguration", { settings: { movewright } });

  it("come by themselves, once each, and none for what nothing is found in", async () => {
    await client.until("the finding", () => found("moves/fast.move.yaml").includes("axis-speed"));
    await settle();
    assert.deepEqual(
      client.published.map(({ uri }) => uri),
      [client.uri("moves/fast.move.yaml")],
    );
    assert.equal(client.published[0].version, undefined);
  });

  it("come and go with files", async () => {
    client.write("moves/new.move.yaml", FAST);
    await client.watched("moves/new.move.yaml", 1);
    await client.until("those of a new file", () => found("moves/new.move.yaml").length > 0);
    client.remove("moves/new.move.yaml");
    await client.watched("moves/new.move.yaml", 3);
    await client.until("none", () => of("moves/new.move.yaml").at(-1)?.diagnostics.length === 0);
  });

  it("come once each when many files change at once", async () => {
    const paths = Array.from({ length: 25 }, (_, idx) => `burst/b${idx}.move.yaml`);
    for (const path of paths) client.write(path, FAST.replace("set: ", "set: ../moves/"));
    for (const path of paths) await client.watched(path, 1);
    await client.until("all", () => paths.every((path) => found(path).length > 0));
    await settle();
    assert.deepEqual(
      paths.map((path) => of(path).length),
      paths.map(() => 1),
    );
    for (const path of paths) client.write(path, MOVE.replace("set: ", "set: ../moves/"));
    for (const path of paths) await client.watched(path, 2);
    await client.until("none", () => paths.every((path) => of(path).at(-1)?.diagnostics.length === 0));
    await settle();
    assert.deepEqual(
      paths.map((path) => of(path).length),
      paths.map(() => 2),
    );
    for (const path of paths) client.remove(path);
    for (const path of paths) await client.watched(path, 3);
  });

  it("rest while a person types into what they use, and are those of the last text", async () => {
    await client.open("kit/slider.rig.yaml", RIG, 1);
    const before = of("moves/along.move.yaml").length;
    for (let version = 2; version < 40; version += 1) {
      const speed = version % 2 ? "0.2" : "0.1";
      await client.change("kit/slider.rig.yaml", RIG.replace("speed: 0.4", `speed: ${speed}`), version);
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    await client.until("the finding", () => found("moves/along.move.yaml").includes("axis-speed"));
    await settle();
    const sent = of("moves/along.move.yaml");
    assert.match(sent.at(-1)!.diagnostics[0].message, /0\.2 m\/s/);
    assert.ok(sent.length - before <= 4, `${sent.length - before} for 38 edits`);
    await client.close("kit/slider.rig.yaml");
    await client.until("none", () => sent.length > 0 && found("moves/along.move.yaml").length === 0);
  });

  it("are those of the file when a document is closed that was never saved", async () => {
    await client.open("moves/along.move.yaml", FAST);
    await client.until("those of the open text", () => found("moves/along.move.yaml").includes("axis-speed"));
    await client.close("moves/along.move.yaml");
    await client.until("none", () => found("moves/along.move.yaml").length === 0);
  });

  it("go when the setting is turned off, come when it is asked for, and when it is turned on", async () => {
    assert.ok(found("moves/fast.move.yaml").includes("axis-speed"));
    await set({ checkWorkspace: false });
    await client.until("none", () => found("moves/fast.move.yaml").length === 0);
    const counts = await client.connection.sendRequest<CheckWorkspaceResult>("movewright/checkWorkspace");
    const all = counts.errors + counts.warnings + counts.informations;
    assert.deepEqual([counts.documents, counts.of, counts.stopped], [5, 5, false]);
    assert.ok(counts.errors > 0);
    await client.until("them", () => found("moves/fast.move.yaml").length === all);
    await set({ checkWorkspace: false, problems: { limit: 20 } });
    await client.until("none", () => found("moves/fast.move.yaml").length === 0);
    await set({ checkWorkspace: true });
    await client.until("them", () => found("moves/fast.move.yaml").length === all);
  });
});
