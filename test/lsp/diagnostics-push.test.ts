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

  it("are cleared when the document is closed", async () => {
    await client.close(PATH);
    await client.until("an empty list", () => last(PATH)?.diagnostics.length === 0);
  });
});
