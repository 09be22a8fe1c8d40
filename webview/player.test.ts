import assert from "node:assert/strict";
import { RATES } from "../core/base/rate.ts";
import { createPlayer, type Clock } from "./player.ts";

/** A clock that ticks when told. */
function handClock(): Clock & { tick(now: number): void; asked(): number } {
  const waiting = new Map<number, (now: number) => void>();
  let count = 0;
  return {
    request(tick) {
      waiting.set(++count, tick);
      return count;
    },
    cancel: (handle) => void waiting.delete(handle),
    tick(now) {
      const due = [...waiting.values()];
      waiting.clear();
      for (const tick of due) tick(now);
    },
    asked: () => waiting.size,
  };
}

describe("the player", () => {
  const open = (): {
    clock: ReturnType<typeof handClock>;
    player: ReturnType<typeof createPlayer>;
    causes: string[];
  } => {
    const clock = handClock();
    const causes: string[] = [];
    const player = createPlayer(clock, (cause) => causes.push(cause));
    player.load(2, RATES["25"], 0);
    return { clock, player, causes };
  };

  it("asks for no pictures until it plays, and none after", () => {
    const { clock, player } = open();
    player.seek(1);
    player.step(1);
    assert.equal(clock.asked(), 0);
    player.play();
    assert.equal(clock.asked(), 1);
    player.pause();
    assert.equal(clock.asked(), 0);
  });

  it("follows the clock at its speed and stops at the end", () => {
    const { clock, player, causes } = open();
    player.setSpeed(2);
    player.play();
    clock.tick(1000);
    assert.equal(player.time, 0);
    clock.tick(1100);
    assert.ok(Math.abs(player.time - 0.2) < 1e-12);
    for (let now = 1200; now < 3000; now += 100) clock.tick(now);
    assert.equal(player.time, 2);
    assert.equal(player.playing, false);
    assert.equal(clock.asked(), 0);
    assert.ok(causes.includes("tick") && causes.at(-1) === "moved");
  });

  it("goes round in a loop", () => {
    const { clock, player } = open();
    player.setLoop(true);
    player.seek(1.9);
    player.play();
    clock.tick(0);
    clock.tick(200);
    assert.ok(Math.abs(player.time - 0.1) < 1e-12);
    assert.ok(player.playing);
  });

  it("does not leap over what a stall has cost", () => {
    const { clock, player } = open();
    player.play();
    clock.tick(0);
    clock.tick(60_000);
    assert.equal(player.time, 0.25);
  });

  it("begins again when played from the end", () => {
    const { player } = open();
    player.seek(2);
    player.play();
    assert.equal(player.time, 0);
  });

  it("stands where it is told on another move, or at its end when that is shorter", () => {
    const { player } = open();
    player.load(10, RATES["25"], 7);
    assert.equal(player.time, 7);
    player.load(5, RATES["25"], player.time);
    assert.equal(player.time, 5);
    player.load(0, RATES["25"], player.time);
    player.play();
    assert.equal(player.playing, false);
  });
});
