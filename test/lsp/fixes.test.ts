import assert from "node:assert/strict";
import type { CodeAction, Diagnostic, TextEdit } from "vscode-languageserver-protocol";
import { MOVE, MOVE_JSON, WORKSPACE } from "./documents.ts";
import { codes, offsetAt, startServer, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";
const TRIES = 20;

describe("quick fixes", () => {
  let client: Client;
  let version = 1;
  before(async () => {
    client = await startServer(WORKSPACE);
    await client.open(PATH, MOVE);
  });
  after(async () => assert.equal(await client.stop(), 0));

  const show = async (path: string, text: string) => {
    if (path !== PATH) await client.open(path, text, (version += 1));
    else await client.change(path, text, (version += 1));
  };
  const actionsFor = (path: string, diagnostic: Diagnostic) =>
    client.connection.sendRequest<CodeAction[]>("textDocument/codeAction", {
      textDocument: { uri: client.uri(path) },
      range: diagnostic.range,
      context: { diagnostics: [diagnostic] },
    });
  /** An editor asks again as the cursor moves: a search that takes longer than an answer may is there by then. */
  const offered = async (path: string, diagnostic: Diagnostic, title: RegExp) => {
    for (let tries = 1; ; tries++) {
      const actions = await actionsFor(path, diagnostic);
      const action = actions.find((each) => title.test(each.title));
      if (action || tries === TRIES) return { action, actions };
    }
  };
  const apply = (path: string, text: string, action: CodeAction): string => {
    const edits: TextEdit[] = action.edit?.changes?.[client.uri(path)] ?? [];
    assert.ok(edits.length > 0, `${action.title} has an edit`);
    const spans = edits.map(({ range, newText }) => ({
      from: offsetAt(text, range.start),
      to: offsetAt(text, range.end),
      newText,
    }));
    spans.sort((one, other) => other.from - one.from);
    return spans.reduce((now, { from, to, newText }) => now.slice(0, from) + newText + now.slice(to), text);
  };
  /** Waits for the finding, takes the action whose title begins so, resolved, and gives the text after it. */
  const fix = async (path: string, text: string, code: string, title: RegExp) => {
    await show(path, text);
    const items = await client.pullUntil(path, (found) => codes(found).includes(code));
    const diagnostic = items.find((each) => each.code === code);
    assert.ok(diagnostic);
    const { action, actions } = await offered(path, diagnostic, title);
    assert.ok(action, `${String(title)} among ${actions.map((each) => each.title).join("; ")}`);
    const resolved = action.edit
      ? action
      : await client.connection.sendRequest<CodeAction>("codeAction/resolve", action);
    return { action, text: apply(path, text, resolved) };
  };

  it("put the nearest name in the place of an unknown one", async () => {
    const { text } = await fix(PATH, MOVE.replace("focus: lid", "focus: lit"), "unknown-target", /lid/);
    assert.equal(text, MOVE);
  });

  it("put the nearest field in the place of an unknown one", async () => {
    const { text } = await fix(PATH, MOVE.replace("focus:", "fokus:"), "unknown-field", /focus/);
    assert.equal(text, MOVE);
  });

  /** Closed form: from rest to rest the slide's top speed is 15/8 · 0.6 m / T; at its limit of 0.4 m/s T is 2.8125 s. */
  const NEEDED = (15 / 8) * (0.6 / 0.4);

  it("stretch for a pass what is too fast in it alone", async () => {
    const passes = "passes: [{ name: near, targets: { lid: { shift: [-1.76, 0, 0] } } }]\n";
    const { action, text } = await fix(PATH, MOVE + passes, "axis-speed", /^Stretch/);
    assert.match(
      action.title,
      /from left to right from 4 s to [\d.]+ s: pan then reaches [\d.]+ deg\/s of [\d.]+ deg\/s/,
    );
    await show(PATH, text);
    const items = await client.pullUntil(PATH, (found) => !codes(found).includes("axis-speed"));
    assert.ok(!codes(items).includes("axis-speed"));
  });

  it("stretch an over-speed segment by what is needed, to 0.1 %, and the finding is gone", async () => {
    const fast = MOVE.replace("at: 4 s", "at: 1.5 s");
    const { action, text } = await fix(PATH, fast, "axis-speed", /^Stretch/);
    assert.equal(action.edit, undefined, "the edit is made only when it is asked for");
    assert.match(
      action.title,
      /from left to right from 1\.5 s to 2\.81\d* s: slide then reaches 0\.(4|3999\d*) m\/s of 0\.4 m\/s/,
    );
    const stretched = Number(/at: (2\.\d+) s/.exec(text)?.[1]);
    assert.ok(NEEDED <= stretched + 1e-9 && stretched <= NEEDED * 1.001, `${stretched} s for ${NEEDED} s`);
    assert.equal(text, fast.replace("at: 1.5 s", `at: ${stretched} s`));
    await show(PATH, text);
    const items = await client.pullUntil(PATH, (found) => !codes(found).includes("axis-speed"));
    assert.deepEqual(
      codes(items).filter((code) => code !== "near-limit"),
      [],
    );
  });

  it("move later keys along that are written from the beginning, and leave those written from the key before", async () => {
    const fast = MOVE.replace("at: 4 s", "at: 1.5 s") + "  - at: 5.5 s\n    axes: { slide: -0.3, plate: 30 }\n";
    const { text } = await fix(PATH, fast, "axis-speed", /^Stretch/);
    const times = [...text.matchAll(/(at|after): ([\d.]+) s/g)].map(
      ([, field, time]) => [field, Number(time)] as const,
    );
    const [, right, rest, last] = times;
    assert.deepEqual(rest, ["after", 2]);
    assert.ok(Math.abs(last[1] - right[1] - 4) < 1e-3, `${last[1]} after ${right[1]}`);
  });

  it("keep frames and timecode as they are written, rounded up to whole frames", async () => {
    // 2.8125 s are 70.3 frames at 25.
    const frames = await fix(PATH, MOVE.replace("at: 4 s", "at: 40 f"), "axis-speed", /^Stretch/);
    assert.match(frames.text, /at: 71 f/);
    const label = MOVE.replace("rate: 25", 'rate: 25\nstart: "01:00:00:00"').replace("at: 4 s", 'at: "01:00:01:15"');
    const labels = await fix(PATH, label, "axis-speed", /^Stretch/);
    assert.match(labels.text, /at: "01:00:02:21"/);
  });

  it("write the time that is written, not the time that is played", async () => {
    // Played at half speed, 1.5 s last 3 s; 0.75 s are too short.
    const slow = MOVE.replace("rate: 25", "rate: 25\nspeed: 50 %").replace("at: 4 s", "at: 0.75 s");
    const { text } = await fix(PATH, slow, "axis-speed", /^Stretch/);
    const stretched = Number(/at: (1\.\d+) s/.exec(text)?.[1]);
    assert.ok(NEEDED / 2 <= stretched + 1e-9 && stretched <= (NEEDED / 2) * 1.001, `${stretched} s`);
  });

  it("work in JSON and keep its quotes", async () => {
    const fast = MOVE_JSON.replace('"at": "4 s"', '"at": "1.5 s"');
    const { text } = await fix("moves/fast.move.json", fast, "axis-speed", /^Stretch/);
    assert.match(text, /"at": "2\.81\d* s"/);
    assert.equal(JSON.parse(text).keys.length, 2);
  });

  it("are not offered where no time would do", async () => {
    await show(PATH, MOVE.replaceAll("slide: -0.3", "slide: -0.7").replace("at: 4 s", "at: 9 s"));
    const items = await client.pullUntil(PATH, (found) => codes(found).includes("axis-range"));
    const diagnostic = items.find(({ code }) => code === "axis-range")!;
    const actions = await actionsFor(PATH, diagnostic);
    assert.deepEqual(
      actions.filter(({ title }) => title.startsWith("Stretch")),
      [],
    );
  });
});
