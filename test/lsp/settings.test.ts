import assert from "node:assert/strict";
import { MessageType, type ShowMessageParams } from "vscode-languageserver-protocol";
import { SETTINGS } from "../../protocol/settings.ts";
import { readProjectFile } from "../architecture/project-files.ts";
import { MOVE, WORKSPACE } from "./documents.ts";
import { ABLE, startServer, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";

describe("settings over a connection", () => {
  let client: Client;
  const messages: ShowMessageParams[] = [];
  before(async () => {
    client = await startServer(WORKSPACE, ABLE);
    client.connection.onNotification("window/showMessage", (params: ShowMessageParams) => void messages.push(params));
    await client.open(PATH, MOVE);
  });
  after(async () => assert.equal(await client.stop(), 0));
  const set = async (movewright: unknown) => {
    await client.connection.sendNotification("workspace/didChangeConfiguration", { settings: { movewright } });
    // The answer comes after what the settings caused.
    await client.pull(PATH);
  };

  it("that can't be are told once each, and again when they were mended between", async () => {
    await set({ checkWorkspace: "no", inlayHint: { times: false } });
    assert.equal(messages.length, 2);
    assert.ok(messages.every(({ type }) => type === MessageType.Warning));
    assert.match(messages[0].message, /`movewright\.inlayHint\.times`.*Did you mean `movewright\.inlayHints\.times`/);
    assert.match(messages[1].message, /`movewright\.checkWorkspace` is `"no"`/);
    await set({ checkWorkspace: "no", inlayHint: { times: false } });
    assert.equal(messages.length, 2);
    await set({ checkWorkspace: true });
    await set({ checkWorkspace: "no" });
    assert.equal(messages.length, 3);
    await set({});
  });

  it("limit the problems of a document: the gravest are kept, and one says how many are not shown", async () => {
    const wrong = Array.from({ length: 30 }, (_, idx) => `wrong-${idx}: 1`).join("\n");
    await client.open("kit/many.rig.yaml", `rig: 1\n${wrong}\n`);
    const all = await client.pull("kit/many.rig.yaml");
    assert.ok(all.kind === "full" && all.items.length > 30);
    await set({ problems: { limit: 10 } });
    const few = await client.pull("kit/many.rig.yaml");
    assert.ok(few.kind === "full");
    assert.equal(few.items.length, 11);
    assert.equal(
      few.items[10].message,
      `${all.items.length - 10} more findings are not shown here; \`movewright check\` lists all.`,
    );
    const gravest = all.items.map(({ severity }) => severity!).sort((one, other) => one - other);
    assert.deepEqual(
      few.items.slice(0, 10).map(({ severity }) => severity),
      gravest.slice(0, 10),
    );
    await set({});
  });

  it("are those that package.json offers", () => {
    const { properties } = JSON.parse(readProjectFile("package.json")).contributes.configuration;
    assert.deepEqual(
      Object.keys(properties),
      Object.keys(SETTINGS).map((name) => `movewright.${name}`),
    );
    for (const [name, row] of Object.entries(SETTINGS)) {
      assert.equal(properties[`movewright.${name}`].default, row.default, name);
    }
  });
});
