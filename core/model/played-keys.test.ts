import assert from "node:assert/strict";
import { KIT } from "../../test/fixtures/kit.ts";
import { memorySources } from "../../test/fixtures/memory-sources.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import { resolveMove } from "./resolve-move.ts";

function resolve(keys: string, more = ""): ResolvedMove {
  const text = `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
${more}
keys:
${keys}`;
  const { move, problems } = resolveMove(
    "m.move.yaml",
    memorySources(new Map(Object.entries({ ...KIT, "m.move.yaml": text }))),
  );
  assert.deepEqual(problems, []);
  return move!;
}

const near = (found: number | undefined, wanted: number): void =>
  assert.ok(found !== undefined && Math.abs(found - wanted) < 1e-12, `${found} is not ${wanted}`);

const KEYS = `  - axes: { slide: 0, pan: 0, tilt: 0 }
    hold: 1 s
  - after: 3 s
    axes: { slide: 0.2 }
    ease: { linear: { ramp: 0.5 s } }
  - at: 8 s
    axes: { slide: 0 }
    ease: { cubic: [0.42, 0, 0.58, 1] }
    hold: 50 f
`;

describe("times of keys", () => {
  it("count holds, and `after` from the end of one", () => {
    const { keys } = resolve(KEYS);
    assert.deepEqual(
      keys.map(({ time }) => time),
      [0, 4, 8],
    );
    assert.deepEqual(
      keys.map(({ hold }) => hold),
      [1, undefined, 2],
    );
    assert.deepEqual(
      keys.map(({ stop }) => stop),
      [true, false, true],
    );
    assert.deepEqual(keys[1].ease, { kind: "linear", ramp: 0.5 });
    assert.deepEqual(keys[2].ease, { kind: "cubic", handles: [0.42, 0, 0.58, 1] });
    assert.ok(keys.every((key) => !("written" in key)));
  });

  it("and ramps are longer by the move's speed", () => {
    const { keys } = resolve(KEYS, "speed: 50 %");
    assert.deepEqual(
      keys.map(({ time }) => time),
      [0, 8, 16],
    );
    assert.deepEqual(
      keys.map(({ hold }) => hold),
      [2, undefined, 4],
    );
    assert.deepEqual(keys[1].ease, { kind: "linear", ramp: 1 });
  });

  it("are played at the speeds that keys state, the move's own times these", () => {
    const sped = KEYS.replace("hold: 1 s\n", "hold: 1 s\n    speed: 50 %\n").replace(
      "ramp: 0.5 s } }\n",
      "ramp: 0.5 s } }\n    speed: 150 %\n",
    );
    const { keys } = resolve(sped, "speed: 50 %");
    // By hand, first at the keys' speeds alone: the hold of 1 s at 50 % takes 2 s; the way of 3 s from 50 % to 150 % takes
    // 2 · 3 / (0.5 + 1.5) = 3 s; the rest of 4 s at 150 % takes 8/3 s, the hold of 2 s 4/3 s. All of it twice for the move's 50 %.
    near(keys[0].hold, 4);
    near(keys[1].time, 10);
    near(keys[2].time, 10 + 16 / 3);
    near(keys[2].hold, 8 / 3);
    assert.deepEqual(
      keys.map(({ written }) => written),
      [0, 4, 8],
    );
    assert.deepEqual(keys[1].ease, { kind: "linear", ramp: 1 });
    assert.deepEqual([keys[0].speed?.share, keys[1].speed?.share, keys[2].speed], [0.5, 1.5, undefined]);
  });
});
