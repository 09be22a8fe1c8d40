import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { MOVE, shippedProgram } from "../test/support/shipped-program.ts";

describe("movewright picture", function () {
  this.timeout(120_000);
  const { folder, put, run } = shippedProgram("picture");
  const read = (name: string): string => readFileSync(join(folder(), name), "utf8");
  const draw = (at: string, out = "out.svg", view = "top") =>
    run("picture", "good.move.yaml", "--view", view, "--at", at, "--out", out);

  it("draws each view", () => {
    for (const [view, name] of [
      ["lens", "Through wide"],
      ["top", "Top view"],
      ["side", "Side view"],
      ["front", "Front view"],
      ["free", "View from beside the rig"],
    ]) {
      const { status, stdout, stderr } = draw("1 s", `${view}.svg`, view);
      assert.equal(status, 0, stderr);
      assert.match(stdout, new RegExp(`^${view}\\.svg: \\d+ kB\\n$`));
      assert.match(read(`${view}.svg`), new RegExp(`<title id="title">Lid: ${name}</title>`));
    }
  });

  it("takes a time as documents write it, or a key's name", () => {
    // 23.976: frame 24 is at 24 * 1001 / 24000 s.
    for (const at of ["24 f", "24f", "01:00:01:00", "1.001", "1.001 s", "1001 ms"]) {
      const { status, stderr } = draw(at);
      assert.equal(status, 0, stderr);
      assert.match(read("out.svg"), /Top view at 01:00:01:00, frame 86424, 1\.001 s/, at);
    }
    assert.equal(draw("key 2").status, 0);
    assert.match(read("out.svg"), / 2\.000 s/);
    assert.equal(draw("top").status, 0);
    assert.match(read("out.svg"), / 0\.000 s/);
    for (const [at, why] of [
      [
        "tap",
        /--at tap is neither a time \(`2\.4 s`, `60 f`, a timecode label\) nor a key of the move; the nearest name is `top`/,
      ],
      ["9 s", /outside the move, which plays from 0 s to 2 s/],
      ["01:00:01;00", /--at .*not a drop rate/],
      ["3 kg", /--at .*3 kg/],
    ] as const) {
      const { status, stderr } = draw(at);
      assert.equal(status, 2, at);
      assert.match(stderr, why);
    }
    // `solve` takes keys' names too.
    assert.match(run("solve", "good.move.yaml", "--at", "key 2", "--format", "csv").stdout, /\r\n2,/);
  });

  it("says what it can't write, and replaces only its own", () => {
    const refused = (answer: { status: number | null; stderr: string }, why: RegExp): void => {
      assert.equal(answer.status, 2);
      assert.match(answer.stderr, why);
    };
    refused(draw("1 s", "out.jpg"), /--out out\.jpg: a picture is SVG or PNG; name a file that ends in \.svg or \.png/);
    refused(draw("1 s", "out.svg", "below"), /Allowed choices are lens, top, side, front, free/);
    put("mine.svg", "<svg/>");
    refused(draw("1 s", "mine.svg"), /mine\.svg is there and is not an older answer/);
    assert.equal(read("mine.svg"), "<svg/>");
    put("broken.move.yaml", MOVE.replace("kit/slider", "kit/none"));
    const broken = run("picture", "broken.move.yaml", "--view", "top", "--at", "0", "--out", "broken.svg");
    assert.equal(broken.status, 1);
    assert.match(broken.stderr, /missing-file/);
  });

  it("gives the same bytes each time", () => {
    draw("1 s", "one.svg", "free");
    draw("1 s", "two.svg", "free");
    assert.equal(read("one.svg"), read("two.svg"));
  });
});
