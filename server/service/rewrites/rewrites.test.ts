import assert from "node:assert/strict";
import { apart, assertRewritten, offersAt, rewritten, viewOf, type Marked } from "../../../test/support/rewritten.ts";

const yaml = (text: string): Marked => ({ text, file: "m.move.yaml" });
const json = (text: string): Marked => ({ text, file: "m.move.json" });

const HEAD = `move: 1
rig: crane.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
rate: 25
`;
const TELESCOPE = HEAD.replace("crane", "telescope");
const JSON_HEAD = `{ "move": 1, "rig": "crane.rig.yaml", "camera": { "use": "a.camera.yaml", "lens": "wide" }, "set": "table.set.yaml", "rate": 25,
  "keys": [`;

const WRITE = /^Write the solved axes into this key$/;
const TO_CAMERA = /^Turn this axes key into a camera key$/;
const TO_AXES = /^Turn this camera key into an axes key$/;
const ADD = /^Add a key half way to the next/;

/** Least jerk from rest to rest (Flash & Hogan 1985): share of the way at share `u` of the time. */
const leastJerk = (u: number): number => u ** 3 * (10 - 15 * u + 6 * u * u);

describe("writing solved axes into a key", () => {
  // Lift goes from 5 to 7 deg in 5 s with least jerk; the key at 3 s leaves it out.
  const lift = (5 + 2 * leastJerk(0.6)).toFixed(5);

  it("adds to the axes that stand there, in every layout", async () => {
    const block = `${HEAD}keys:
  - at: 0 s
    axes: { swing: -10, lift: 5 } # begin
    aim: lid
  - at: 3 s # mid
    axes: # both
      |swing: -2 deg # to the left
    note: |
      stays
  - after: 2 s
    axes:
      swing: 4
      lift: 7
`;
    await assertRewritten(
      yaml(block),
      WRITE,
      block.replace("|", "").replace("# to the left\n", `# to the left\n      lift: ${lift}\n`),
    );
    const crlf = block.replaceAll("\n", "\r\n");
    await assertRewritten(
      yaml(crlf),
      WRITE,
      crlf.replace("|", "").replace("# to the left\r\n", `# to the left\r\n      lift: ${lift}\r\n`),
    );
    const flow = `${HEAD}keys:
  - { at: 0 s, axes: { swing: -10, lift: 5 deg }, aim: lid }
  - { at: 3 s, |axes: { swing: -2 } } # mid
  - { after: 2 s, axes: { swing: 4, lift: 7 deg } }
`;
    await assertRewritten(
      yaml(flow),
      WRITE,
      flow.replace("|", "").replace("{ swing: -2 }", `{ swing: -2, lift: ${lift} deg }`),
    );
    const text = `${JSON_HEAD}
    { "at": "0 s", "axes": { "swing": -10, "lift": "5 deg" }, "aim": "lid" },
    { "at": "3 s", "axes": { "swing": -2 }, "name|": "mid" },
    { "after": "2 s", "axes": { "swing": 4, "lift": "7 deg" } }
  ] }`;
    await assertRewritten(
      json(text),
      WRITE,
      text.replace("|", "").replace('{ "swing": -2 }', `{ "swing": -2, "lift": "${lift} deg" }`),
    );
  });

  it("adds the field where a key gives no axes, and counts in the units of the keys beside it", async () => {
    const text = `${TELESCOPE}keys:
  - { at: 0 s, axes: { swing: 0 mrad, lift: 0, tube: 100 mm }, aim: lid }
  - at: 2 s
    na|me: half
  - { at: 4 s, axes: { swing: 200 mrad, lift: 0, tube: 300 mm } }
`;
    await assertRewritten(
      yaml(text),
      WRITE,
      text
        .replace("|", "")
        .replace("name: half\n", "name: half\n    axes: { swing: 100 mrad, lift: 0, tube: 200 mm }\n"),
    );
  });

  it("writes the head too where nothing is aimed at, and leaves a key alone that gives all", async () => {
    const text = `${HEAD}keys:
  - { at: 0 s, axes: { swing: 0, lift: 0, pan: 0, tilt: -10 } }
  - { at: 2 s, axes: { swing: 5 }| }
  - { at: 4 s, axes: { swing: 10, lift: 0, pan: 20, tilt: -20 } }
`;
    await assertRewritten(
      yaml(text),
      WRITE,
      text.replace("|", "").replace("{ swing: 5 }", "{ swing: 5, lift: 0, pan: 10, tilt: -15 }"),
    );
    const { offers } = offersAt(yaml(text.replace("|", "").replace("at: 4 s", "|at: 4 s")));
    assert.ok(!offers.some(({ title }) => WRITE.test(title)));
  });

  it("is not offered where the key is written elsewhere too, nor outside of keys", () => {
    const shared = `${HEAD}keys:
  - { at: 0 s, axes: { swing: 0, lift: 0 }, aim: lid }
  - &k { after: 2 s, |axes: { swing: 5 } }
  - { after: 4 s, axes: { swing: 10, lift: 0 } }
  - *k
`;
    assert.deepEqual(
      offersAt(yaml(shared)).offers.filter(({ id }) => !id.startsWith("unit")),
      [],
    );
    const title = `${HEAD.replace("rate", "rat|e")}keys:\n  - { at: 0 s, axes: { swing: 0, lift: 0 }, aim: lid }\n`;
    assert.deepEqual(offersAt(yaml(title)).offers, []);
  });
});

describe("turning keys of axes and of the camera into each other", () => {
  const axes = `${TELESCOPE}keys:
  - { at: 0 s, axes: { swing: -8, lift: 2, tube: 0.1, plate: 0 }, aim: lid }
  - at: 4 s
    |axes: { swing: 6, lift: 5, tube: 0.2, plate: 30 } # here
    note: stays
`;

  it("puts the pupil where the axes bring it, keeps turntables, and comes back to the same axes", async () => {
    const made = await rewritten(yaml(axes), TO_CAMERA);
    assert.ok("text" in made, JSON.stringify(made));
    const at = /camera: \{ at: \[([-\d., ]+)\] \}/.exec(made.text);
    assert.ok(at, made.text);
    const { solved } = viewOf(axes.replace("|", ""), "m.move.yaml");
    const instant = solved!.trajectory.createInstant();
    solved!.trajectory.at(4, instant);
    at[1].split(", ").forEach((value, i) => {
      assert.ok(Math.abs(Number(value) - instant.position[i]) < 1e-6, made.text);
      assert.match(value, /^-?\d+\.\d{1,6}$/);
    });
    assert.equal(
      made.text,
      axes
        .replace("|", "")
        .replace("axes: { swing: 6, lift: 5, tube: 0.2, plate: 30 }", "axes: { plate: 30 }")
        .replace("note: stays\n", `note: stays\n    ${at[0]}\n`),
    );
    assert.ok(apart(axes.replace("|", ""), made.text, "m.move.yaml") < 1e-5);
    const back = await rewritten(yaml(made.text.replace("camera: { at", "|camera: { at")), TO_AXES);
    assert.ok("text" in back, JSON.stringify(back));
    // Values of axes are the same to the millionth of a metre that the camera's place was written to.
    const number = (name: string, text: string): number =>
      Number(new RegExp(`axes: \\{ plate: 30,.* ${name}: (-?[\\d.]+)`).exec(text)?.[1]);
    for (const [name, value] of Object.entries({ swing: 6, lift: 5, tube: 0.2 })) {
      assert.ok(Math.abs(number(name, back.text) - value) < 2e-4, back.text);
    }
    assert.ok(!back.text.includes("camera: { at"), back.text);
    assert.ok(apart(axes.replace("|", ""), back.text, "m.move.yaml") < 1e-5);
  });

  it("puts one field in the place of the other where no turntable is given, in flow and JSON", async () => {
    const flow = axes.replaceAll(", plate: 0", "").replaceAll(", plate: 30", "");
    const made = await rewritten(yaml(flow), TO_CAMERA);
    assert.ok("text" in made && /^ {4}camera: \{ at: \[.*\] \} # here$/m.test(made.text), JSON.stringify(made));
    const text = `${JSON_HEAD.replace("crane", "telescope")}
    { "at": "0 s", "axes": { "swing": -8, "lift": 2, "tube": 0.1 }, "aim": "lid" },
    { "at": "4 s", "axes": { "swing": 6, "lift": 5, "tube": "0.2 m" }|, "note": "stays" }
  ] }`;
    const camera = await rewritten(json(text), TO_CAMERA);
    assert.ok("text" in camera, JSON.stringify(camera));
    const { keys } = JSON.parse(camera.text) as {
      keys: { camera?: { at: number[] }; axes?: unknown; note?: string }[];
    };
    assert.equal(keys[1].camera?.at.length, 3);
    assert.deepEqual([keys[1].axes, keys[1].note], [undefined, "stays"]);
    const back = await rewritten(json(camera.text.replace('"camera": { "at"', '"camera|": { "at"')), TO_AXES);
    assert.ok("text" in back, JSON.stringify(back));
    assert.ok(apart(text.replace("|", ""), back.text, "m.move.json") < 1e-5);
  });

  it("writes a place more finely where the rig reaches only what lies exactly on its way", async () => {
    const text = `${HEAD}keys:
  - { at: 0 s, axes: { swing: -8, lift: 2 }, aim: lid }
  - { at: 4 s, |axes: { swing: 6, lift: 5 } }
`;
    const made = await rewritten(yaml(text), TO_CAMERA);
    assert.ok("text" in made && /camera: \{ at: \[-?\d\.\d{7,9}, /.test(made.text), JSON.stringify(made));
    assert.ok(apart(text.replace("|", ""), made.text, "m.move.yaml") < 1e-5);
  });

  it("says why not where nothing is aimed at, or a comment would go", () => {
    const aimless = `${HEAD}keys:\n  - { at: 0 s, |axes: { swing: 0, lift: 0, pan: 0, tilt: 0 } }\n`;
    const [offer] = offersAt(yaml(aimless)).offers.filter(({ title }) => TO_CAMERA.test(title));
    assert.equal(offer.disabled, "A camera key needs an aim, or nothing says where the camera looks.");
    const commented = `${HEAD}keys:
  - at: 0 s
    aim: lid
    ax|es:
      swing: 0 # rehearsed
      lift: 0
`;
    const [other] = offersAt(yaml(commented)).offers.filter(({ title }) => TO_CAMERA.test(title));
    assert.equal(other.disabled, "A comment stands in what would be replaced.");
    assert.deepEqual(other.ways, []);
  });

  it("is refused where the rig would come to the place by other axes", async () => {
    // One slide rides on another: half of the way by each is nearest to the key before.
    const rig = `rig: 1
chain:
  - { axis: low, type: linear, along: [0, 1, 0], origin: { at: [0, 0, 0.9] }, range: [-1, 1] }
  - { axis: high, type: linear, along: [0, 1, 0], range: [-1, 1] }
  - { axis: pan, type: rotary, along: [0, 0, 1], range: [-100, 100] }
  - { axis: tilt, type: rotary, along: [0, -1, 0], range: [-95, 60] }
head: { pan: pan, tilt: tilt }
`;
    const text = (high: number): Marked => ({
      ...yaml(`${HEAD.replace("crane", "pair")}keys:
  - { at: 0 s, axes: { low: 0, high: 0 }, aim: lid }
  - { at: 4 s, |axes: { low: 0.2, high: ${high} } }
`),
      files: { "pair.rig.yaml": rig },
    });
    const made = await rewritten(text(0.3), TO_CAMERA);
    assert.deepEqual(made, { refusal: "the rig would then be elsewhere at key 2" });
    assert.ok("text" in (await rewritten(text(0.2), TO_CAMERA)));
  });
});

describe("adding a key half way", () => {
  it("goes on as the move went, in every layout and notation", async () => {
    // Half way in time is half way of a least-jerk way.
    const block = `${HEAD}keys:
  - at: 0 s
    axes: { swing: -10, lift: 5 } # begin
    |aim: lid
  # The end.
  - at: 75 f
    axes: { swing: 4 deg, lift: 7 }
`;
    const plain = block.replace("|", "");
    // 38 of 75 frames: the nearest to the middle.
    const share = leastJerk(38 / 75);
    const added = `  - at: 38 f\n    axes: { swing: ${Number((-10 + 14 * share).toFixed(5))} deg, lift: ${Number((5 + 2 * share).toFixed(5))} }\n`;
    await assertRewritten(yaml(block), ADD, plain.replace("  # The end.\n", `${added}  # The end.\n`));
    const flow = `${HEAD}keys: [{ at: 0 s, axes: { swing: -10, lift: 5 }, |aim: lid }, { after: 3 s, axes: { swing: 4, lift: 7 } }]\n`;
    await assertRewritten(
      yaml(flow),
      ADD,
      flow.replace("|", "").replace("{ after: 3 s", "{ after: 1.5 s, axes: { swing: -3, lift: 6 } }, { after: 1.5 s"),
    );
    const text = `${JSON_HEAD}
    {
      "at": "00:00:00:00",
      "axes": { "swing": -10, "lift": 5 }|,
      "aim": "lid"
    },
    {
      "at": "00:00:04:00",
      "axes": { "swing": 4, "lift": "7 deg" }
    }
  ] }`;
    await assertRewritten(
      json(text),
      ADD,
      text.replace("|", "").replace(
        `"aim": "lid"
    },
`,
        `"aim": "lid"
    },
    {
      "at": "00:00:02:00",
      "axes": { "swing": -3, "lift": "6 deg" }
    },
`,
      ),
    );
  });

  it("keeps the motion between speeds to 1e-5, and the place of the new key beside holds and switches", async () => {
    for (const keys of [
      `  - { at: 0 s, axes: { swing: -10, lift: 5, plate: 0 }, aim: { at: lid, framing: [0.5, 0.5] }, hold: 1 s }
  - { at: 3 s, |axes: { swing: -4 }, focus: lid }
  - { after: 100 f, axes: { swing: 4, plate: 20 }, aim: { at: spout, framing: [0.4, 0.5] }, switch: { begin: 20 %, end: 90 % } }
  - { after: 2 s, axes: { swing: 5, lift: 8 } }
`,
      `  - { at: 0 s, axes: { swing: -10, lift: 5 }, aim: lid, speed: 50 %| }
  - { at: 3 s, axes: { swing: -4, lift: 5 }, speed: 150 % }
  - { at: 6 s, axes: { swing: 4, lift: 9 } }
`,
    ]) {
      const text = `${HEAD}keys:\n${keys}`;
      const made = await rewritten(yaml(text), ADD);
      assert.ok("text" in made, JSON.stringify(made));
      assert.equal(made.text.split("\n").length, text.split("\n").length + 1);
      // Where a hold or a neighbour bounds a channel, one knot more gives it another least-jerk curve: near, and the same
      // at the key itself, which the action has proven.
      const most = keys.includes("hold") ? 0.02 : 1e-5;
      assert.ok(apart(text.replace("|", ""), made.text, "m.move.yaml") < most);
    }
  });

  it("gives the camera's place between camera keys, and keeps a path", async () => {
    for (const path of ["", "path: line, "]) {
      const text = `${TELESCOPE}keys:
  - { at: 0 s, camera: { at: [1.5, -0.2, 1.2] }, aim: lid| }
  - { at: 4 s, ${path}camera: { at: [1.52, 0.2, 1.25] } }
`;
      const made = await rewritten(yaml(text), ADD);
      assert.ok("text" in made, JSON.stringify(made));
      assert.match(made.text, new RegExp(`- \\{ at: 2 s, ${path}(camera: \\{ at: \\[|axes: \\{ swing)`));
      if (path !== "") assert.match(made.text, /at: 2 s, path: line, camera: \{ at: \[1\.51, 0, 1\.225\] \}/);
      assert.ok(apart(text.replace("|", ""), made.text, "m.move.yaml") < 1e-5);
    }
  });

  it("says why not where no time is left, and is not offered behind the last key", () => {
    const eased = `${HEAD}keys:
  - { at: 0 s, axes: { swing: -10, lift: 5 }, |aim: lid }
  - { at: 3 s, axes: { swing: -4, lift: 5 }, ease: { linear: { ramp: 1 s } } }
`;
    const disabledOf = (text: string): string | undefined =>
      offersAt(yaml(text)).offers.find(({ title }) => ADD.test(title))?.disabled;
    assert.equal(disabledOf(eased), undefined);
    const near = eased.replace("at: 3 s", "at: 1 f").replace(", ease: { linear: { ramp: 1 s } }", "");
    assert.equal(disabledOf(near), "There is no time to write between key 1 and key 2.");
    const last = eased.replace("|", "").replace("ease", "|ease");
    assert.ok(!offersAt(yaml(last)).offers.some(({ title }) => ADD.test(title)));
  });
});

describe("stating times by the other field", () => {
  const keys = (...times: string[]): string =>
    HEAD +
    "keys:\n" +
    times.map((time, i) => `  - ${time} # t${i}\n    axes: { swing: ${i}, lift: 0 }\n    aim: lid\n`).join("");
  const THIS_AFTER = /^State this key's time from the key before/;
  const THIS_AT = /^State this key's time from the beginning/;
  const ALL_AFTER = /^State the times of all keys from the key before/;
  const ALL_AT = /^State the times of all keys from the beginning/;
  const LATER_AFTER = /^State the times of all later keys from the key before/;

  it("counts from the end of the hold before, in the notation that stands there", async () => {
    const before = keys("at: 0 s", "at: 2 s\n    hold: 10 f", "|at: 4.5 s", '"at": "00:00:06:00"');
    const one = keys("at: 0 s", "at: 2 s\n    hold: 10 f", "after: 2.1 s", '"at": "00:00:06:00"');
    await assertRewritten(yaml(before), THIS_AFTER, one);
    await assertRewritten(
      yaml(before),
      ALL_AFTER,
      keys("at: 0 s", "after: 2 s\n    hold: 10 f", "after: 2.1 s", 'after: "1.5 s"'),
    );
  });

  it("comes back to the same text, for one key, later ones and all", async () => {
    const at = keys("at: 0 s", "at: 50 f", "at: '00:00:05:00'", "at: 6500 ms");
    const after = keys("at: 0 s", "after: 50 f", "after: '00:00:03:00'", "after: 1500 ms");
    const cursor = (text: string, place: string): Marked => yaml(text.replace(place, `|${place}`));
    await assertRewritten(cursor(at, "# t1"), ALL_AFTER, after);
    await assertRewritten(cursor(after, "# t1"), ALL_AT, at);
    const later = keys("at: 0 s", "at: 50 f", "after: '00:00:03:00'", "after: 1500 ms");
    await assertRewritten(cursor(at, "# t1"), LATER_AFTER, later);
    await assertRewritten(cursor(after, "# t1"), THIS_AT, later);
    const crlf = (text: string): string => text.replaceAll("\n", "\r\n");
    await assertRewritten(cursor(crlf(at), "# t1"), ALL_AFTER, crlf(after));
  });

  it("works in flow and JSON, from another label at the start, and at a rate that is no whole number", async () => {
    const flow = `${HEAD.replace("rate: 25", 'rate: 23.976\nstart: "01:00:00:00"')}keys: [{ at: "01:00:00:00", axes: { swing: 0, lift: 0 }, aim: lid }, { |at: "01:00:02:10", axes: { swing: 1 } }, { at: 4 s, axes: { swing: 2 } }]\n`;
    // 2 s and 10 frames by the label are frame 58 at 24000/1001 (SMPTE ST 12-1): 58058/24000 s.
    const after = flow
      .replace("|", "")
      .replace('{ at: "01:00:02:10"', '{ after: "00:00:02:10"')
      .replace("at: 4 s", "after: 1.5809166667 s");
    await assertRewritten(yaml(flow), ALL_AFTER, after);
    assert.ok(apart(flow.replace("|", ""), after, "m.move.yaml") < 1e-5);
    const text = `${JSON_HEAD}
    { "at": 0, "axes": { "swing": 0, "lift": 0 }, "aim": "lid" },
    { "at": |1.5, "axes": { "swing": 1 } },
    { "after": "1 s", "axes": { "swing": 2 } }
  ] }`;
    await assertRewritten(json(text), THIS_AFTER, text.replace('"at": |1.5', '"after": 1.5'));
    await assertRewritten(json(text), ALL_AT, text.replace("|", "").replace('"after": "1 s"', '"at": "2.5 s"'));
  });

  it("says why not where an alias repeats a time", () => {
    const text = keys("at: 0 s", "|after: &t 4 s", "after: *t");
    const { offers } = offersAt(yaml(text));
    const offer = offers.find(({ title }) => THIS_AT.test(title));
    assert.equal(offer?.disabled, "The time of key 2 is repeated elsewhere (`&name`, `*name`): write it out first.");
  });
});
