import assert from "node:assert/strict";
import { spawn, type ChildProcess } from "node:child_process";
import * as protocol from "vscode-languageserver-protocol";
import { LSP_METHODS, type MethodRow } from "../../server/lsp-methods.ts";
import { bundledServer } from "../support/bundled-server.ts";
import { rawClient, type RawClient } from "../support/raw-client.ts";
import { MOVE, RIG, WORKSPACE } from "./documents.ts";
import { ABLE, at } from "./harness.ts";

const CHANGE = "Change its row in server/lsp-methods.ts and run npm run generate.";
const METHOD_NOT_FOUND: number = protocol.ErrorCodes.MethodNotFound;
/** A client with everything that the server asks for. */
const EVERYTHING: protocol.ClientCapabilities = {
  ...ABLE,
  workspace: { ...ABLE.workspace, configuration: true, didChangeConfiguration: { dynamicRegistration: true } },
};

interface Row extends MethodRow {
  readonly method: string;
  readonly from: "client" | "server";
  readonly kind: "request" | "notification";
}
const ROWS: readonly Row[] = LSP_METHODS.flatMap(({ from, kind, rows }) =>
  Object.entries(rows).map(([method, row]) => ({ method, from, kind, ...row })),
);
const rowsOf = (from: Row["from"], kind: Row["kind"]) => ROWS.filter((row) => row.from === from && row.kind === kind);
const named = (rows: readonly Row[]) => rows.map(({ method, from, kind }) => `${kind} ${method} of the ${from}`).sort();

describe("the feature matrix", () => {
  const started: ChildProcess[] = [];
  let able: Met;
  let plain: Met;
  before(async () => {
    [able, plain] = await Promise.all([EVERYTHING, {}].map((capabilities) => meet(capabilities, started)));
  });
  after(() => started.forEach((child) => child.kill()));

  it("has a row for each method of the protocol, and no other", () => {
    assert.deepEqual(named(ROWS), protocolMethods());
  });

  it("says of each method what the answer to initialize says", () => {
    for (const { method, offered, announced } of ROWS.filter((row) => row.announced !== "registered")) {
      if (announced === undefined) continue;
      const about = `${method}, ${announced}. ${CHANGE}`;
      assert.equal(Boolean(valueAt(able.capabilities, announced)), offered !== "no", `an able client: ${about}`);
      assert.equal(Boolean(valueAt(plain.capabilities, announced)), offered === "yes", `a plain client: ${about}`);
    }
  });

  it("leaves out nothing that the answer to initialize says", () => {
    const { textDocumentSync, workspace, positionEncoding, ...others } = able.capabilities;
    assert.equal(positionEncoding, "utf-16");
    const said = [
      ...Object.keys(others),
      ...Object.keys(textDocumentSync as object).map((key) => `textDocumentSync.${key}`),
      ...Object.keys(workspace as object).map((key) => `workspace.${key}`),
    ];
    const offered = ROWS.filter((row) => row.offered !== "no").map(({ announced }) => announced ?? "");
    const unknown = said.filter((key) => !offered.some((one) => one === key || one.startsWith(`${key}.`)));
    assert.deepEqual(unknown, [], CHANGE);
  });

  it("says of each request whether the server answers it", async () => {
    const uri = "file:///studio/moves/along.move.yaml";
    open(able.client, uri, MOVE);
    const position = at(MOVE, "lid");
    const anything = {
      ...{ textDocument: { uri }, position, positions: [position], range: { start: position, end: position } },
      ...{ context: { diagnostics: [], includeDeclaration: true, triggerKind: 1 }, previousResultIds: [] },
      ...{ query: "lid", newName: "cap", ch: "\n", options: { tabSize: 2, insertSpaces: true }, command: "none" },
      ...{ title: "none", label: "none", item: {}, files: [], arguments: [], ranges: [], color: {}, name: "none" },
    };
    for (const { method, offered } of rowsOf("client", "request")) {
      if (method === "initialize" || method === "shutdown") continue;
      const code = await able.client.ask(method, anything).then(
        () => undefined,
        (error: { code?: number }) => error.code,
      );
      assert.equal(code !== METHOD_NOT_FOUND, offered !== "no", `${method} ends with ${code}. ${CHANGE}`);
    }
  });

  it("says of each registration and of what the server sends whether it is made", async () => {
    const rig = "file:///studio/kit/slider.rig.yaml";
    for (const { client } of [able, plain]) {
      for (const [name, text] of Object.entries(WORKSPACE)) open(client, `file:///studio/${name}`, text);
      client.tell("textDocument/didChange", {
        textDocument: { uri: rig, version: 2 },
        contentChanges: [{ text: RIG.replace("speed: 0.4", "speed: 0.2") }],
      });
      await assert.rejects(client.ask("textDocument/hover", { textDocument: { uri: rig } }));
    }
    const previousResultIds = [{ uri: "file:///studio/gone.move.yaml", value: "1" }];
    await able.client.ask("workspace/diagnostic", { previousResultIds, partialResultToken: "parts" });
    const wanted = ROWS.filter((row) => row.from === "server" && row.offered !== "no");
    for (const { method } of wanted) {
      // Only a search that fails between its offer and its choice says the one, only a long check the other.
      if (["window/showMessage", "window/workDoneProgress/create"].includes(method)) continue;
      await Promise.any([able.client.told(method), plain.client.told(method)]);
    }
    const registered = await Promise.all(
      ["workspace/didChangeWatchedFiles", "workspace/didChangeConfiguration"].map((method) =>
        able.client.told<{ registrations: { method: string }[] }>("client/registerCapability", ({ registrations }) =>
          registrations.some((registration) => registration.method === method),
        ),
      ),
    );
    const made = registered.flatMap(({ registrations }) => registrations.map(({ method }) => method));
    const promised = ROWS.filter(({ announced, offered }) => announced === "registered" && offered !== "no");
    assert.deepEqual(made.sort(), promised.map(({ method }) => method).sort());
    for (const [met, allowed] of [[able, ["yes", "able"]] as const, [plain, ["yes"]] as const]) {
      const came = new Set(met.client.came.flatMap(({ method }) => (method === undefined ? [] : [method])));
      const unknown = [...came].filter((method) => {
        const row = ROWS.find((one) => one.from === "server" && one.method === method);
        return !method.startsWith("movewright/") && !allowed.some((one) => one === row?.offered);
      });
      assert.deepEqual(unknown, [], CHANGE);
    }
  });
});

interface Met {
  readonly client: RawClient;
  readonly capabilities: Readonly<Record<string, unknown>>;
}

async function meet(capabilities: protocol.ClientCapabilities, started: ChildProcess[]): Promise<Met> {
  const child = spawn(process.execPath, [await bundledServer("server/main-node.ts"), "--stdio"]);
  started.push(child);
  const client = rawClient(child.stdout, child.stdin);
  const params = { processId: process.pid, rootUri: "file:///studio", capabilities };
  const answer = await client.ask<{ capabilities: Record<string, unknown> }>("initialize", params);
  client.tell("initialized", {});
  return { client, capabilities: answer.capabilities };
}

function open(client: RawClient, uri: string, text: string): void {
  client.tell("textDocument/didOpen", { textDocument: { uri, languageId: "yaml", version: 1, text } });
}

function valueAt(tree: unknown, path: string): unknown {
  return path
    .split(".")
    .reduce((value, key) => (typeof value === "object" && value !== null ? Reflect.get(value, key) : undefined), tree);
}

/** Every method that the protocol's own package exports, named as `named` does. */
function protocolMethods(): string[] {
  // The package uses these two without exporting them; either side may send them.
  const base = ["$/cancelRequest", "$/progress"].flatMap((method) =>
    ["client", "server"].map((from) => `notification ${method} of the ${from}`),
  );
  const exported = Object.values<unknown>(protocol as Readonly<Record<string, unknown>>).flatMap((value) => {
    const type: unknown = valueAt(value, "type") ?? (typeof value === "function" ? Reflect.get(value, "type") : value);
    const method = valueAt(type, "method");
    const kind = /(Request|Notification)Type/.exec((type as object | undefined)?.constructor.name ?? "")?.[1];
    if (typeof method !== "string" || kind === undefined) return [];
    // Traces alone don't state it.
    const direction = valueAt(value, "messageDirection") ?? (method === "$/setTrace" ? "client" : "server");
    return [`${kind.toLowerCase()} ${method} of the ${String(direction).replace(/To.*/, "")}`];
  });
  return [...base, ...new Set(exported)].sort();
}
