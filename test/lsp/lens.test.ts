import assert from "node:assert/strict";
import type { CodeLens } from "vscode-languageserver-protocol";
import { CAMERA, MOVE, MOVE_JSON, RIG, SET, WORKSPACE } from "./documents.ts";
import { ABLE, startServer, textIn, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";
const RIG_PATH = "kit/slider.rig.yaml";
const COMMANDS = ["movewright.openStage", "movewright.playFrom", "movewright.showPlaces"];

/** Lenses of a document as a person sees them: resolved, with the line that they stand above. */
async function shown(
  client: Client,
  path: string,
): Promise<readonly { line: number; title: string; lens: CodeLens }[]> {
  const lenses = await client.connection.sendRequest<CodeLens[]>("textDocument/codeLens", {
    textDocument: { uri: client.uri(path) },
  });
  const resolve = async (lens: CodeLens): Promise<CodeLens> =>
    lens.command ? lens : client.connection.sendRequest<CodeLens>("codeLens/resolve", { ...lens });
  const resolved = await Promise.all(lenses.map(resolve));
  return resolved.map((lens) => ({ line: lens.range.start.line, title: lens.command!.title, lens }));
}

const titles = async (client: Client, path: string): Promise<string[]> =>
  (await shown(client, path)).map(({ line, title }) => `${line}: ${title}`);

describe("code lenses", () => {
  let client: Client;
  before(async () => (client = await startServer(WORKSPACE, ABLE, { commands: COMMANDS })));
  after(async () => assert.equal(await client.stop(), 0));

  /**
   * Of the move along the table: 15/8 · 0.6 m / 4 s = 0.28125 m/s of 0.4; 10/sqrt(3) · 0.6 / 4^2 = 0.2165 m/s2 of 4, first at
   * 4 s · (1/2 - sqrt(3)/6) = 0.845 s; the table turns 30 deg in 4 s: 60 · 30 / 4^3 = 28.1 deg/s3 of 300 at once, more
   * than the slide's 0.5625 of 60 and than pan's. The slide is 0.3 m from both its ends.
   */
  const PEAKS = "speed 70 % of 0.4 m/s (slide, 2 s), acceleration";

  it("open the stage, tell peaks and findings, and play from each key but the last", async () => {
    await client.open(PATH, MOVE);
    const lenses = await shown(client, PATH);
    assert.deepEqual(
      lenses.map(({ line, title }) => `${line}: ${title.split(":")[0]}`),
      ["0: Open stage", "0: 6 s", "0: no findings", "7: Play from here", "12: Play from here"],
    );
    const peaks = lenses[1].title;
    assert.ok(peaks.startsWith(`6 s: ${PEAKS}`), peaks);
    assert.match(peaks, /jerk 9 % of 300 deg\/s3 \(plate, 0 s\)/);
    assert.match(peaks, /range \S+ (m|deg) from its end -?\S+ (m|deg) \(\w+, \d/);
    assert.deepEqual(lenses[0].lens.command?.arguments, [client.uri(PATH)]);
    assert.deepEqual(
      lenses.slice(3).map(({ lens }) => [lens.command?.command, lens.command?.arguments]),
      [0, 4].map((time) => ["movewright.playFrom", [client.uri(PATH), time]]),
    );
  });

  it("are the same in JSON, one to play on each line", async () => {
    await client.open("moves/a.move.json", MOVE_JSON);
    const found = await titles(client, "moves/a.move.json");
    assert.ok(found[1].startsWith(`1: 4 s: ${PEAKS}`), found[1]);
    assert.deepEqual(found.slice(3), ["8: Play from here"]);
    await client.change("moves/a.move.json", MOVE_JSON.replace(/\s+/g, " "), 2);
    assert.deepEqual((await titles(client, "moves/a.move.json")).slice(3), ["0: Play from here"]);
    await client.close("moves/a.move.json");
  });

  it("count findings by severity and show them on a click", async () => {
    await client.change(PATH, MOVE.replace("at: 4 s", "at: 2 s"), 2);
    const lens = (await shown(client, PATH)).find(({ title }) => /error/.test(title));
    // Twice as fast: 0.5625 m/s of 0.4.
    assert.match(lens?.title ?? "", /^1 error/);
    assert.equal(lens?.lens.command?.command, "movewright.showPlaces");
    const [uri, at, places] = lens?.lens.command?.arguments as [string, object, { uri: string }[]];
    assert.equal(uri, client.uri(PATH));
    assert.deepEqual(at, { line: 0, character: 0 });
    assert.equal(places[0].uri, client.uri(PATH));
    await client.change(PATH, MOVE, 3);
  });

  it("keep what was solved last while the text is broken, and say so", async () => {
    await titles(client, PATH);
    await client.change(PATH, MOVE.replace("rig: ../kit/slider.rig.yaml", "rig: ["), 4);
    const found = await titles(client, PATH);
    assert.ok(
      found.some((title) => /6 s in the last text that could be solved: speed 70 %/.test(title)),
      found.join(),
    );
    assert.ok(
      found.some((title) => /: \d+ errors?/.test(title)),
      found.join(),
    );
    await client.change(PATH, MOVE, 5);
  });

  it("say on a rig, a camera and a set who uses them, and on an axis who needs it most", async () => {
    await titles(client, PATH);
    for (const [path, text, what] of [
      [RIG_PATH, RIG, "rig: ../kit/slider.rig.yaml"],
      ["kit/a.camera.yaml", CAMERA, "use: ../kit/a.camera.yaml"],
      ["moves/table.set.yaml", SET, "set: table.set.yaml"],
    ]) {
      await client.open(path, text);
      const [use] = await shown(client, path);
      assert.equal(use.title, "Used by 1 move, no errors in it");
      const [, , places] = use.lens.command?.arguments as [string, object, { uri: string; range: CodeLens["range"] }[]];
      assert.deepEqual(
        places.map(({ uri, range }) => [uri, textIn(MOVE, range)]),
        [[client.uri(PATH), what.split(": ")[1]]],
      );
    }
    const axes = await titles(client, RIG_PATH);
    assert.equal(axes[1], "3: Most used by Along the table: 70 % of speed, at 2 s");
    assert.equal(axes.length, 4);
    assert.match((await titles(client, "moves/table.set.yaml"))[1], /^5: Most used by Along the table: \d+ % of /);
  });

  it("say of an axis that stays in the middle of its range that it rests", async () => {
    await client.open(PATH, MOVE.replaceAll(/slide: -?0.3/g, "slide: 0"));
    await shown(client, PATH);
    assert.equal((await titles(client, RIG_PATH))[1], "3: Rests in the move that is checked");
    await client.open(PATH, MOVE);
    await shown(client, PATH);
  });

  it("ask to be drawn again when a move that uses the document was checked", async () => {
    await titles(client, RIG_PATH);
    const before = client.lensRefreshes();
    await client.change(PATH, MOVE.replace("at: 4 s", "at: 2 s"), 6);
    await titles(client, PATH);
    await client.until("lenses drawn again", () => client.lensRefreshes() > before);
    assert.match((await titles(client, RIG_PATH))[0], /Used by 1 move, 1 error in it/);
    await client.change(PATH, MOVE, 7);
  });

  it("say so where no move uses the document, and count moves that were not checked yet", async () => {
    const alone = await startServer({ ...WORKSPACE, "kit/other.rig.yaml": RIG }, ABLE, { commands: COMMANDS });
    await alone.open("kit/other.rig.yaml", RIG);
    assert.deepEqual(await titles(alone, "kit/other.rig.yaml"), ["0: No move uses this rig"]);
    await alone.open(RIG_PATH, RIG);
    assert.deepEqual(await titles(alone, RIG_PATH), ["0: Used by 1 move"]);
    assert.equal(await alone.stop(), 0);
  });

  it("are words alone for a client without the commands", async () => {
    const plain = await startServer(WORKSPACE);
    await plain.open(PATH, MOVE);
    const lenses = await shown(plain, PATH);
    assert.deepEqual(
      lenses.map(({ lens }) => lens.command?.command),
      ["", ""],
    );
    assert.match(lenses[0].title, /^6 s: speed 70 %/);
    assert.equal(await plain.stop(), 0);
  });

  it("can be turned off, each kind by itself", async () => {
    const wish = (codeLens: object) =>
      client.connection.sendNotification("workspace/didChangeConfiguration", {
        settings: { movewright: { codeLens } },
      });
    for (const [setting, path, gone] of [
      ["stage", PATH, /Open stage/],
      ["peaks", PATH, /speed|findings/],
      ["play", PATH, /Play/],
      ["uses", RIG_PATH, /[Uu]sed by/],
    ] as const) {
      await wish({});
      const before = await titles(client, path);
      assert.ok(before.some((title) => gone.test(title)));
      await wish({ [setting]: false });
      const left = await titles(client, path);
      assert.deepEqual(
        left,
        before.filter((title) => !gone.test(title)),
      );
    }
    await wish({});
  });
});
