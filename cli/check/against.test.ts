import assert from "node:assert/strict";
import { existsSync, readFileSync, symlinkSync } from "node:fs";
import { join } from "node:path";
import { KIT } from "../../test/fixtures/kit.ts";
import { testFolder, type TestFolder, type TestRepository } from "../../test/support/repository.ts";
import { MOVE } from "../../test/support/shipped-program.ts";
import type { Outcome } from "../failure.ts";
import { runProgram } from "../program.ts";

const LID = MOVE.replaceAll("kit/", "../kit/");
const FAST = LID.replace("at: 2 s", "at: 0.6 s");
const SLOWER = KIT["slider.rig.yaml"].replace("speed: 0.5", "speed: 0.2");

interface Answer {
  readonly since?: string;
  readonly breaking?: readonly {
    path: string;
    range: { start: { line: number } };
    message: string;
    breaks: string[];
  }[];
  readonly files: readonly { path: string; findings: { code: string; known?: string; severity: string }[] }[];
}

describe("movewright check against a base", () => {
  let all: TestFolder;
  let made: TestRepository;
  let count = 0;
  const home = process.cwd();
  before(() => (all = testFolder("check-since")));
  after(() => all.remove());
  beforeEach(() => {
    made = all.repository(`r${count++}`);
    const kit = Object.entries(KIT).map(([name, text]) => [`kit/${name}`, text]);
    made.put({ ...Object.fromEntries(kit), "moves/lid.move.yaml": LID, "moves/fast.move.yaml": FAST });
    made.commit("one");
    process.chdir(made.folder);
  });
  afterEach(() => process.chdir(home));

  const run = async (...args: string[]): Promise<Outcome> => {
    const before = process.env;
    process.env = { ...all.env, NO_COLOR: "1" };
    try {
      return await runProgram(["check", ...args]);
    } finally {
      process.env = before;
    }
  };
  const json = async (...args: string[]): Promise<Answer & { exit: number }> => {
    const { output, exit, notes } = await run(...args, "--format", "json");
    assert.notEqual(output, "", notes?.join("\n"));
    return { ...(JSON.parse(output) as Answer), exit };
  };
  /** `PATH CODE`, each once, of what counts. */
  const counted = ({ files }: Answer): string[] => [
    ...new Set(
      files.flatMap(({ path, findings }) => findings.flatMap(({ code, known }) => (known ? [] : `${path} ${code}`))),
    ),
  ];

  it("counts nothing where nothing changed, and fails without a base", async () => {
    const since = await json("--since", "HEAD", "moves");
    assert.deepEqual([since.exit, counted(since), since.breaking], [0, [], []]);
    assert.ok(since.files.some(({ findings }) => findings.some(({ known }) => known === "base")));
    const plain = await json("moves");
    assert.equal(plain.exit, 1);
    assert.deepEqual([plain.since, plain.breaking], [undefined, undefined]);
    assert.ok(plain.files.every(({ findings }) => findings.every((one) => !("known" in one))));
  });

  it("knows findings again when lines, comments and values move, and counts new ones", async () => {
    made.put({
      "moves/fast.move.yaml": FAST.replace("title: Lid", "# quicker\n\ntitle: Lid").replace("0.6 s", "0.59 s"),
    });
    const moved = await json("--since", "HEAD", "moves");
    assert.deepEqual([moved.exit, counted(moved)], [0, []]);
    made.put({ "moves/lid.move.yaml": FAST, "moves/new.move.yaml": FAST });
    const more = await json("--since", "HEAD", "moves");
    assert.equal(more.exit, 1);
    assert.ok(counted(more).includes("moves/lid.move.yaml axis-speed"), counted(more).join("\n"));
    assert.ok(counted(more).includes("moves/new.move.yaml axis-speed"));
    assert.ok(counted(more).every((one) => !one.startsWith("moves/fast")));
    // Their own lines tell of themselves.
    assert.deepEqual(more.breaking, []);
  });

  it("tells on the line of a lowered limit which moves it breaks, in each format", async () => {
    made.put({ "kit/slider.rig.yaml": SLOWER });
    const since = await json("--since", "HEAD", "moves");
    assert.equal(since.exit, 1);
    assert.deepEqual(counted(since), ["moves/lid.move.yaml axis-speed"]);
    const line = SLOWER.split("\n").findIndex((text) => text.includes("speed: 0.2"));
    const [change, ...others] = since.breaking ?? [];
    assert.deepEqual(others, []);
    assert.deepEqual(
      [change.path, change.range.start.line, change.breaks],
      ["kit/slider.rig.yaml", line, ["moves/lid.move.yaml"]],
    );
    assert.equal(
      change.message,
      "`chain.slide.limits.speed` was 0.5 m/s and is 0.2 m/s: this change breaks 1 move: moves/lid.move.yaml.",
    );
    const files = ["text", "sarif", "junit", "github", "markdown"].map((format) => [
      "--out",
      `${format}=out.${format}`,
    ]);
    const { output } = await run("--since", "HEAD", "moves", ...files.flat());
    assert.match(output, new RegExp(`^kit/slider\\.rig\\.yaml:${line + 1}:\\d+: error breaks-moves .*this change breaks 1 move`, "m")); // prettier-ignore
    for (const [, option] of files)
      assert.match(readFileSync(option.slice(option.indexOf("=") + 1), "utf8"), /this change breaks 1 move/, option);
  });

  it("tells it of a set and of a config, and not of another layout", async () => {
    const set = KIT["table.set.yaml"];
    made.put({ "kit/table.set.yaml": set.replace("[2, 0, 1.1]", "[0.4, 0, 1.1]") });
    const moved = await json("--since", "HEAD", "moves");
    assert.deepEqual(
      moved.breaking?.map(({ path, breaks }) => [path, breaks]),
      [["kit/table.set.yaml", ["moves/fast.move.yaml", "moves/lid.move.yaml"]]],
      JSON.stringify(counted(moved)),
    );
    assert.match(moved.breaking![0].message, /^`targets\.lid\.at` was .* and is .*: this change breaks 2 moves/);
    made.put({
      "kit/table.set.yaml": `# The table.\n${set}`,
      "movewright.config.yaml": "config: 1\nseverity: { judder: error }\n",
    });
    const config = await json("--since", "HEAD", "moves");
    assert.deepEqual(counted(config), ["moves/fast.move.yaml judder"]);
    assert.deepEqual(
      config.breaking?.map(({ path, breaks }) => [path, breaks]),
      [["movewright.config.yaml", ["moves/fast.move.yaml"]]],
    );
  });

  it("compares with the last commit in common, and takes a renamed document for the same", async () => {
    made.git("checkout", "-q", "-b", "ours");
    made.git("mv", "moves/fast.move.yaml", "moves/quick.move.yaml");
    made.commit("rename");
    made.git("checkout", "-q", "main");
    made.put({ "moves/fast.move.yaml": LID });
    made.commit("mended by others");
    made.git("checkout", "-q", "ours");
    const since = await json("--since", "main", "moves");
    assert.deepEqual([since.exit, counted(since)], [0, []]);
  });

  it("finds its way from a folder within, through a link, and to documents outside", async () => {
    symlinkSync(made.folder, join(all.folder, `link${count}`));
    process.chdir(join(all.folder, `link${count}`, "moves"));
    assert.deepEqual(counted(await json("--since", "HEAD", ".", "../kit")), []);
    const outside = all.repository(`outside${count}`);
    outside.put({ "b.rig.yaml": "rig: 1\n" });
    const { notes, exit } = await run("--since", "HEAD", join(outside.folder, "b.rig.yaml"));
    assert.equal(exit, 1);
    assert.match(notes!.join("\n"), /1 of the documents are outside of the repository/);
  });

  it("says in one line why it can't compare", async () => {
    for (const [args, why] of [
      [["--since", "nowhere"], /`nowhere` is no revision/],
      [["--since", "--output=x"], /`--output=x` is no revision/],
      [["--baseline", "none.json"], /none\.json is not there/],
      [["--baseline", "moves/lid.move.yaml"], /lid\.move\.yaml is no baseline/],
      [["--baseline", "a.json", "--write-baseline", "b.json"], /--write-baseline/],
      [["--max-warnings", "-1"], /whole number/],
      [["--out", "sarif"], /write FORMAT=FILE/],
      [["--out", "xml=a.xml"], /text, json, sarif, junit, github, markdown/],
      [["--out", "json=a.txt", "--out", "text=a.txt"], /names a\.txt twice/],
      [["--out", "sarif=moves/lid.move.yaml"], /is there and is not an older answer/],
      [["--out", "sarif=none/a.sarif"], /its folder is not there/],
    ] as const) {
      const { exit, output, notes } = await run(...args, "moves");
      assert.deepEqual([exit, output], [2, ""], args.join(" "));
      assert.match(notes!.join("\n"), why);
      assert.equal(notes!.length, 1);
    }
    assert.equal(readFileSync("moves/lid.move.yaml", "utf8"), LID);
  });

  it("lists what is known in a file that reads well, and tells what no longer applies", async () => {
    const { exit, notes } = await run("moves", "--write-baseline", "known.json");
    assert.equal(exit, 0);
    assert.match(notes!.join("\n"), /known\.json lists \d+ known findings/);
    const text = readFileSync("known.json", "utf8");
    const entries = text.split("\n").filter((line) => line.startsWith("    {"));
    assert.ok(entries.length > 2);
    assert.deepEqual([...entries].sort(), entries);
    for (const line of entries)
      assert.match(line, /^ {4}\{"path":"moves\/fast\.move\.yaml","code":"[a-z-]+","element":"[^"]+"/);
    const known = await json("moves", "--baseline", "known.json");
    assert.deepEqual([known.exit, counted(known)], [0, []]);
    // Again: the same bytes, in the place of the older one.
    await run("moves", "--write-baseline", "known.json");
    assert.equal(readFileSync("known.json", "utf8"), text);
    made.put({ "moves/lid.move.yaml": FAST, "moves/fast.move.yaml": LID });
    const { exit: worse, notes: stale } = await run("moves", "--baseline", "known.json");
    assert.equal(worse, 1);
    assert.match(
      stale!.join("\n"),
      /lists findings that are not there any more.*\n.*moves\/fast\.move\.yaml: axis-accel at keys/,
    );
    // Of what was not checked nothing is said.
    assert.deepEqual((await run("kit", "--baseline", "known.json")).notes, []);
    // From another folder the paths are those of the file.
    process.chdir("moves");
    assert.ok(counted(await json("fast.move.yaml", "--baseline", "../known.json")).every((one) => !/axis/.test(one)));
  });

  it("refuses a baseline of another version or shape", async () => {
    for (const [text, why] of [
      ['{ "baseline": 2, "known": [] }', /version 2; this program reads version 1/],
      ['{ "baseline": 1 }', /`known` must be a list/],
      ['{ "baseline": 1, "known": [{ "path": "a" }] }', /item 1 of `known` must have/],
      ['{ "baseline": 1, "known": [{ "path": "a", "code": "b", "element": "c", "count": 0 }] }', /`count` is 0/],
      ["{", /is no baseline/],
    ] as const) {
      made.put({ "known.json": text });
      const { exit, notes } = await run("moves", "--baseline", "known.json");
      assert.equal(exit, 2);
      assert.match(notes![0], why);
    }
  });

  it("fails with more warnings than are to be, and writes no file of somebody else's", async () => {
    made.put({ "moves/warned.move.yaml": LID.replace("title: Lid", "# allow blur: nothing smears here\ntitle: Lid") });
    const warned = async (...args: string[]): Promise<number> => (await run("moves/warned.move.yaml", ...args)).exit;
    assert.deepEqual(
      [
        await warned(),
        await warned("--max-warnings", "1"),
        await warned("--max-warnings", "0"),
        await warned("--strict"),
      ],
      [0, 0, 1, 1],
    );
    made.put({ "mine.txt": "mine" });
    assert.equal((await run("moves", "--out", "json=mine.txt")).exit, 2);
    assert.equal(readFileSync("mine.txt", "utf8"), "mine");
    assert.equal((await run("moves", "--out", "json=mine.txt", "--force")).exit, 1);
    for (const format of ["json", "text", "sarif", "junit", "github", "markdown"]) {
      for (const _ of [1, 2]) assert.notEqual((await run("moves", "--out", `${format}=out.${format}`)).exit, 2, format);
    }
    assert.ok(existsSync("out.sarif"));
  });
});
