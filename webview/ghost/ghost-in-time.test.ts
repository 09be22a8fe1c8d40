import assert from "node:assert/strict";
import { topToFront } from "../../test/stage/moves.ts";
import { takeOf } from "../../test/stage/take-of.ts";
import { openTake } from "../take/open-take.ts";
import { ghostInTime } from "./ghost-in-time.ts";
import { createGhostPlay } from "./ghost-play.ts";

describe("the take that a move is compared with, over the move's time", () => {
  const slow = topToFront.keys.map((key) => ({ ...key, time: key.time * 1.5 }));
  const [open, ghost] = [openTake(takeOf(topToFront)), openTake(takeOf({ ...topToFront, keys: slow }))];
  const play = (alignment: "time" | "share") =>
    createGhostPlay(open, ghost, { label: "before", take: ghost.stage, notes: [] }, alignment);

  it("stands as it is when played times are set against each other", () => {
    assert.equal(ghostInTime(play("time")), ghost);
  });

  it("is stretched to the move's length when shares are, with its keys and what it aims at", () => {
    const { take, stage, keyTimes } = ghostInTime(play("share"));
    assert.equal(stage.duration, open.stage.duration);
    // Its keys were written at one and a half times the move's: by share they fall together.
    keyTimes.forEach((t, k) => assert.ok(Math.abs(t - open.keyTimes[k]) < 1e-9));
    stage.aims.forEach(({ from, to }, k) => {
      assert.ok(
        Math.abs(from - ghost.stage.aims[k].from / 1.5) < 1e-9 && Math.abs(to - ghost.stage.aims[k].to / 1.5) < 1e-9,
      );
    });
    assert.ok(Math.abs(take.t[take.count - 1] - open.stage.duration) < 1e-9);
    assert.deepEqual(take.speed, ghost.take.speed);
  });
});
