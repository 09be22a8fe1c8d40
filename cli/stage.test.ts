import assert from "node:assert/strict";
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, symlinkSync } from "node:fs";
import { join } from "node:path";
import { inflateSync } from "node:zlib";
import { DATA_ID, type AlonePage } from "../protocol/alone-page.ts";
import { MOVE, shippedProgram } from "../test/support/shipped-program.ts";
import { withinRoom } from "./stage-page/page-room.ts";
import { buildAll } from "../scripts/build.mjs";

/** A minute with a key each 1.5 s, from a rig of nine axes and a turntable, that has the axes run to and fro. */
function longMove(): string {
  const keys = Array.from({ length: 41 }, (_, i) => {
    const [dolly, swing, lift] = [0.9 + ((i * 37) % 11) / 12, 4 + ((i * 53) % 13) * 1.2, -8 + ((i * 29) % 17) * 2.9];
    const aim = `aim: { ${i === 0 ? "at: lid, " : ""}framing: [${0.4 + ((i * 3) % 7) * 0.03}, 0.44] }`;
    return `  - { at: ${i * 1.5} s, axes: { dolly: ${dolly}, swing: ${swing}, lift: ${lift}, plate: ${(i % 5) * 12} }, ${aim} }\n`;
  });
  return `move: 1
title: A minute
rig: demo/kit/floor.rig.yaml
camera: { use: demo/kit/a-cam.camera.yaml, lens: prime-35 }
set: demo/teapots.set.yaml
rate: 25
place: { at: [-0.9, -0.35], heading: 6 }
setup: { column: 1.25, boom: 1.2 }
keys:
${keys.join("")}`;
}

/** What a page was made of, as it lies in the page. */
function pageIn(html: string): AlonePage {
  const packed = new RegExp(`id="${DATA_ID}">([^<]*)<`).exec(html);
  assert.ok(packed);
  return JSON.parse(inflateSync(Buffer.from(packed[1], "base64")).toString("utf8")) as AlonePage;
}

describe("movewright stage", function () {
  this.timeout(240_000);
  const { folder, put, run } = shippedProgram("stage");
  const FAST = MOVE.replace("at: 2 s", "at: 0.2 s");
  before(async () => {
    await buildAll({ ifStale: true });
    put("fast.move.yaml", FAST);
  });
  const read = (name: string): string => readFileSync(join(folder(), name), "utf8");

  it("writes a page, says how large it is, and nothing is left beside it", () => {
    const before = readdirSync(folder());
    const { status, stdout, stderr } = run("stage", "good.move.yaml", "--out", "good.html");
    assert.equal(status, 0, stderr);
    assert.match(stdout, /^good\.html: \d+ kB, 0 findings\n$/);
    assert.equal(stderr, "");
    assert.deepEqual(readdirSync(folder()), [...before, "good.html"].sort());
    assert.match(read("good.html"), /<title>Lid<\/title>/);
  });

  it("writes a page of a move with errors too, with the exit code of `check`, and replaces its own", () => {
    const { status, stderr } = run("stage", "fast.move.yaml", "--out", "good.html");
    assert.equal(status, 1);
    assert.match(stderr, /^fast\.move\.yaml:\d+:\d+: error axis-speed /);
    assert.equal(run("check", "fast.move.yaml").status, 1);
    assert.match(read("good.html"), /error: axis-speed/);
    put("empty.html", "");
    assert.equal(run("stage", "fast.move.yaml", "--out", "empty.html").status, 1);
    assert.match(read("empty.html"), /error: axis-speed/);
    put("broken.move.yaml", "move: 1\nkeys: [");
    const broken = run("stage", "broken.move.yaml", "--out", "broken.html");
    assert.equal(broken.status, 1);
    assert.match(read("broken.html"), /The move can&#39;t|The move can't be solved yet\./);
  });

  it("replaces nothing else unless it is forced to, and no folder and no link ever", () => {
    put("notes.html", "<!DOCTYPE html>\nmine\n");
    const refused = run("stage", "good.move.yaml", "--out", "notes.html");
    assert.equal(refused.status, 2);
    assert.match(refused.stderr, /^movewright: notes\.html is there and is not an older answer .*--force\n$/);
    assert.equal(read("notes.html"), "<!DOCTYPE html>\nmine\n");
    assert.equal(run("stage", "good.move.yaml", "--out", "notes.html", "--force").status, 0);
    assert.match(read("notes.html"), /<title>Lid<\/title>/);
    mkdirSync(join(folder(), "folder.html"));
    symlinkSync("notes.html", join(folder(), "link.html"));
    for (const [out, why] of [
      ["folder.html", /is no file/],
      ["link.html", /is a link; name the file that it leads to/],
      ["none/page.html", /its folder is not there/],
      ["good.move.yaml", /name a file that ends in \.html/],
    ] as const) {
      const { status, stderr } = run("stage", "good.move.yaml", "--out", out, "--force");
      assert.equal(status, 2, out);
      assert.match(stderr, why);
      assert.equal(stderr.split("\n").length, 2);
    }
    assert.equal(run("stage", "good.move.yaml").status, 2);
    assert.equal(run("stage", "kit/slider.rig.yaml", "--out", "rig.html").status, 2);
    assert.ok(!existsSync(join(folder(), "rig.html")));
  });

  it("gives the same bytes each time", () => {
    run("stage", "good.move.yaml", "--out", "one.html");
    run("stage", "good.move.yaml", "--out", "two.html");
    assert.equal(read("one.html"), read("two.html"));
  });

  it("compares with another move, whose place on the disk it does not tell", () => {
    const plain = run("stage", "good.move.yaml", "--out", "one.html");
    const { status, stdout, stderr } = run(
      "stage",
      "good.move.yaml",
      "--against",
      "fast.move.yaml",
      "--out",
      "two.html",
    );
    assert.equal(status, 0, "findings of the other move are not those of this one");
    assert.equal(stderr, "");
    const sizeOf = (words: string): number => Number(/: (\d+) kB/.exec(words)?.[1]);
    assert.ok(sizeOf(stdout) > sizeOf(plain.stdout), stdout);
    const page = pageIn(read("two.html"));
    assert.equal(page.ghost?.label, "fast");
    assert.equal(page.ghost?.take.duration, 0.2);
    assert.deepEqual(page.ghost?.take.findings, []);
    assert.ok(!JSON.stringify(page).includes(folder()));
    assert.equal(pageIn(read("one.html")).ghost, undefined);
  });

  it("says why there is nothing to compare with, and writes nothing then", () => {
    for (const [against, why] of [
      ["broken.move.yaml", /^movewright: --against broken: The move can't be solved yet\./],
      ["none.move.yaml", /^movewright: none\.move\.yaml is not there\n$/],
      ["kit/slider.rig.yaml", /is a rig document; a move document is needed here/],
    ] as const) {
      const { status, stderr } = run("stage", "good.move.yaml", "--against", against, "--out", "none.html");
      assert.equal(status, 2, against);
      assert.match(stderr, why);
      assert.ok(!existsSync(join(folder(), "none.html")));
    }
  });

  it("leaves out what is compared with where it has no room, and says so", () => {
    run("stage", "good.move.yaml", "--against", "fast.move.yaml", "--out", "two.html");
    const whole = pageIn(read("two.html"));
    const program = { script: "", style: "" };
    const all = withinRoom(whole, program);
    assert.deepEqual(all.left, []);
    assert.ok(all.page.ghost);
    const size = Buffer.byteLength(all.text);
    assert.ok(withinRoom(whole, program, size).page.ghost);
    const { page, text, left } = withinRoom(whole, program, size - 1);
    assert.equal(page.ghost, undefined);
    assert.equal(pageIn(text).ghost, undefined);
    const [kB, room] = [size, size - 1].map((bytes) => Math.ceil(bytes / 1000));
    assert.deepEqual(left, [
      `fast is not in the page: with it the page would have ${kB} kB, and a page with a comparison may have ${room} kB.`,
    ]);
  });

  it("stays below 1.5 MB for a minute of a rig of nine axes with hundreds of findings", () => {
    const demo = new URL("../examples/", import.meta.url);
    for (const name of ["kit/floor.rig.yaml", "kit/a-cam.camera.yaml", "teapots.set.yaml"]) {
      put(`demo/${name}`, readFileSync(new URL(name, demo), "utf8"));
    }
    put("long.move.yaml", longMove());
    const { stdout, stderr } = run("stage", "long.move.yaml", "--out", "long.html");
    const findings = Number(/(\d+) findings/.exec(stdout)?.[1]);
    assert.ok(findings > 100, stdout + stderr);
    const { size } = statSync(join(folder(), "long.html"));
    assert.ok(size < 1_500_000, `${size} bytes`);
    const compared = run("stage", "long.move.yaml", "--against", "long.move.yaml", "--out", "long.html");
    const both = statSync(join(folder(), "long.html")).size;
    assert.ok(both < 1_500_000, `${both} bytes`);
    const hasGhost = pageIn(read("long.html")).ghost !== undefined;
    assert.equal(/long is not in the page/.test(compared.stderr), !hasGhost);
  });
});
