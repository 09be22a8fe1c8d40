import assert from "node:assert/strict";
import { MOVE, RIG, WORKSPACE } from "./documents.ts";
import { codes, PUSHED, startServer, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";
const FAST = MOVE.replace("at: 4 s", "at: 1.5 s");

describe("diagnostics by push, for a client that can't ask", () => {
  let client: Client;
  before(async () => (client = await startServer(WORKSPACE, PUSHED)));
  after(async () => assert.equal(await client.stop(), 0));
  const last = (path: string) => client.published.filter(({ uri }) => uri === client.uri(path)).at(-1);

  it("are not offered to be asked for", () => {
    assert.equal(client.initialized.capabilities.diagnosticProvider, undefined);
  });

  it("send the text's findings first and the motion's after, for the version they are of", async () => {
    const both = FAST.replace("rate: 25", "rate: 25\nratte: 25");
    await client.open(PATH, both, 7);
    await client.until("the motion's findings", () => codes(last(PATH)?.diagnostics ?? []).includes("axis-speed"));
    const sent = client.published.filter(({ uri }) => uri === client.uri(PATH));
    assert.deepEqual(codes(sent[0].diagnostics), ["unknown-field"]);
    assert.ok(sent.every(({ version }) => version === 7));
    assert.ok(codes(sent.at(-1)!.diagnostics).includes("unknown-field"));
  });

  it("never come for a version older than one sent before", async () => {
    for (let version = 8; version < 30; version += 1) await client.change(PATH, version % 2 ? MOVE : FAST, version);
    await client.change(PATH, MOVE, 30);
    await client.until("the last version's", () => last(PATH)?.version === 30 && last(PATH)?.diagnostics.length === 0);
    const versions = client.published.filter(({ uri }) => uri === client.uri(PATH)).map(({ version }) => version ?? 0);
    assert.deepEqual(
      versions,
      [...versions].sort((one, other) => one - other),
    );
  });

  it("follow a rig that changes on disk", async () => {
    client.write("kit/slider.rig.yaml", RIG.replace("speed: 0.4", "speed: 0.2"));
    await client.watched("kit/slider.rig.yaml", 2);
    await client.until("the finding", () => codes(last(PATH)?.diagnostics ?? []).includes("axis-speed"));
  });

  it("follow a config that appears, changes and goes, and a config has its own", async () => {
    const path = "moves/movewright.config.yaml";
    const config = (severity: string) => `config: 1\nseverity: { axis-speed: ${severity} }\n`;
    const speed = () => last(PATH)?.diagnostics.find(({ code }) => code === "axis-speed")?.severity;
    client.write(path, config("hint"));
    await client.watched(path, 1);
    await client.until("a hint", () => speed() === 4);
    await client.open(path, config("warning"), 1);
    await client.until("a warning", () => speed() === 2);
    await client.change(path, config("lound"), 2);
    await client.until("its own finding", () => codes(last(path)?.diagnostics ?? []).includes("wrong-type"));
    await client.until("an error", () => speed() === 1);
    await client.close(path);
    await client.until("a hint again", () => speed() === 4);
  });

  it("are still those of the file when its document is closed, and are sent once", async () => {
    const before = client.published.filter(({ uri }) => uri === client.uri(PATH)).length;
    assert.deepEqual(codes(last(PATH)!.diagnostics), ["axis-speed"]);
    await client.close(PATH);
    await client.open("moves/other.move.yaml", FAST);
    await client.until("those of the other", () => codes(last("moves/other.move.yaml")?.diagnostics ?? []).length > 0);
    await new Promise((resolve) => setTimeout(resolve, 500));
    assert.equal(client.published.filter(({ uri }) => uri === client.uri(PATH)).length, before);
  });

  it("are cleared when a document is closed that is no file", async () => {
    await client.close("moves/other.move.yaml");
    await client.until("an empty list", () => last("moves/other.move.yaml")?.diagnostics.length === 0);
  });
});
