import assert from "node:assert/strict";
import type { MoveStatus, StatusResult } from "../../protocol/status.ts";
import { MOVE, MOVE_JSON, RIG, WORKSPACE } from "./documents.ts";
import { startServer, textIn, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";

describe("the status of a move", () => {
  let client: Client;
  const told: string[] = [];
  let version = 1;
  before(async () => {
    client = await startServer({ ...WORKSPACE, "moves/along-too.move.json": MOVE_JSON });
    client.connection.onNotification("movewright/statusChanged", ({ uri }: { uri: string }) => void told.push(uri));
    await client.open(PATH, MOVE, version);
  });
  after(async () => assert.equal(await client.stop(), 0));

  const ask = (path: string) =>
    client.connection.sendRequest<StatusResult>("movewright/status", { uri: client.uri(path) });
  /** Asks again, as an editor does, until the motion of this text was looked at. */
  const status = async (path = PATH): Promise<MoveStatus> => {
    for (;;) {
      const before = count(path);
      const answer = await ask(path);
      assert.ok(answer);
      if (answer.state !== "solving") return answer;
      await notice(path, before);
    }
  };
  const count = (path: string) => told.filter((uri) => uri === client.uri(path)).length;
  const notice = async (path = PATH, before = count(path)) => {
    const deadline = Date.now() + 20_000;
    while (count(path) === before) {
      assert.ok(Date.now() < deadline, "no notice within 20 s");
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
  };
  const change = (text: string) => client.change(PATH, text, (version += 1));

  it("names the axis, the share, the limit, the way and the time, and where it comes from", async () => {
    // Least jerk: 15/8 · 0.6 m / 4 s = 0.281 m/s of 0.4 m/s, 70 %; at half the way, 2 s. Pan and tilt turn slowly; the plate
    // needs 15/8 · 30 deg / 4 s = 14.1 of 40 deg/s, and 10/√3 · 30 deg / (4 s)² = 10.8 of 60 deg/s².
    const found = await status();
    assert.equal(found.state, "solved");
    assert.equal(found.label, "slide speed 70 %");
    assert.equal(found.over, false);
    assert.deepEqual([found.errors, found.warnings], [0, 0]);
    assert.match(
      found.lines[0],
      /slide speed 70 % \(0\.281\d* m\/s of 0\.4 m\/s\), from left to right, at 00:00:02:00/,
    );
    assert.ok(found.lines.some((line) => /manual/.test(line)));
    assert.equal(found.place?.uri, client.uri(PATH));
    assert.match(textIn(MOVE, found.place!.range), /^(slide: )?-0\.3$/);
  });

  it("answers for JSON alike, and with nothing for what is no move", async () => {
    await client.open("moves/along-too.move.json", MOVE_JSON);
    assert.equal((await status("moves/along-too.move.json")).label, "slide speed 70 %");
    assert.equal(await ask("kit/slider.rig.yaml"), null);
    assert.equal(await ask("notes.txt"), null);
  });

  it("tells after an edit, and says in words that a limit is passed", async () => {
    await status();
    const noticed = notice();
    await change(MOVE.replace("at: 4 s", "at: 2.5 s"));
    await noticed;
    const found = await status();
    // 15/8 · 0.6 m / 2.5 s = 0.45 m/s of 0.4 m/s: 112.5 %.
    assert.match(found.label, /^slide speed 11[23] %, over the limit, [1-9]\d* errors?$/);
    assert.equal(found.over, true);
    assert.ok(found.errors > 0);
  });

  it("tells after an edit of the rig", async () => {
    await change(MOVE);
    await status();
    const noticed = notice();
    client.write("kit/slider.rig.yaml", RIG.replace("speed: 0.4", "speed: 0.3"));
    await client.watched("kit/slider.rig.yaml", 2);
    await noticed;
    // 0.281 of 0.3 m/s.
    assert.equal((await status()).label, "slide speed 94 %");
    const again = notice();
    client.write("kit/slider.rig.yaml", RIG);
    await client.watched("kit/slider.rig.yaml", 2);
    await again;
    assert.equal((await status()).label, "slide speed 70 %");
  });

  it("keeps the last good figures while the text can't be solved, and says so", async () => {
    await status();
    await change(MOVE.replace("rig: ../kit/slider.rig.yaml", "rig: ["));
    const found = await status();
    assert.equal(found.state, "last-good");
    assert.match(found.label, /^slide speed \d+ % \(last good\), [1-9]\d* errors?$/);
    assert.ok(found.lines.some((line) => /can't be solved/.test(line)));
    await change(MOVE);
    assert.equal((await status()).state, "solved");
  });

  it("leads to the first error where nothing was ever solved", async () => {
    const text =
      "move: 1\nrig: ../kit/none.rig.yaml\ncamera: { use: ../kit/a.camera.yaml, lens: prime-35 }\nkeys: []\n";
    await client.open("moves/none.move.yaml", text);
    const found = await status("moves/none.move.yaml");
    assert.equal(found.state, "unsolved");
    assert.match(found.label, /^not solved, [1-9]\d* errors?$/);
    assert.match(textIn(text, found.place!.range), /none\.rig\.yaml/);
  });

  it("says that no limits are stated, and that 100 % is passed by little", async () => {
    const bare = RIG.replaceAll(/\n {4}limits: .*/g, "");
    assert.ok(!bare.includes("limits"));
    client.write("kit/bare.rig.yaml", bare);
    await client.watched("kit/bare.rig.yaml", 1);
    // The plate of the set has limits: it stays out.
    const text = MOVE.replace("slider.rig", "bare.rig").replaceAll(", plate: 30", "").replace(", plate: 0", "");
    await change(text.replace("set: table.set.yaml\n", "").replaceAll(/\n {4}(aim|focus): .*/g, ""));
    assert.match((await status()).label, /^no limits stated/);
    // 15/8 · 0.6 m / 2.808 s = 0.40064 m/s of 0.4 m/s: 100.16 %.
    await change(MOVE.replace("at: 4 s", "at: 2.808 s"));
    assert.match((await status()).label, /^slide speed 100\.2 %, over the limit/);
  });
});
