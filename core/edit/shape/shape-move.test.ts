import assert from "node:assert/strict";
import { asJsonFiles } from "../../../test/fixtures/as-json.ts";
import { KIT } from "../../../test/fixtures/kit.ts";
import { headOf, randomMoveText } from "../../../test/support/random-moves.ts";
import { refusalOf, shaped, shapedMove, solvedOfText } from "../../../test/support/shaped.ts";
import { seededRandom } from "../../base/random.ts";
import type { Vec3 } from "../../base/vec3.ts";
import { applyEdits } from "../apply-edits.ts";
import type { ShapeIntent } from "./intent.ts";
import { shapeMove } from "./shape-move.ts";

const SLIDER = headOf("slider");
const TELESCOPE = headOf("telescope");

/** Where the entrance pupil is at a key. */
function pupilAt(solved: ReturnType<typeof solvedOfText>, key: number): Vec3 {
  const instant = solved.trajectory.createInstant();
  solved.trajectory.at(solved.move.keys[key].time, instant);
  return [instant.position[0], instant.position[1], instant.position[2]];
}

const apart = (a: readonly number[], b: readonly number[]): number => Math.hypot(...a.map((value, i) => value - b[i]));

describe("a key dragged in time", () => {
  const text = `${SLIDER}keys: # three
  - { at: 0 s, axes: { slide: -0.4 }, aim: lid }   # begin
  - { at: 2 s, name: middle, axes: { slide: 0.1 } } # the middle
  - { at: "00:00:04:00", axes: { slide: 0.4 } }
`;

  it("changes that key's time alone, in its notation", () => {
    const made = shaped(text, { kind: "time", key: 1, time: 2.36 });
    assert.equal(made.text, text.replace("at: 2 s", "at: 2.36 s"));
    assert.equal(made.says, "`middle` comes at 2.36 s");
    assert.deepEqual(
      made.solved.move.keys.map(({ time }) => time),
      [0, 2.36, 4],
    );
    // 4.5 s at 25 frames a second is frame 112.5: a label takes the nearest, 113, which is 4 s and 13 frames.
    assert.equal(shaped(text, { kind: "time", key: 2, time: 4.51 }).text, text.replace(":04:00", ":04:13"));
    assert.equal(
      shaped(text.replace("2 s", "50 f"), { kind: "time", key: 1, time: 2.371 }).text,
      text.replace("2 s", "59 f"),
    );
  });

  it("stops a frame beside its neighbours and says which", () => {
    const early = shaped(text, { kind: "time", key: 1, time: -3 });
    assert.equal(early.text, text.replace("at: 2 s", "at: 0.04 s"));
    assert.equal(early.stop?.words, "`middle` comes behind `key 1`, which is at 0 s: drag that one first");
    const held = text.replace("aim: lid }", "aim: lid, hold: 1 s }");
    const behind = shaped(held, { kind: "time", key: 1, time: 0.2 });
    assert.equal(behind.text, held.replace("at: 2 s", "at: 1.04 s"));
    assert.match(behind.stop?.words ?? "", /`key 1`, which is held until 1 s/);
    const late = shaped(text, { kind: "time", key: 1, time: 9 });
    assert.equal(late.text, text.replace("at: 2 s", "at: 3.96 s"));
    assert.match(late.stop?.words ?? "", /^`middle` comes before `key 3`, which is at 4 s/);
    // The last key has nobody behind it.
    assert.equal(shaped(text, { kind: "time", key: 2, time: 60 }).stop, undefined);
  });

  it("leaves a key that counts from it when it is", () => {
    const after = text.replace("at: 2 s", "after: 2 s").replace('at: "00:00:04:00"', "after: 50 f");
    const made = shaped(after, { kind: "time", key: 1, time: 1.2 });
    assert.equal(made.text, after.replace("after: 2 s", "after: 1.2 s").replace("50 f", "70 f"));
    assert.deepEqual(
      made.solved.move.keys.map(({ time }) => time),
      [0, 1.2, 4],
    );
    assert.equal(made.says, "`middle` comes 1.2 s after `key 1`");
  });

  it("finds the written time of a key that is played at other speeds", () => {
    const half = text.replace("keys:", "speed: 50 %\nkeys:");
    assert.equal(shaped(half, { kind: "time", key: 1, time: 5 }).text, half.replace("at: 2 s", "at: 2.5 s"));
    // Shares a and b at the ends of a way of h written seconds: it is played in 2 h / (a + b), here in 2 h / 1.5.
    const keyed = text.replace("aim: lid }", "aim: lid, speed: 100 % }").replace("0.1 } }", "0.1 }, speed: 50 % }");
    const made = shaped(keyed, { kind: "time", key: 1, time: 2 });
    assert.equal(made.text, keyed.replace("at: 2 s", "at: 1.5 s"));
    assert.ok(Math.abs(made.solved.move.keys[1].time - 2) < 1e-9);
  });

  it("refuses what has no time of its own", () => {
    assert.match(refusalOf(text, { kind: "time", key: 0, time: 1 }), /^a move begins with its first key, `key 1`/);
    const shared = text.replace("at: 2 s", "at: &t 2 s").replace("slide: 0.4 } }", "slide: 0.4 }, hold: *t }");
    assert.match(refusalOf(shared, { kind: "time", key: 1, time: 1 }), /is repeated elsewhere/);
    assert.equal(refusalOf(text, { kind: "time", key: 7, time: 1 }), "the move has no such key any more");
  });
});

describe("a camera dragged at a key", () => {
  const points = `${TELESCOPE}keys:
  - { at: 0 s, camera: { at: [1.5, -0.2, 1.2] }, aim: lid }
  - at: 4 s # end
    camera:
      at: # of the pupil
        - 1.50 # x
        - 200 mm
        - 1.2
`;

  it("writes the place in the units and the layout that it has", () => {
    const made = shaped(points, { kind: "camera", key: 1, at: [1.52, 0.25, 1.2] });
    assert.equal(made.text, points.replace("- 1.50 #", "- 1.52 #").replace("200 mm", "250 mm"));
    assert.equal(made.stop, undefined);
    assert.ok(apart(pupilAt(made.solved, 1), [1.52, 0.25, 1.2]) < 1e-6);
  });

  it("counts from a target, in the directions of the table that turns with it", () => {
    const offset = `${TELESCOPE}keys:
  - { at: 0 s, axes: { plate: 90 }, camera: { from: spout, offset: [-0.5, 0, 0.2] }, aim: lid }
  - { at: 4 s, axes: { plate: 30 }, camera: { from: spout, in: plate, offset: [-0.4, -0.2, 0.2] } }
`;
    // spout is at (2, 0.4, 1): the offset is the place less that.
    const plain = shaped(offset, { kind: "camera", key: 0, at: [1.45, 0.5, 1.15] });
    assert.equal(plain.text, offset.replace("[-0.5, 0, 0.2]", "[-0.55, 0.1, 0.15]"));
    // A turn by 30 deg about z takes (-0.45, -0.1) to (-0.45 c + 0.1 s, -0.45 s - 0.1 c), c = cos 30 deg, s = 1/2.
    const c = Math.sqrt(3) / 2;
    const at: Vec3 = [2 - 0.45 * c + 0.05, 0.4 - 0.225 - 0.1 * c, 1.2];
    const turned = shaped(offset, { kind: "camera", key: 1, at });
    assert.equal(turned.text, offset.replace("[-0.4, -0.2, 0.2]", "[-0.45, -0.1, 0.2]"));
  });

  it("stops where the tube ends, and the place that is written is in reach", () => {
    const made = shaped(points, { kind: "camera", key: 1, at: [1.5, 3, 1.2] });
    assert.match(made.stop?.words ?? "", /^`tube` is at the end of its range: 1\.\d+ m are left$/);
    assert.equal(made.solved.trajectory.keys[1].status, "converged");
    // The column is at the origin, arm and tube go out to 1.5 + 0.6 m, the head's mount to 0.04 m and 0.05 m more: the
    // pupil can be no farther away than that, and comes to within a hand's breadth of it.
    const [x, y, z] = pupilAt(made.solved, 1);
    const far = Math.hypot(x, y, z - 1.2);
    assert.ok(1.8 < far && far < 2.1 + 0.3, `${far} m`);
    assert.ok(apart([x, y, z], made.stop?.at ?? []) < 0.02);
  });

  it("solves the axes that a key states, on the side where they are, and leaves the others", () => {
    const axes = `${TELESCOPE}keys:
  - { at: 0 s, axes: { swing: -10, lift: 5, tube: 0.10 }, aim: lid }
  - { at: 4 s, axes: { swing: 10 deg, lift: 0.1 rad } } # two of three
`;
    const before = pupilAt(solvedOfText(axes, "m.move.yaml"), 1);
    // Across the arm: swing alone moves it there.
    const wanted: Vec3 = [before[0] - 0.05, before[1] + 0.2, before[2] + 0.1];
    const made = shaped(axes, { kind: "camera", key: 1, at: wanted });
    assert.match(made.text, /- \{ at: 4 s, axes: \{ swing: [\d.]+ deg, lift: 0\.\d+ rad \} \} # two of three\n$/);
    assert.equal(made.text.replace(/at: 4 s.*/, ""), axes.replace(/at: 4 s.*/, ""));
    // Two axes lead along a sphere: what is left is told, and nothing else is nearer.
    const at = pupilAt(made.solved, 1);
    assert.ok(apart(at, made.stop?.at ?? wanted) < 2e-3, JSON.stringify([at, made.stop]));
    for (const [swing, lift] of [
      [0.2, 0],
      [-0.2, 0],
      [0, 0.004],
      [0, -0.004],
    ]) {
      const beside = made.text.replace(
        /swing: ([\d.]+) deg, lift: ([\d.]+) rad/,
        (_, a: string, b: string) => `swing: ${Number(a) + swing} deg, lift: ${Number(b) + lift} rad`,
      );
      assert.notEqual(beside, made.text);
      assert.ok(apart(at, wanted) < apart(pupilAt(solvedOfText(beside, "m.move.yaml"), 1), wanted) + 1e-4);
    }
    const all = axes.replace("lift: 0.1 rad", "lift: 0.1 rad, tube: 0.1");
    const reached = shaped(all, { kind: "camera", key: 1, at: wanted });
    assert.equal(reached.stop, undefined);
    assert.ok(apart(pupilAt(reached.solved, 1), wanted) < 1e-3);
  });

  it("keeps a camera point on the one way that a slider has", () => {
    const slider = `${SLIDER}keys:
  - { at: 0 s, camera: { at: [0.09, -0.3, 1.2] }, aim: none, axes: { pan: 0, tilt: 0 } }
`;
    assert.match(
      refusalOf(`${SLIDER}keys:\n  - { at: 0 s, axes: { slide: 0 }, aim: lid }\n  - { at: 2 s, focus: 2 m }\n`, {
        kind: "camera",
        key: 1,
        at: [0, 0, 1],
      }),
      /gives neither/,
    );
    assert.ok(slider.length > 0);
    const plain = `${SLIDER}keys:\n  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }\n  - { at: 2 s, axes: { slide: 100 mm, pan: 0, tilt: 0 } }\n`;
    const made = shaped(plain, { kind: "camera", key: 1, at: [0.5, 0.3, 2] });
    assert.equal(made.text, plain.replace("100 mm", "300 mm"));
    assert.match(made.stop?.words ?? "", /^the axes bring the camera no nearer/);
    const far = shaped(plain, { kind: "camera", key: 1, at: [0.09, 3, 1.2] });
    assert.equal(far.text, plain.replace("100 mm", "1000 mm"));
    assert.match(far.stop?.words ?? "", /^`slide` is at the end of its range: 2/);
  });
});

describe("a subject dragged in the picture", () => {
  const text = `${SLIDER}deliver: [3072, 1728]
keys:
  - { at: 0 s, axes: { slide: -0.4 }, aim: lid } # first
  - { at: 2 s, axes: { slide: 0.1 } }
  - at: 4 s
    axes: { slide: 0.4 }
    aim:
      framing: [0.40, 0.5] # left
  - { at: 6 s, aim: { framing: { delivered: [0.5, 0.5] } } }
`;

  it("gives the key's aim its framing, whatever it said before", () => {
    const at = [0.4567, 0.55] as const;
    assert.equal(
      shaped(text, { kind: "framing", key: 0, at }).text,
      text.replace("aim: lid }", "aim: { at: lid, framing: [0.457, 0.55] } }"),
    );
    assert.equal(
      shaped(text, { kind: "framing", key: 1, at }).text,
      text.replace("slide: 0.1 } }", "slide: 0.1 }, aim: { framing: [0.457, 0.55] } }"),
    );
    const own = shaped(text, { kind: "framing", key: 2, at });
    assert.equal(own.text, text.replace("[0.40, 0.5]", "[0.457, 0.55]"));
    // The crop is half as wide and high as the 6144 by 3456 px that are captured: 0.5 + 2 (0.4567 - 0.5).
    const crop = shaped(text, { kind: "framing", key: 3, at });
    assert.equal(crop.text, text.replace("delivered: [0.5, 0.5]", "delivered: [0.413, 0.6]"));
    const instant = own.solved.trajectory.createInstant();
    own.solved.trajectory.at(4, instant);
    assert.ok(apart([instant.framing[0], instant.framing[1]], [0.457, 0.55]) < 1e-9);
  });

  it("stops at the edge of the picture, and needs something that is aimed at", () => {
    const edge = shaped(text, { kind: "framing", key: 2, at: [0.4, 1.4] });
    assert.equal(edge.text, text.replace("[0.40, 0.5]", "[0.40, 1]"));
    assert.deepEqual(edge.stop, { words: "the captured picture ends there", at: [0.4, 1] });
    const none = text.replace("aim: lid }", "aim: none }").replace("slide: -0.4", "slide: -0.4, pan: 0, tilt: 0");
    const free = none.slice(0, none.indexOf("  - at: 4 s"));
    assert.match(refusalOf(free, { kind: "framing", key: 1, at: [0.4, 0.4] }), /^nothing is aimed at from `key 2` on/);
  });
});

describe("an axis, a lens and a target", () => {
  const text = `${TELESCOPE}keys:
  - { at: 0 s, axes: { swing: -10, lift: 5, tube: 0 mm }, aim: lid }
  - { at: 4 s, camera: { at: [1.5, 0.2, 1.2] } }
`;

  it("is nudged in its unit, to the end of its range", () => {
    const on = (axis: number, by: number) => shaped(text, { kind: "axis", key: 0, axis, by });
    assert.equal(on(2, 0.0125).text, text.replace("tube: 0 mm", "tube: 12.5 mm"));
    assert.equal(on(0, 0.1).text, text.replace("swing: -10", "swing: -4.27"));
    const end = on(2, 2);
    assert.equal(end.text, text.replace("tube: 0 mm", "tube: 600 mm"));
    assert.equal(end.stop?.words, "`tube` ends at 0.6 m: its range goes no further");
    // The level follows the lift the other way and has 40 deg of the lift's 50.
    assert.match(on(1, 1).stop?.words ?? "", /^`lift` ends at 40 deg: the range of `level`, which follows it/);
    const table = solvedOfText(text, "m.move.yaml").move.axes.findIndex(({ name }) => name === "plate");
    assert.equal(on(table, 0.1).text, text.replace("tube: 0 mm }", "tube: 0 mm, plate: 5.73 }"));
  });

  it("says what else gives it its value", () => {
    const why = (key: number, axis: number): string => refusalOf(text, { kind: "axis", key, axis, by: 0.1 });
    assert.match(why(1, 0), /^`swing` is solved from the camera's place at `key 2`/);
    assert.match(why(0, 4), /^`pan` is solved by the aim at `key 1`/);
    assert.match(why(0, 3), /^`level` has no value of its own at `key 1`: it follows another axis/);
  });

  it("zooms as far as the lens does", () => {
    assert.match(refusalOf(text, { kind: "zoom", key: 0, focal: 0.05 }), /^`wide` has 24 mm only/);
    const camera = KIT["a.camera.yaml"].replace("wide: { focal: 24 mm", "wide: { focal: [24 mm, 70 mm]");
    const made = shaped(text, { kind: "zoom", key: 0, focal: 0.0352 }, "m.move.yaml", { "a.camera.yaml": camera });
    assert.equal(made.text, text.replace("aim: lid }", "aim: lid, zoom: 35.2 mm }"));
    const more = shaped(made.text, { kind: "zoom", key: 0, focal: 1 }, "m.move.yaml", { "a.camera.yaml": camera });
    assert.equal(more.text, made.text.replace("35.2 mm", "70 mm"));
    assert.equal(more.stop?.words, "`wide` ends at 70 mm");
  });

  it("moves a target in its set, on its table too", () => {
    const set = KIT["table.set.yaml"].replace(
      "spout: { at: [2, 0.4, 1.0] }",
      "spout: { on: plate, at: [0, 400 mm, 0.1] } # on it",
    );
    const files = { "table.set.yaml": set };
    const target = 1;
    const plain = shaped(text, { kind: "target", key: 0, target: 0, at: [2.1, 0.05, 1.1] });
    assert.equal(plain.file, "table.set.yaml");
    assert.equal(
      plain.text,
      KIT["table.set.yaml"].replace("lid: { at: [2, 0, 1.1] }", "lid: { at: [2.1, 0.05, 1.1] }"),
    );
    const turned = text.replace("tube: 0 mm }", "tube: 0 mm, plate: 90 }");
    // At 90 deg the table's x is the set's y: (0.4, -0.1) of the table stands at (2 + 0.1, 0.4).
    const made = shaped(turned, { kind: "target", key: 0, target, at: [2.1, 0.4, 1] }, "m.move.yaml", files);
    assert.equal(made.text, set.replace("[0, 400 mm, 0.1]", "[0.4, -100 mm, 0.1]"));
    assert.match(made.says, /^`spout` on `plate` at 0\.4 m, -0\.1 m/);
    const runs = {
      "table.set.yaml": set.replace(
        "spout: { on: plate, at: [0, 400 mm, 0.1] }",
        "spout: { follow: [{ at: 0 s, to: [2, 0, 1] }] }",
      ),
    };
    assert.match(
      refusalOf(text, { kind: "target", key: 0, target, at: [2, 0, 1] }, "m.move.yaml", runs),
      /moves by itself/,
    );
  });
});

describe("moves in JSON", () => {
  it("are shaped as those in YAML are, number for number", () => {
    const yaml = `${SLIDER}keys:
  - { at: 0 s, axes: { slide: -0.4 }, aim: lid }
  - { at: 2, axes: { slide: 120 mm }, aim: { framing: [0.4, 0.5] } }
  - { after: 2 s, axes: { slide: 0.4 } }
`;
    const { files } = asJsonFiles(new Map([...Object.entries(KIT), ["m.move.yaml", yaml]]));
    const text = files.get("m.move.json")!;
    const all = Object.fromEntries(files);
    const after = (intent: Parameters<typeof shaped>[1]): string => shaped(text, intent, "m.move.json", all).text;
    assert.equal(
      after({ kind: "time", key: 1, time: 1.24 }),
      text.replace('"at": 2,', '"at": 1.24,').replace('"after": "2 s"', '"after": "2.76 s"'),
    );
    assert.equal(after({ kind: "axis", key: 1, axis: 0, by: 0.05 }), text.replace('"120 mm"', '"170 mm"'));
    assert.equal(
      after({ kind: "framing", key: 1, at: [0.61, 0.5] }),
      text.replace("0.4,\n          0.5", "0.61,\n          0.5"),
    );
    assert.equal(
      after({ kind: "framing", key: 0, at: [0.6, 0.5] }),
      text.replace('"aim": "lid"', '"aim": { "at": "lid", "framing": [0.6, 0.5] }'),
    );
  });
});

/** Seed and count of the random drags; a longer run: `MOVEWRIGHT_SHAPES=2000`. */
const ROUNDS = Number(process.env.MOVEWRIGHT_SHAPES ?? 100);

describe("random drags on random moves", () => {
  it("end in a text that says what was wanted, or where it stops, and change nothing else", () => {
    const outcomes: Record<string, number> = {};
    const count = (name: string): void => void (outcomes[name] = (outcomes[name] ?? 0) + 1);
    for (let round = 0; round < ROUNDS; round++) {
      const random = seededRandom(0xd7a6 + round);
      const text = randomMoveText(round);
      const document = shapedMove(text);
      const { move, trajectory } = document;
      const key = Math.floor(random() * move.keys.length);
      const instant = trajectory.createInstant();
      const near = (value: number, size: number): number => value + (2 * random() - 1) * size;
      trajectory.at(move.keys[key].time, instant);
      const intents: readonly ShapeIntent[] = [
        { kind: "time", key, time: near(move.keys[key].time, 2) },
        { kind: "camera", key, at: [0, 1, 2].map((i) => near(instant.position[i], 0.3)) as unknown as Vec3 },
        { kind: "framing", key, at: [near(0.5, 0.1), near(0.5, 0.1)] },
        { kind: "axis", key, axis: Math.floor(random() * move.axes.length), by: near(0, 0.1) },
      ];
      const intent = intents[round % intents.length];
      const made = shapeMove(document, intent);
      if ("refusal" in made) {
        assert.match(made.refusal, /\w/);
        count(`${intent.kind} refused`);
        continue;
      }
      count(made.stop ? `${intent.kind} stopped` : intent.kind);
      const after = applyEdits(text, made.edits);
      // A move holds no more than one key's fields and the time of the one behind.
      assert.ok(made.edits.length <= 4, after);
      const solved = solvedOfText(after, "m.move.yaml");
      const now = solved.trajectory.createInstant();
      solved.trajectory.at(solved.move.keys[key].time, now);
      solved.move.keys.forEach((other, i) => {
        const speeds = move.keys.some(({ speed }) => speed);
        if (i !== key && !speeds) assert.ok(Math.abs(other.time - move.keys[i].time) < 1e-9, `${text}\n${after}`);
      });
      if (made.stop && intent.kind !== "camera") continue;
      if (intent.kind === "time")
        assert.ok(Math.abs(solved.move.keys[key].time - intent.time) < 0.045, `${after} ${intent.time}`);
      if (intent.kind === "axis") {
        const was = move.keys[key].axes.find(({ axis }) => axis === intent.axis)?.value ?? instant.value[intent.axis];
        assert.ok(Math.abs(now.value[intent.axis] - was - intent.by) < 1e-4, `${text}\n${after}`);
      }
      if (intent.kind === "camera") {
        const wanted = (made.stop?.at ?? intent.at) as Vec3;
        assert.ok(
          apart([...now.position], wanted) < 4e-3,
          `${text}\n${after}\n${JSON.stringify([[...now.position], wanted, made.stop])}`,
        );
      }
      // Where nothing stops the head, the subject is where it was dragged to.
      if (
        intent.kind === "framing" &&
        now.status === "converged" &&
        !move.keys[key + 1]?.switch &&
        now.aimBlend % 1 === 0
      ) {
        assert.ok(apart([...now.wanted], intent.at) < 1e-3, `${text}\n${after}`);
      }
    }
    for (const kind of ["time", "camera", "framing", "axis"]) assert.ok(0 < outcomes[kind], JSON.stringify(outcomes));
  }).timeout(300_000);
});
