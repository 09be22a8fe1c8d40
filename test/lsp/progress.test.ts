import assert from "node:assert/strict";
import type {
  ClientCapabilities,
  WorkDoneProgressBegin,
  WorkDoneProgressEnd,
  WorkDoneProgressReport,
  WorkspaceDiagnosticReport,
} from "vscode-languageserver-protocol";
import type { CheckWorkspaceResult } from "../../protocol/requests.ts";
import { WORKSPACE } from "./documents.ts";
import { ABLE, PUSHED, startServer, type Client } from "./harness.ts";
import { longMove } from "./long-move.ts";

const SHOWS: ClientCapabilities = { window: { workDoneProgress: true } };
const MOVES = 5;
/** Shown at once: how long the check takes is the machine's business. */
const AT_ONCE = { progressAfter: 0 };
const MANY = {
  ...WORKSPACE,
  ...Object.fromEntries(
    Array.from({ length: MOVES }, (_, idx) => [
      `many/m${idx}.move.yaml`,
      longMove(50 + idx).replace("set: ", "set: ../moves/"),
    ]),
  ),
};
const ALL = Object.keys(MANY).length;

type Told = WorkDoneProgressBegin | WorkDoneProgressReport | WorkDoneProgressEnd;

/** A client that notes all progress, by token. */
async function watching(files: Readonly<Record<string, string>>, capabilities: ClientCapabilities) {
  const client = await startServer(files, capabilities, AT_ONCE);
  const created: (string | number)[] = [];
  const told: { token: string | number; value: Told }[] = [];
  let wake: (() => void)[] = [];
  client.connection.onRequest("window/workDoneProgress/create", ({ token }: { token: string }) => {
    created.push(token);
    return null;
  });
  client.connection.onNotification("$/progress", (params: { token: string; value: Told }) => {
    told.push(params);
    const woken = wake;
    wake = [];
    for (const each of woken) each();
  });
  const next = () => new Promise<void>((resolve) => wake.push(resolve));
  const until = async (kind: Told["kind"], count = 1) => {
    while (told.filter(({ value }) => value.kind === kind).length < count) await next();
  };
  const pull = (more: object = {}) =>
    client.connection.sendRequest<WorkspaceDiagnosticReport>("workspace/diagnostic", {
      previousResultIds: [],
      ...more,
    });
  const check = () => client.connection.sendRequest<CheckWorkspaceResult>("movewright/checkWorkspace", {});
  const cancel = (token: string | number) =>
    client.connection.sendNotification("window/workDoneProgress/cancel", { token });
  return { client, created, told, until, pull, check, cancel };
}

/** A begin, reports that go on, and an end, of all documents. */
function assertWhole(told: readonly { token: string | number; value: Told }[], token: string | number): void {
  assert.ok(told.every((each) => each.token === token));
  const values = told.map(({ value }) => value);
  const [begin] = values;
  assert.ok(begin.kind === "begin" && begin.title === "Checking moves" && begin.cancellable === true);
  assert.deepEqual(new Set(values.slice(1, -1).map(({ kind }) => kind)), new Set(["report"]));
  assert.equal(values.at(-1)!.kind, "end");
  const counts = values.map(({ message }) => {
    if (message === undefined) return 0;
    const match = /^(\d+) of (\d+)$/.exec(message);
    assert.ok(match && Number(match[2]) === ALL, message);
    return Number(match[1]);
  });
  const shares = values.slice(0, -1).map((value) => (value.kind === "end" ? 0 : value.percentage!));
  shares.forEach((share, idx) => assert.equal(share, Math.floor((100 * counts[idx]) / ALL)));
  assert.deepEqual(
    counts,
    [...counts].sort((one, other) => one - other),
  );
  assert.equal(counts.at(-1), ALL);
}

describe("progress of the check of the workspace", () => {
  const clients: Client[] = [];
  const watch = async (...args: Parameters<typeof watching>) => {
    const watched = await watching(...args);
    clients.push(watched.client);
    return watched;
  };
  afterEach(async () => {
    for (const client of clients.splice(0)) assert.equal(await client.stop(), 0);
  });

  it("is shown while a pull takes long, by documents, and ends", async () => {
    const { created, told, pull } = await watch(MANY, { ...ABLE, ...SHOWS });
    const { items } = await pull();
    assert.equal(items.length, ALL);
    assert.equal(created.length, 1);
    assertWhole(told, created[0]);
    await pull();
    assert.equal(created.length, 1, "what is known already takes no time");
  });

  it("goes to the token of the request, where it has one", async () => {
    const { created, told, pull } = await watch(MANY, { ...ABLE, ...SHOWS });
    await pull({ workDoneToken: "mine" });
    assert.deepEqual(created, []);
    assertWhole(told, "mine");
  });

  it("stops the check when it is cancelled, until it is asked for again or something changes", async () => {
    const { client, created, told, until, pull, check, cancel } = await watch(MANY, { ...ABLE, ...SHOWS });
    const first = pull();
    await until("begin");
    await cancel(created[0]);
    const { items } = await first;
    assert.ok(items.length < ALL, `${items.length} of ${ALL} after it was stopped`);
    await until("end");
    const again = await pull();
    assert.ok(again.items.length < ALL && items.length <= again.items.length);
    assert.equal(created.length, 1);
    const found = await check();
    assert.deepEqual(found, { documents: ALL, of: ALL, errors: 0, warnings: 0, informations: 0, stopped: false });
    assert.equal((await pull()).items.length, ALL);

    const rig = WORKSPACE["kit/slider.rig.yaml"];
    await client.open("kit/slider.rig.yaml", rig);
    await client.change("kit/slider.rig.yaml", rig.replace("[-0.6, 0.6]", "[-0.7, 0.7]"), 2);
    const second = pull();
    await until("begin", created.length + 1);
    await cancel(created.at(-1)!);
    assert.ok((await second).items.length < ALL - 1);
    await client.change("kit/slider.rig.yaml", rig.replace("[-0.6, 0.6]", "[-0.8, 0.8]"), 3);
    assert.equal((await pull()).items.length, ALL - 1);
    assert.ok(told.length > 0);
  });

  it("is not shown to a client that shows none", async () => {
    const { created, told, pull } = await watch(MANY, ABLE);
    await pull();
    assert.deepEqual([created, told], [[], []]);
  });

  it("is shown to clients that are pushed to, which can stop it too", async () => {
    const { created, until, cancel, check } = await watch(MANY, { ...PUSHED, ...SHOWS });
    await until("begin");
    await cancel(created[0]);
    await until("end");
    const { documents, stopped } = await check();
    assert.deepEqual([documents, stopped], [ALL, false]);
  });
});
