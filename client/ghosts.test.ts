import assert from "node:assert/strict";
import type { TakeResult } from "../protocol/requests.ts";
import type { GhostMessage, GhostResult, GhostWith } from "../protocol/stage-ghost.ts";
import type { StageTake } from "../protocol/stage.ts";
import { createGhosts } from "./ghosts.ts";

const LID = "file:///pottery/lid.move.yaml";
const SPOUT = "file:///pottery/the%20spout.move.yaml";
const HEAD: GhostWith = { kind: "revision", revision: "d".repeat(40), label: "HEAD (ddddddd)" };
const OTHER: GhostWith = { kind: "move", uri: SPOUT };

const take = (uri: string, version = 1, stale = false): StageTake =>
  ({ uri, version, stale, findings: [] }) as unknown as StageTake;

describe("what a move is compared with", () => {
  let asked: string[];
  let told: string[];
  let posted: GhostMessage[];
  let answers: Record<string, TakeResult | GhostResult | Promise<GhostResult>>;
  const start = () =>
    createGhosts(
      <Result>(method: string) => {
        asked.push(method);
        return Promise.resolve(answers[method]) as Promise<Result>;
      },
      (method) => void told.push(method),
      (message) => void posted.push(message),
    );
  beforeEach(() => {
    [asked, told, posted] = [[], [], []];
    answers = {
      "movewright/take": { take: take(SPOUT) },
      "movewright/ghost": { take: take(LID), notes: ["The rig is taken as it is now."] },
    };
  });

  it("is shown under its name with what there is to say of it, and is told anew to a page that runs anew", async () => {
    const ghosts = start();
    assert.equal(await ghosts.compare(LID, HEAD), undefined);
    const { ghost } = posted[0];
    assert.deepEqual([ghost?.label, ghost?.notes], ["HEAD (ddddddd)", ["The rig is taken as it is now."]]);
    ghosts.again();
    assert.deepEqual(posted[1], posted[0]);
    assert.equal(await ghosts.compare(LID, OTHER), undefined);
    assert.equal(posted[2].ghost?.label, "the spout");
    assert.deepEqual(told, ["movewright/ghostDropped"], "the revision is not needed any more");
  });

  it("follows the other move when that changes, and stays what it was when the move's own text does", async () => {
    const ghosts = start();
    await ghosts.compare(LID, OTHER);
    answers["movewright/take"] = { take: take(SPOUT, 2, true) };
    ghosts.takeChanged(LID);
    await settled();
    assert.equal(posted.length, 1);
    ghosts.takeChanged(SPOUT);
    await settled();
    assert.equal(posted[1].ghost?.take.version, 2);
    assert.match(posted[1].ghost?.notes[0] ?? "", /last good result/);
    await ghosts.compare(LID, HEAD);
    ghosts.takeChanged(SPOUT);
    await settled();
    assert.equal(posted.length, 3);
  });

  it("ends when it is stopped and when another move is shown, once", async () => {
    const ghosts = start();
    ghosts.stop();
    assert.deepEqual([posted, told], [[], []]);
    await ghosts.compare(LID, HEAD);
    ghosts.shows(LID);
    assert.deepEqual(ghosts.now(), HEAD);
    ghosts.shows(SPOUT);
    assert.deepEqual([posted[1], ghosts.now(), told], [{ type: "ghost", ghost: null }, undefined, ["movewright/ghostDropped"]]);
    ghosts.stop();
    assert.equal(posted.length, 2);
  }); // prettier-ignore

  it("says why there is nothing to compare with, and leaves what there was", async () => {
    const ghosts = start();
    await ghosts.compare(LID, OTHER);
    answers["movewright/ghost"] = { problem: "lid.move.yaml is not there at ddddddd." };
    assert.equal(await ghosts.compare(LID, HEAD), "lid.move.yaml is not there at ddddddd.");
    assert.deepEqual(ghosts.now(), OTHER);
    assert.deepEqual(told, ["movewright/ghostDropped"]);
    answers["movewright/take"] = { problem: { uri: SPOUT, version: 1, message: "It holds no move.", findings: [] } };
    assert.equal(await ghosts.compare(LID, OTHER), "the spout: It holds no move.");
    assert.equal(posted.length, 1);
  });

  it("is what was asked for last, whichever answer comes last", async () => {
    const ghosts = start();
    let answer: (result: GhostResult) => void = () => assert.fail("nothing was asked");
    answers["movewright/ghost"] = new Promise((resolve) => (answer = resolve));
    const slow = ghosts.compare(LID, HEAD);
    await ghosts.compare(LID, OTHER);
    answer({ take: take(LID), notes: [] });
    await slow;
    assert.deepEqual(ghosts.now(), OTHER);
    assert.equal(posted.length, 1);
    answers["movewright/ghost"] = new Promise((resolve) => (answer = resolve));
    const stopped = ghosts.compare(LID, HEAD);
    ghosts.stop();
    answer({ take: take(LID), notes: [] });
    await stopped;
    assert.equal(ghosts.now(), undefined);
    // Each revision that was asked for and is not shown was let go of.
    assert.equal(told.length, 2);
  });
});

const settled = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));
