import assert from "node:assert/strict";
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync } from "node:fs";
import { spawnSync } from "node:child_process";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { PNG } from "pngjs";
import { MOVE, shippedProgram } from "../test/support/shipped-program.ts";

describe("movewright picture --out FILE.png", function () {
  this.timeout(240_000);
  const { main, folder, put, run } = shippedProgram("picture-png");
  const bytes = (name: string): Buffer => readFileSync(join(folder(), name));
  const draw = (out: string, ...more: string[]) =>
    run("picture", "good.move.yaml", "--view", "top", "--at", "1 s", "--out", out, ...more);

  it("is as wide as it is asked to be, as the delivered picture through the lens, and 1600 px else", () => {
    put("narrow.move.yaml", `${MOVE}deliver: [1280, 720]\n`);
    for (const [args, width] of [
      [["good.move.yaml", "--view", "top"], 1600],
      [["good.move.yaml", "--view", "free", "--width", "400"], 400],
      [["narrow.move.yaml", "--view", "lens"], 1280],
    ] as const) {
      const { status, stdout, stderr } = run("picture", ...args, "--at", "1 s", "--out", "out.png");
      assert.equal(status, 0, stderr);
      assert.match(stdout, /^out\.png: \d+ kB\n$/);
      const png = PNG.sync.read(bytes("out.png"));
      assert.equal(png.width, width);
      // The page of every view is wider than it is high.
      assert.ok(width / 3 < png.height && png.height < width, `${png.height} px high`);
    }
  });

  it("gives the same bytes each time", () => {
    assert.equal(draw("one.png", "--width", "640").status, 0);
    assert.equal(draw("two.png", "--width", "640").status, 0);
    assert.ok(bytes("one.png").equals(bytes("two.png")));
  });

  it("replaces a picture of its own, and no other without being told", () => {
    assert.equal(draw("one.png", "--width", "320").status, 0);
    assert.equal(draw("one.png", "--width", "330").status, 0);
    assert.equal(PNG.sync.read(bytes("one.png")).width, 330);
    const other = PNG.sync.write(new PNG({ width: 8, height: 8 }));
    put("other.png", "");
    put("photograph.png", other.toString("latin1"));
    assert.equal(draw("other.png", "--width", "320").status, 0, "an empty file is nobody's");
    const kept = bytes("photograph.png");
    const refused = draw("photograph.png", "--width", "320");
    assert.equal(refused.status, 2);
    assert.match(refused.stderr, /photograph\.png is there and is not an older answer.*--force/);
    assert.ok(bytes("photograph.png").equals(kept));
    assert.equal(draw("photograph.png", "--width", "320", "--force").status, 0);
    assert.equal(PNG.sync.read(bytes("photograph.png")).width, 320);
    assert.deepEqual(
      readdirSync(folder()).filter((name) => name.startsWith(".")),
      [],
      "nothing is left beside it",
    );
  });

  it("says which letters its font does not have", () => {
    put("kettle.move.yaml", MOVE.replace("title: Lid", "title: Lid é Ω 茶壺茶"));
    const { status, stderr } = run(
      ...["picture", "kettle.move.yaml", "--view", "top", "--at", "0", "--out", "kettle.png", "--width", "320"],
    );
    assert.equal(status, 0, stderr);
    assert.equal(
      stderr,
      "movewright: kettle.png: the font of a PNG has no 茶 壺; name a file that ends in .svg to see them\n",
    );
  });

  it("says which widths there are", () => {
    for (const [width, why] of [
      ["159", /--width 159: the width of a PNG is a whole number of px from 160 to 7680/],
      ["7681", /--width 7681: .* from 160 to 7680/],
      ["12.5", /--width 12\.5: .*whole number/],
      ["wide", /--width wide: .*whole number/],
    ] as const) {
      const { status, stderr } = draw("out.png", "--width", width);
      assert.equal(status, 2, width);
      assert.match(stderr, why);
    }
    const svg = draw("out.svg", "--width", "400");
    assert.equal(svg.status, 2);
    assert.match(svg.stderr, /--width 400: an SVG is drawn at any width/);
  });

  it("says how to get PNG where the program stands alone, as in the packed extension, and draws SVG there", () => {
    const alone = mkdtempSync(join(tmpdir(), "cli-alone-"));
    try {
      mkdirSync(join(alone, "dist", "cli"), { recursive: true });
      const program = join(alone, "dist", "cli", "main.cjs");
      copyFileSync(main, program);
      copyFileSync(fileURLToPath(new URL("../package.json", import.meta.url)), join(alone, "package.json"));
      const tell = (out: string) =>
        spawnSync(
          process.execPath,
          [program, "picture", "good.move.yaml", "--view", "top", "--at", "0", "--out", out],
          {
            cwd: folder(),
            encoding: "utf8",
          },
        );
      const { status, stderr } = tell("alone.png");
      assert.equal(status, 2);
      assert.match(
        stderr,
        /^movewright: --out alone\.png: PNG needs the packages @resvg\/resvg-wasm and dejavu-fonts-ttf, which are not beside this program; name a file that ends in \.svg, or run `npm install --no-save @resvg\/resvg-wasm@\d+\.\d+\.\d+ dejavu-fonts-ttf@\d+\.\d+\.\d+` in .+\n$/,
      );
      assert.equal(tell("alone.svg").status, 0);
    } finally {
      rmSync(alone, { recursive: true, force: true });
    }
  });
});
