import assert from "node:assert/strict";
import { pathToFileURL } from "node:url";
import type { ReviewedMove, ReviewHoverResult, ReviewParams, ReviewResult } from "../../protocol/review.ts";
import type { ReadRevisionParams, ReadRevisionResult } from "../../protocol/stage-ghost.ts";
import { MOVE, RIG, WORKSPACE } from "./documents.ts";
import { codes, startServer, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";
const SECOND = "moves/back.move.yaml";
const KIT = "kit/slider.rig.yaml";
const BASE = "1".repeat(40);
const LOCKED = "2".repeat(40);

const BACK = MOVE.replace("Along the table", "Back");
const FILES: Readonly<Record<string, string>> = { ...WORKSPACE, [SECOND]: BACK };
/** Half the time for the slide's 0.6 m: 15/8 · 0.6 m / 2 s = 0.56 m/s of 0.4 m/s. */
const HURRIED = MOVE.replace("at: 4 s", "at: 2 s");

describe("moves that are changed since a base", () => {
  let client: Client;
  let read: string[] = [];
  let told = 0;
  /** What the base has, in place of what stands in the folder when the server starts. */
  let then: Record<string, string | null> = {};
  const nameOf = (uri: string): string => uri.slice(pathToFileURL(client.folder).toString().length + 1);

  beforeEach(async () => {
    [then, read, told] = [{}, [], 0];
    client = await startServer(FILES);
    client.connection.onNotification("movewright/reviewChanged", () => void (told += 1));
    client.connection.onRequest("movewright/readRevision", (params: ReadRevisionParams): ReadRevisionResult => {
      const name = nameOf(params.uri);
      read.push(name);
      if (params.revision === LOCKED) throw new Error("The repository is locked.");
      const text = name in then ? then[name] : FILES[name];
      return text === null || text === undefined ? { state: "missing" } : { state: "text", text };
    });
  });
  afterEach(async () => assert.equal(await client.stop(), 0));

  const ask = (changed: readonly string[] = [], more: Partial<ReviewParams> & { readonly label?: string } = {}) => {
    const { label = "main", ...params } = more;
    const of = pathToFileURL(client.folder).toString();
    const question: ReviewParams = {
      base: { of, revision: BASE, label },
      changed: changed.map((name) => ({ uri: client.uri(name) })),
      marks: false,
      ...params,
    };
    return client.connection.sendRequest<ReviewResult>("movewright/review", question);
  };
  /** Asks as the editor does until all moves were looked at. */
  const asked = async (...question: Parameters<typeof ask>): Promise<readonly ReviewedMove[]> => {
    for (let tries = 0; tries < 60; tries += 1) {
      const { left, moves, problem } = await ask(...question);
      assert.equal(problem, undefined);
      if (left === 0) return moves;
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
    return assert.fail("Moves are still looked at.");
  };

  it("are none where nothing is changed, and nothing of the base is read for that", async () => {
    assert.deepEqual(await asked(), []);
    assert.deepEqual(read, []);
  });

  it("are told with their worst: a new error by the share of the limit", async () => {
    then = { [PATH]: MOVE };
    client.write(PATH, HURRIED);
    await client.watched(PATH, 2);
    const [move, ...others] = await asked([PATH]);
    assert.deepEqual(others, []);
    assert.equal(move.uri, client.uri(PATH));
    assert.deepEqual([move.title, move.state, move.level], ["Along the table", "both", "error"]);
    assert.match(move.worst, /^slide (speed|acceleration|jerk|accel) \d+ % → \d+ %/);
    assert.match(move.lines[0], /^new error: /);
    assert.ok(
      move.lines.some((line) => /^key right: /.test(line)),
      move.lines.join("\n"),
    );
    assert.ok(
      move.lines.some((line) => /^duration 6 s → 4 s$/.test(line)),
      move.lines.join("\n"),
    );
  });

  it("follow what is typed, unsaved, and only what is edited is looked at again", async () => {
    then = { [KIT]: RIG.replace("[0, 0, 0.9]", "[0, 0, 0.8]") };
    const both = await asked([KIT]);
    assert.deepEqual(both.map(({ title }) => title), ["Along the table", "Back"]);
    for (const { worst, lines } of both) {
      // The rig stands 0.1 m higher now.
      assert.match(worst, /^camera path up to/);
      assert.ok(lines.some((line) => /^camera path up to (9\d(\.\d)? mm|0\.10?\d* m) at/.test(line)), lines.join("\n"));
      assert.ok(lines.includes("changed by slider.rig.yaml"));
    }
    await client.open(PATH, MOVE);
    await asked([KIT]);
    read = [];
    const before = told;
    await client.change(PATH, HURRIED, 2);
    while (told === before) await new Promise((resolve) => setTimeout(resolve, 20));
    const after = await asked([KIT]);
    assert.deepEqual(after.map(({ level }) => level), ["error", "changed"]);
    assert.deepEqual(read, []);
  }); // prettier-ignore

  it("are not those that do what they did for all that was written, and are when their own text is another", async () => {
    then = { [KIT]: RIG.replace("rig: 1", "# heavy\nrig: 1") };
    assert.deepEqual(await asked([KIT]), []);
    then[PATH] = MOVE.replace("slide: 0.3,", "slide: 300 mm,");
    const [move, ...others] = await asked([KIT, PATH]);
    assert.deepEqual(others, []);
    assert.deepEqual([move.level, move.worst], ["same", "no motion change"]);
  });

  it("are those that came, went and were renamed", async () => {
    const old = "moves/old.move.yaml";
    then = { [PATH]: null, [old]: MOVE.replace("slide: 0.3,", "slide: 0.2,"), "moves/gone.move.yaml": BACK };
    const of = pathToFileURL(client.folder).toString();
    const changed = [{ uri: client.uri(PATH), was: client.uri(old) }, { uri: client.uri("moves/gone.move.yaml") }];
    then[SECOND] = null;
    const moves = await asked([], { base: { of, revision: BASE, label: "main" }, changed: [...changed, { uri: client.uri(SECOND) }] });
    const told = moves.map(({ uri, state, worst, was }) => [nameOf(uri), state, worst, was && nameOf(was)]);
    const [renamed] = told.splice(0, 1);
    assert.deepEqual([renamed[0], renamed[1], renamed[3]], [PATH, "both", old]);
    assert.match(renamed[2] ?? "", /→|up to/);
    assert.deepEqual(told, [
      [SECOND, "added", "added", undefined],
      ["moves/gone.move.yaml", "removed", "removed", undefined],
    ]);
  }); // prettier-ignore

  it("can't be told where the base can't be read: the reason is, and it is tried again at the next question", async () => {
    const of = pathToFileURL(client.folder).toString();
    const base = { of, revision: LOCKED, label: "v1" };
    const problemOf = async (): Promise<string | undefined> => {
      for (;;) {
        const { problem, left } = await ask([PATH], { base });
        if (problem !== undefined || left === 0) return problem;
      }
    };
    assert.match((await problemOf()) ?? "", /^The files of v1 can't be read\. .*The repository is locked\./);
    read = [];
    await problemOf();
    assert.ok(read.length > 0);
  });

  it("refuse a question that is none", async () => {
    await assert.rejects(client.connection.sendRequest("movewright/review", { base: "main" }));
    assert.ok(client.log.some((line) => line.includes("The question for a review is none")));
  });

  it("have findings that are marked as new where a person chose the base, under result ids of their own", async () => {
    // The base was too fast on its way already, and has no second way that is.
    then = { [PATH]: HURRIED };
    const worse = HURRIED.replace("- after: 2 s\n", "- after: 0.5 s\n").replace("name: rest\n    axes: { slide: -0.3", "name: rest\n    axes: { slide: 0.3");
    await client.open(PATH, worse);
    const first = await client.pullUntil(PATH, (items) => codes(items).includes("axis-speed"));
    assert.ok(first.every(({ message }) => !message.includes("new since")));
    const plain = await client.pull(PATH);
    await asked([]);
    assert.equal((await client.pull(PATH)).kind, "full");
    assert.deepEqual((await client.pull(PATH, plain.resultId)).kind, "unchanged");
    await asked([], { marks: true });
    const marked = await client.pullUntil(PATH, (items) => items.some(({ message }) => message.endsWith(" (new since main)")));
    const slides = marked.filter(({ code, message }) => code === "axis-speed" && message.startsWith("slide "));
    assert.deepEqual(codes(marked), codes(first));
    assert.ok(slides.some(({ message }) => !message.includes("new since")), slides.map(({ message }) => message).join("\n"));
    assert.ok(slides.some(({ message }) => message.includes("new since")));
    assert.equal((await client.pull(PATH, plain.resultId)).kind, "full");
    // Cures are of the diagnostics that are shown, word by word.
    const [one] = marked.filter(({ message }) => message.includes("new since"));
    const actions = await client.connection.sendRequest<{ diagnostics?: { message: string }[] }[]>("textDocument/codeAction", { textDocument: { uri: client.uri(PATH) }, range: one.range, context: { diagnostics: [one] } });
    assert.ok(actions.flatMap(({ diagnostics = [] }) => diagnostics).some(({ message }) => message === one.message));
    await client.connection.sendNotification("movewright/reviewDropped", { of: pathToFileURL(client.folder).toString() });
    await client.pullUntil(PATH, (items) => items.length > 0 && items.every(({ message }) => !message.includes("new since")));
    assert.equal((await client.pull(PATH, plain.resultId)).kind, "unchanged");
  }); // prettier-ignore

  it("tell old and new solved values at a key, from either side", async () => {
    then = { [PATH]: MOVE.replace("slide: -0.3, plate: 30 }\n  - after", "slide: -0.2, plate: 30 }\n  - after") };
    await client.open(PATH, MOVE);
    const hover = async (side: "before" | "after", line: number, quiet = false) => {
      const uri = client.uri(PATH);
      const params = { before: { uri, revision: BASE }, after: { uri }, side, position: { line, character: 8 }, labels: ["main", "now"], quiet };
      return (await client.connection.sendRequest<ReviewHoverResult>("movewright/reviewHover", params))?.markdown;
    };
    const line = MOVE.split("\n").findIndex((text) => text.includes("name: right"));
    for (const side of ["before", "after"] as const) {
      const text = (await hover(side, line)) ?? "";
      assert.match(text, /^\*\*right\*\*, main → now/);
      assert.match(text, /\| `slide` \| -0\.2 m \| -0\.3 m \|/);
      assert.match(text, /\| camera at \| \[/);
      assert.ok(!text.includes("`plate` |"), text);
    }
    const first = MOVE.split("\n").findIndex((text) => text.includes("name: left"));
    assert.match((await hover("after", first)) ?? "", /\| `slide` on the way on \| \d+ % of speed \| \d+ % of speed \|/);
    assert.equal(await hover("after", 1), undefined);
    then = {};
    await client.change(PATH, `# the same\n${MOVE}`, 2);
    assert.match((await hover("after", first + 1)) ?? "", /^\*\*left\*\*/);
  }); // prettier-ignore
});
