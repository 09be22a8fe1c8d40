import assert from "node:assert/strict";
import type { Diagnostic, Location, WorkspaceEdit, WorkspaceSymbol } from "vscode-languageserver-protocol";
import { MOVE, RIG, WORKSPACE } from "./documents.ts";
import { ABLE, at, codes, PUSHED, startServer, type Client } from "./harness.ts";

/** 0.6 m in 1.5 s is too fast for the slide. */
const FAST = MOVE.replace("at: 4 s", "at: 1.5 s");
const PATH = "moves/along.move.yaml";
/** One job twice, as on a day before and after a change; they differ in how severe they take a finding. */
const FILES = {
  ...inFolder("monday", {
    ...WORKSPACE,
    [PATH]: FAST,
    "movewright.config.yaml": "config: 1\nseverity: { axis-speed: hint }\n",
  }),
  ...inFolder("tuesday", { ...WORKSPACE, [PATH]: FAST }),
};

function inFolder(folder: string, files: Readonly<Record<string, string>>): Record<string, string> {
  return Object.fromEntries(Object.entries(files).map(([path, text]) => [`${folder}/${path}`, text]));
}

/** Opens these folders of the job alone, and closes those. */
async function folders(client: Client, added: readonly string[], removed: readonly string[]): Promise<void> {
  const named = (names: readonly string[]) => names.map((name) => ({ uri: client.uri(name), name: name || "job" }));
  const event = { added: named(added), removed: named(removed) };
  await client.connection.sendNotification("workspace/didChangeWorkspaceFolders", { event });
}

describe("several folders at once", () => {
  let client: Client;
  before(async () => {
    client = await startServer(FILES, ABLE);
    await folders(client, ["monday", "tuesday"], [""]);
  });
  after(async () => assert.equal(await client.stop(), 0));
  const ask = <T>(method: string, path: string, more: object) =>
    client.connection.sendRequest<T>(method, { textDocument: { uri: client.uri(path) }, ...more });
  const workspace = async () => {
    const { items } = await client.connection.sendRequest<{ items: { uri: string; items?: Diagnostic[] }[] }>(
      "workspace/diagnostic",
      { previousResultIds: [] },
    );
    return new Map(items.map(({ uri, items: found = [] }) => [uri.slice(client.uri("").length + 1), found]));
  };
  const folderOf = (uri: string) => uri.slice(client.uri("").length + 1).split("/")[0];

  it("have findings of their own, each by its own config", async () => {
    const found = await workspace();
    const severity = (folder: string) =>
      found.get(`${folder}/${PATH}`)?.find(({ code }) => code === "axis-speed")?.severity;
    assert.deepEqual([severity("monday"), severity("tuesday")], [4, 1]);
    assert.equal(found.size, Object.keys(FILES).length);
  });

  it("have names of their own: references and new names stay within", async () => {
    for (const folder of ["monday", "tuesday"]) {
      await client.open(`${folder}/kit/slider.rig.yaml`, RIG);
      const position = at(RIG, "axis: slide", 7);
      const places = await ask<Location[]>("textDocument/references", `${folder}/kit/slider.rig.yaml`, {
        position,
        context: { includeDeclaration: true },
      });
      assert.deepEqual(new Set(places.map(({ uri }) => folderOf(uri))), new Set([folder]));
      assert.equal(places.length, 4);
      const edit = await ask<WorkspaceEdit>("textDocument/rename", `${folder}/kit/slider.rig.yaml`, {
        position,
        newName: "sledge",
      });
      assert.deepEqual(new Set(Object.keys(edit.changes ?? {}).map(folderOf)), new Set([folder]));
      await client.close(`${folder}/kit/slider.rig.yaml`);
    }
  });

  it("have symbols that lead to each of them", async () => {
    const symbols = await client.connection.sendRequest<WorkspaceSymbol[]>("workspace/symbol", {
      query: "axis: slide",
    });
    assert.deepEqual(symbols.map(({ location }) => folderOf(location.uri)).sort(), ["monday", "tuesday"]);
  });

  it("may refer to each other while both are open", async () => {
    const path = `monday/${PATH}`;
    const text = MOVE.replace("../kit/slider", "../../tuesday/kit/slider");
    await client.open(path, text);
    assert.deepEqual(await client.pullUntil(path, (items) => items.length === 0), []);
    await folders(client, [], ["tuesday"]);
    const items = await client.pullUntil(path, (found) => codes(found).includes("missing-file"));
    assert.match(items[0].message, /lies outside of what may be read here/);
    await folders(client, ["tuesday"], []);
    await client.pullUntil(path, (found) => found.length === 0);
    await client.close(path);
  });

  it("take their findings with them", async () => {
    await folders(client, [], ["monday"]);
    const left = await workspace();
    assert.deepEqual(new Set([...left.keys()].map((path) => path.split("/")[0])), new Set(["tuesday"]));
    await folders(client, ["monday"], []);
    assert.equal((await workspace()).size, Object.keys(FILES).length);
  });

  it("ask for diagnostics again when settings change, however many documents are open", async () => {
    await client.open(`tuesday/${PATH}`, FAST);
    await client.pullUntil(`tuesday/${PATH}`, (items) => items.length > 0);
    const before = client.refreshes();
    const settings = { movewright: { problems: { limit: 20 } } };
    await client.connection.sendNotification("workspace/didChangeConfiguration", { settings });
    await client.until("a refresh", () => client.refreshes() > before);
    await client.close(`tuesday/${PATH}`);
  });
});

describe("several folders, for a client that is pushed to", () => {
  it("bring and take their findings", async () => {
    const client = await startServer(FILES, PUSHED);
    const found = (folder: string) =>
      client.published.filter(({ uri }) => uri === client.uri(`${folder}/${PATH}`)).at(-1)?.diagnostics.length ?? 0;
    await folders(client, ["monday", "tuesday"], [""]);
    await client.until("those of both", () => found("monday") > 0 && found("tuesday") > 0);
    await folders(client, [], ["monday"]);
    await client.until("none of one", () => found("monday") === 0);
    assert.ok(found("tuesday") > 0);
    await folders(client, ["monday"], []);
    await client.until("those of both", () => found("monday") > 0);
    assert.equal(await client.stop(), 0);
  });
});
