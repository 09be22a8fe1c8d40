import assert from "node:assert/strict";
import type { CodeAction, Diagnostic, Range, TextEdit } from "vscode-languageserver-protocol";
import { MOVE, WORKSPACE } from "./documents.ts";
import { ABLE, at, codes, offsetAt, startServer, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";
const FAST = MOVE.replace("at: 4 s", "at: 1.5 s # quick");
/** Least-jerk speed, 15/8 d/T (Flash & Hogan 1985): at the slide's 0.4 m/s over 0.6 m. */
const NEEDED = (15 / 8) * (0.6 / 0.4);

/** Keys to and fro, `count` of them, each way in `way`. */
const manyKeys = (count: number, way: string): string =>
  MOVE.slice(0, MOVE.indexOf("keys:")) +
  "keys:\n" +
  Array.from(
    { length: count },
    (_, i) =>
      `  - { ${i === 0 ? "at: 0 s" : `after: ${way}`}, axes: { slide: ${i % 2 === 0 ? 0.2 : -0.2}, pan: 0, tilt: 0, plate: 0 }, stop: true }\n`,
  ).join("");

describe("retiming in the editor", () => {
  let client: Client;
  let version = 1;
  before(async () => {
    client = await startServer(WORKSPACE);
    await client.open(PATH, MOVE);
  });
  after(async () => assert.equal(await client.stop(), 0));

  const show = async (text: string): Promise<void> => client.change(PATH, text, (version += 1));
  const ask = (range: Range, only?: string[], from = client): Promise<CodeAction[]> =>
    from.connection.sendRequest<CodeAction[]>("textDocument/codeAction", {
      textDocument: { uri: from.uri(PATH) },
      range,
      context: { diagnostics: [], ...(only ? { only } : {}) },
    });
  const resolve = (action: CodeAction): Promise<CodeAction> =>
    client.connection.sendRequest<CodeAction>("codeAction/resolve", action);
  const applied = (text: string, action: CodeAction, from = client): string => {
    const uri = from.uri(PATH);
    assert.deepEqual(Object.keys(action.edit?.changes ?? {}), [uri], `${action.title}: one document, so one undo`);
    const edits: TextEdit[] = [...action.edit!.changes![uri]];
    edits.sort((one, other) => offsetAt(text, other.range.start) - offsetAt(text, one.range.start));
    return edits.reduce(
      (now, { range, newText }) =>
        now.slice(0, offsetAt(text, range.start)) + newText + now.slice(offsetAt(text, range.end)),
      text,
    );
  };
  const onKeys = (text: string): Range => ({ start: at(text, "keys:"), end: at(text, "keys:", 2) });
  const titled = (actions: readonly CodeAction[], title: RegExp): CodeAction => {
    const found = actions.find((each) => title.test(each.title));
    assert.ok(found, `${String(title)} among ${actions.map((each) => each.title).join("; ")}`);
    return found;
  };
  /** No error is left once the text stands so. */
  const assertSound = async (text: string): Promise<void> => {
    await show(text);
    const isError = ({ severity }: Diagnostic): boolean => severity === 1;
    const items = await client.pullUntil(PATH, (found) => !codes(found).includes("axis-speed"));
    assert.deepEqual(items.filter(isError), []);
  };

  const atFinding = async (text: string): Promise<Range> => {
    await show(text);
    const items = await client.pullUntil(PATH, (found) => codes(found).includes("axis-speed"));
    return items.find(({ code }) => code === "axis-speed")!.range;
  };

  it("stretches the whole move at a finding, its rests too, and the comment stays", async () => {
    const actions = await ask(await atFinding(FAST), ["quickfix"]);
    const action = titled(actions, /^Stretch the whole move from 3\.5 s to 6\.56\d* s/);
    assert.equal(action.kind, "quickfix");
    assert.ok(action.diagnostics?.some(({ code }) => code === "axis-speed"));
    const text = applied(FAST, await resolve(action));
    // 1.5 s and 2 s times 2.8125 / 1.5.
    assert.equal(text, FAST.replace("1.5 s", "2.8125 s").replace("after: 2 s", "after: 3.75 s"));
    await assertSound(text);
  });

  it("fits every segment at a finding, and leaves the rest as long as it is", async () => {
    const actions = await ask(await atFinding(FAST), ["quickfix"]);
    const text = applied(FAST, await resolve(titled(actions, /^Fit every segment/)));
    const way = Number(/at: ([\d.]+) s # quick/.exec(text)?.[1]);
    assert.ok(NEEDED <= way + 1e-9 && way <= NEEDED * 1.01, `${way} s`);
    assert.equal(text, FAST.replace("1.5 s", `${way} s`));
    await assertSound(text);
  });

  it("offers each way on the name of the keys, with what it comes to", async () => {
    await show(MOVE);
    await client.pullUntil(PATH, (found) => !codes(found).includes("axis-speed"));
    const named = async (): Promise<CodeAction[]> => {
      // What is not known in time is there when it is asked again.
      for (;;) {
        const actions = await ask(onKeys(MOVE), ["refactor"]);
        if (actions.some(({ title }) => title.includes("lower bound"))) return actions;
      }
    };
    const actions = await named();
    assert.ok(actions.every(({ kind }) => kind === "refactor.rewrite"));
    const whole = titled(actions, /^Retime the whole move by one factor: 6 s become 4\.21\d* s$/);
    assert.equal(
      applied(MOVE, await resolve(whole)),
      MOVE.replace("at: 4 s", "at: 2.8125 s").replace("after: 2 s", "after: 1.4063 s"),
    );
    titled(actions, /^Retime every segment to its limits: 6 s become 4\.8\d* s$/);
    const fastest = titled(
      actions,
      /^Retime the move as fast as it goes: 6 s become 4\.8\d* s \(lower bound \d\.\d+ s\)$/,
    );
    await assertSound(applied(MOVE, await resolve(fastest)));
    const elsewhere = await ask({ start: at(MOVE, "title"), end: at(MOVE, "title") });
    assert.deepEqual(
      elsewhere.filter(({ title }) => title.startsWith("Retime")),
      [],
    );
  });

  it("solves a long move only when it is asked for", async () => {
    const long = manyKeys(14, "3 s");
    await show(long);
    await client.pullUntil(PATH, (found) => !codes(found).includes("axis-speed"));
    const action = titled(await ask(onKeys(long), ["refactor.rewrite"]), /^Retime every segment to its limits$/);
    assert.equal(action.edit, undefined);
    const text = applied(long, await resolve(action));
    const ways = [...text.matchAll(/after: ([\d.]+) s/g)].map(([, way]) => Number(way));
    // 0.4 m at 0.4 m/s, 4 m/s2, 60 m/s3: 1.875 s from rest to rest.
    for (const way of ways) assert.ok(1.875 <= way && way <= 1.875 * 1.01, `${way} s`);
    assert.equal(ways.length, 13);
  });

  it("offers nothing that cannot be written, and makes no edit for a text that has changed", async () => {
    const shared = MOVE.replace("at: 4 s", "after: &t 4 s").replace("after: 2 s", "after: *t");
    await show(shared);
    await client.pullUntil(PATH, (found) => !codes(found).includes("axis-speed"));
    assert.deepEqual(
      (await ask(onKeys(shared))).filter(({ title }) => title.includes("whole move")),
      [],
    );
    await show(MOVE);
    await client.pullUntil(PATH, (found) => !codes(found).includes("axis-speed"));
    const action = titled(await ask(onKeys(MOVE)), /^Retime the whole move/);
    await show(MOVE.replace("at: 4 s", "at: 5 s"));
    assert.equal((await resolve(action)).edit, undefined);
  });

  it("makes the edits at once for an editor that does not ask again", async () => {
    const codeAction = { ...ABLE.textDocument?.codeAction, resolveSupport: undefined };
    const plain = await startServer(WORKSPACE, { ...ABLE, textDocument: { ...ABLE.textDocument, codeAction } });
    await plain.open(PATH, FAST);
    const items = await plain.pullUntil(PATH, (found) => codes(found).includes("axis-speed"));
    const { range } = items.find(({ code }) => code === "axis-speed")!;
    const action = titled(await ask(range, undefined, plain), /^Stretch the whole move/);
    assert.match(applied(FAST, action, plain), /at: 2\.8125 s # quick/);
    assert.equal(await plain.stop(), 0);
  });
});
