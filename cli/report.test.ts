import assert from "node:assert/strict";
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium, type Browser } from "playwright-core";
import { chromiumFlags, findChromium } from "../scripts/testing/chromium.mjs";
import { KIT } from "../test/fixtures/kit.ts";
import { complaintsOf } from "../test/stage/axe.ts";
import { testFolder, type TestRepository } from "../test/support/repository.ts";
import type { Outcome } from "./failure.ts";
import { runProgram } from "./program.ts";
import { pageNames } from "./report/page-names.ts";

const move = (title: string, slide = "0.3"): string => `move: 1
title: ${JSON.stringify(title)}
rig: ../kit/slider.rig.yaml
camera: { use: ../kit/a.camera.yaml, lens: wide }
set: ../kit/table.set.yaml
rate: 24
keys:
  - { at: 0 s, name: left, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 2 s, name: right, axes: { slide: ${slide} } }
`;
const ODD = `moves/a "b" <i>' & c.move.yaml`;
const TITLE = "<script>alert(1)</script> | ]]> \u202e\u0007";

describe("movewright report", function () {
  this.timeout(120_000);
  const home = process.cwd();
  const test = testFolder("movewright-report");
  let repository: TestRepository;
  let base: string;
  let browser: Browser | undefined;
  const read = (path: string): string => readFileSync(join(repository.folder, path), "utf8");
  const report = (...args: string[]): Promise<Outcome> =>
    runProgram(["report", "moves", "kit", "--jobs", "1", ...args]);

  before(() => {
    repository = test.repository("job");
    const kit = Object.fromEntries(Object.entries(KIT).map(([name, text]) => [`kit/${name}`, text]));
    repository.put({
      ...kit,
      "moves/rise.move.yaml": move("Rise"),
      [ODD]: move(TITLE),
      "moves/torn.move.yaml": "move: [1",
    });
    base = repository.commit("first");
    repository.put({ "moves/rise.move.yaml": move("Rise", "0.34") });
    process.chdir(repository.folder);
  });
  after(async () => {
    await browser?.close();
    process.chdir(home);
    test.remove();
  });

  it("writes an index, and of each move a page, pictures and the stage, the same bytes each time", async () => {
    const { exit, output } = await report("--out", "one", "--against", base);
    assert.equal(exit, 1);
    assert.match(output, /^one\/index\.html: \d+ kB$/m);
    await report("--out", "two", "--against", base);
    const files = readdirSync("one", { recursive: true, withFileTypes: true }).filter((one) => one.isFile());
    const paths = files.map((one) => join(one.parentPath, one.name).slice("one/".length)).sort();
    assert.equal(paths.filter((path) => path.startsWith("moves/")).length, 3);
    assert.equal(paths.filter((path) => path.startsWith("stages/")).length, 3);
    for (const path of paths) {
      assert.equal(read(`one/${path}`), read(`two/${path}`), path);
      assert.ok(!read(`one/${path}`).includes(repository.folder), `${path} tells where it was made`);
    }
    const { files: listed } = JSON.parse(read("one/report.json")) as { files: { path: string }[] };
    assert.deepEqual([...listed.map(({ path }) => path), "report.json"].sort(), paths);
  });

  it("says what changed, and why a move has no pictures", () => {
    const index = read("one/index.html");
    assert.match(index, /path up to 40 mm at 2 s/);
    assert.match(index, /no motion change/);
    assert.match(index, /never says that a move is safe/);
    const rise = read("one/moves/moves-rise.html");
    assert.match(rise, /What changed/);
    assert.match(rise, /class="graph-before"/);
    assert.match(rise, /with the move of before as a ghost/);
    const torn = read("one/moves/moves-torn.html");
    assert.match(torn, /can’t be solved/);
    assert.match(torn, /moves\/torn\.move\.yaml:1/);
    assert.ok(index.indexOf("torn.move.yaml") < index.indexOf("rise.move.yaml"), "the worst is not first");
  });

  it("lets no text of a document be more than text", () => {
    const page = read("one/moves/moves-a-b-i-c.html");
    for (const text of [page, read("one/index.html")]) {
      assert.ok(!/<script/i.test(text));
      assert.ok(!text.includes("\u202e") && !text.includes("\u0007"));
      assert.match(text, /&lt;script&gt;alert\(1\)&lt;\/script&gt; \| \]\]&gt; \\u202e\\x07/);
    }
  });

  it("opens from the disk, accessible, without scripts and within 360 px, and prints", async () => {
    browser = await chromium.launch({ executablePath: findChromium(), args: chromiumFlags });
    for (const colorScheme of ["light", "dark"] as const) {
      const page = await browser.newPage({ viewport: { width: 360, height: 700 }, colorScheme });
      for (const path of ["index.html", "moves/moves-rise.html", "moves/moves-torn.html"]) {
        await page.goto(pathToFileURL(join(repository.folder, "one", path)).href);
        assert.deepEqual(await complaintsOf(page, `${path} ${colorScheme}`), []);
        const wide = await page.evaluate(() => document.documentElement.scrollWidth);
        assert.ok(wide <= 360, `${path} is ${wide} px wide`);
        const links = await page.evaluate(() => [...document.querySelectorAll("a")].map(({ href }) => href));
        for (const link of links) assert.ok(existsSync(new URL(link)), link);
        const blank = await page.evaluate(async () => {
          const all = [...document.images];
          for (const image of all) image.loading = "eager";
          await Promise.all(all.map((image) => image.decode().catch(() => undefined)));
          return all.filter(({ naturalWidth }) => naturalWidth === 0).map(({ src }) => src);
        });
        assert.deepEqual(blank, []);
      }
      const pdf = await page.pdf({ format: "A4" });
      assert.equal(pdf.subarray(0, 5).toString(), "%PDF-");
      await page.close();
    }
  });

  it("replaces an older report alone, and leaves it whole where it fails", async () => {
    assert.equal((await report("--out", "two")).exit, 1);
    assert.ok(!read("two/index.html").includes("What changed"));
    const gone = await report("--out", "two", "--against", "no-such-revision");
    assert.equal(gone.exit, 2);
    assert.ok(existsSync("two/index.html"));
    assert.deepEqual(
      readdirSync(".").filter((name) => name.startsWith(".two")),
      [],
    );
    writeFileSync("two/notes.txt", "mine");
    const refused = await report("--out", "two");
    assert.equal(refused.exit, 2);
    assert.match(refused.notes?.join() ?? "", /two holds notes\.txt, .* --force/);
    assert.equal(read("two/notes.txt"), "mine");
    assert.equal((await report("--out", "two", "--force")).exit, 1);
    assert.ok(!existsSync("two/notes.txt"));
    mkdirSync("free");
    assert.equal((await runProgram(["report", "kit", "--out", "free"])).exit, 0);
    rmSync("free", { recursive: true });
    for (const out of [".", "moves"]) {
      const { exit, notes } = await report("--out", out, "--force");
      assert.equal(exit, 2, out);
      assert.match(notes?.join() ?? "", /a report would replace/);
    }
  });

  it("gives each page a name of its own that any disk takes", () => {
    const names = pageNames(["a/b.move.yaml", "a-b.move.yaml", "A/B.move.json", "\u00fc.move.yaml", "con.move.yaml", "../..move.yaml", `${"x".repeat(300)}.move.yaml`]); // prettier-ignore
    assert.equal(new Set(names).size, names.length);
    for (const name of names) assert.match(name, /^[a-z0-9][a-z0-9-]{0,63}$/);
    assert.deepEqual(names.slice(0, 3), ["a-b", "a-b-2", "a-b-3"]);
  });
});
