import assert from "node:assert/strict";
import {
  CancellationTokenSource,
  LSPErrorCodes,
  ResponseError,
  type Diagnostic,
  type WorkspaceDiagnosticReport,
} from "vscode-languageserver-protocol";
import { seededRandom } from "../../core/base/random.ts";
import { MOVE, MOVE_JSON, RIG, SET, WORKSPACE } from "./documents.ts";
import { ABLE, positionAt, PUSHED, startServer, type Client } from "./harness.ts";

const FILES: Readonly<Record<string, string>> = { ...WORKSPACE, "moves/back.move.json": MOVE_JSON };
/** Texts that each document goes through: sound, with findings of text and of motion, and broken. */
const VERSIONS: Readonly<Record<string, readonly string[]>> = {
  "kit/slider.rig.yaml": [
    RIG,
    RIG.replace("speed: 0.4", "speed: 0.2"),
    RIG.replace("axis: slide", "axis: slid"),
    "rig: 1\nchain: [",
  ],
  "moves/table.set.yaml": [SET, SET.replace("lid:", "lip:"), SET.replace("[2, 0, 1]", "[2.2, 0, 1.1]")],
  "moves/along.move.yaml": [
    MOVE,
    MOVE.replace("at: 4 s", "at: 1.5 s"),
    MOVE.slice(0, 300),
    MOVE.replace("lid", "lit"),
    "",
  ],
  "moves/back.move.json": [MOVE_JSON, MOVE_JSON.replace("4 s", "1.4 s"), MOVE_JSON.slice(0, 200)],
};
const PATHS = Object.keys(VERSIONS);

/** Requests that editors ask at any time. */
const REQUESTS: readonly (readonly [method: string, more: (text: string, offset: number) => object])[] = [
  ["textDocument/hover", (text, offset) => ({ position: positionAt(text, offset) })],
  ["textDocument/completion", (text, offset) => ({ position: positionAt(text, offset) })],
  ["textDocument/definition", (text, offset) => ({ position: positionAt(text, offset) })],
  [
    "textDocument/references",
    (text, offset) => ({ position: positionAt(text, offset), context: { includeDeclaration: true } }),
  ],
  ["textDocument/documentHighlight", (text, offset) => ({ position: positionAt(text, offset) })],
  ["textDocument/documentSymbol", () => ({})],
  ["textDocument/codeLens", () => ({})],
  ["textDocument/inlayHint", (text) => ({ range: { start: positionAt(text, 0), end: positionAt(text, text.length) } })],
  [
    "textDocument/codeAction",
    (text, offset) => ({
      range: { start: positionAt(text, offset), end: positionAt(text, offset) },
      context: { diagnostics: [] },
    }),
  ],
  ["textDocument/diagnostic", () => ({})],
  ["workspace/diagnostic", () => ({ previousResultIds: [] })],
  ["workspace/symbol", () => ({ query: "a" })],
  ["movewright/take", () => ({})],
  ["movewright/checkWorkspace", () => ({})],
];

const FINE: readonly number[] = [LSPErrorCodes.RequestCancelled, LSPErrorCodes.ContentModified];

/** What came of the requests of a schedule. */
interface Outcome {
  answered: number;
  cancelled: number;
  modified: number;
  readonly wrong: string[];
}

describe("requests, edits and cancels in any order", () => {
  for (const [seed, capabilities] of [
    [1, ABLE],
    [2, ABLE],
    [3, PUSHED],
  ] as const) {
    it(`seed ${seed}: each request is answered, and what is found in the end is what a new server finds`, async () => {
      const random = seededRandom(seed);
      const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)];
      const client = await startServer(FILES, capabilities);
      const open = new Map<string, { text: string; version: number }>();
      const saved: Record<string, string> = { ...FILES };
      const outcome: Outcome = { answered: 0, cancelled: 0, modified: 0, wrong: [] };
      const waiting: Promise<void>[] = [];

      const request = () => {
        const path = pick(PATHS);
        const text = open.get(path)?.text ?? saved[path];
        const [method, more] = pick(
          REQUESTS.filter(([name]) => capabilities === ABLE || !name.endsWith("/diagnostic")),
        );
        const source = new CancellationTokenSource();
        const uri = client.uri(path);
        const params = { textDocument: { uri }, uri, ...more(text, Math.floor(random() * (text.length + 1))) };
        waiting.push(
          client.connection.sendRequest(method, params, source.token).then(
            () => void (outcome.answered += 1),
            (error: unknown) => {
              const code = error instanceof ResponseError ? error.code : undefined;
              if (code === LSPErrorCodes.RequestCancelled) outcome.cancelled += 1;
              else if (code === LSPErrorCodes.ContentModified) outcome.modified += 1;
              if (code === undefined || !FINE.includes(code)) outcome.wrong.push(`${method}: ${String(error)}`);
            },
          ),
        );
        if (random() < 0.3) setTimeout(() => source.cancel(), Math.floor(random() * 30));
      };
      const edit = async () => {
        const path = pick(PATHS);
        const now = open.get(path);
        const text = pick(VERSIONS[path]);
        if (!now) {
          open.set(path, { text, version: 1 });
          await client.open(path, text);
        } else if (random() < 0.15) {
          open.delete(path);
          await client.close(path);
        } else {
          open.set(path, { text, version: now.version + 1 });
          await client.change(path, text, now.version + 1);
        }
      };
      const save = async () => {
        const path = pick(PATHS);
        saved[path] = pick(VERSIONS[path]);
        client.write(path, saved[path]);
        await client.watched(path, 2);
      };

      for (let step = 0; step < 150; step += 1) {
        const dice = random();
        if (dice < 0.55) request();
        else if (dice < 0.92) await edit();
        else await save();
        if (random() < 0.3) await new Promise((resolve) => setTimeout(resolve, Math.floor(random() * 20)));
      }
      await Promise.all(waiting);
      assert.deepEqual(outcome.wrong, []);
      assert.equal(outcome.answered + outcome.cancelled + outcome.modified, waiting.length);
      assert.ok(outcome.answered > 0 && outcome.cancelled > 0, JSON.stringify(outcome));

      const cold = await startServer(saved, capabilities);
      for (const [path, { text, version }] of open) await cold.open(path, text, version);
      const wanted = await found(cold, capabilities === ABLE, open);
      assert.deepEqual(await found(client, capabilities === ABLE, open, wanted), wanted);
      assert.ok(Object.values(wanted).some((messages) => messages.length > 0));
      for (const each of [client, cold]) assert.equal(await each.stop(), 0);
    });
  }
});

type Found = Readonly<Record<string, readonly string[]>>;

/** All findings by document, once they are whole; what is pushed is waited for until it is `wanted`. */
async function found(
  client: Client,
  pulls: boolean,
  open: ReadonlyMap<string, unknown>,
  wanted?: Found,
): Promise<Found> {
  const within = (uri: string) => uri.slice(client.uri("").length + 1);
  const said = (items: readonly Diagnostic[]) =>
    items.map(({ code, message, range }) => JSON.stringify([code, message, range]).replaceAll(client.folder, ""));
  // It answers when the motion of each is known.
  await client.connection.sendRequest("movewright/checkWorkspace", {});
  if (pulls) {
    const all: Record<string, string[]> = {};
    const { items } = await client.connection.sendRequest<WorkspaceDiagnosticReport>("workspace/diagnostic", {
      previousResultIds: [],
    });
    for (const item of items) if (item.kind === "full") all[within(item.uri)] = said(item.items);
    for (const path of open.keys()) {
      const report = await client.pull(path);
      all[path] = report.kind === "full" ? said(report.items) : [];
    }
    return sorted(all);
  }
  const pushed = (): Found => {
    const all: Record<string, string[]> = {};
    for (const { uri, diagnostics } of client.published) all[within(uri)] = said(diagnostics);
    return sorted(Object.fromEntries(Object.entries(all).filter(([, items]) => items.length > 0)));
  };
  if (!wanted) await new Promise((resolve) => setTimeout(resolve, 1500));
  const last = JSON.stringify(wanted);
  for (let round = 0; wanted && round < 100 && JSON.stringify(pushed()) !== last; round += 1) {
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  return pushed();
}

const sorted = (all: Readonly<Record<string, readonly string[]>>): Found =>
  Object.fromEntries(Object.entries(all).sort(([one], [other]) => (one < other ? -1 : 1)));
