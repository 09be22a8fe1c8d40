import assert from "node:assert/strict";
import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  readdirSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Outcome } from "./failure.ts";
import { runProgram } from "./program.ts";

const UNTIDY = "move:   1 # über\nkeys:\n- {at: 0 s,aim: lid}\n- {at: 10 s,aim: lid}";
const TIDY = "move: 1 # über\nkeys:\n  - { at:  0 s, aim: lid }\n  - { at: 10 s, aim: lid }\n";

describe("movewright format", () => {
  let folder: string;
  const put = (name: string, text: string): string => {
    mkdirSync(join(folder, name, ".."), { recursive: true });
    writeFileSync(join(folder, name), text);
    return join(folder, name);
  };
  const textOf = (path: string): string => readFileSync(path, "utf8");
  const run = (...args: string[]): Promise<Outcome> => runProgram(["format", ...args]);
  beforeEach(() => (folder = mkdtempSync(join(tmpdir(), "format-"))));
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  it("lays out all documents of a folder, says which, and leaves nothing else behind", async () => {
    const [a, b] = [put("a.move.yaml", UNTIDY), put("in/b.move.yaml", TIDY)];
    const other = put("notes.yaml", "x:    1");
    const outcome = await run(folder);
    assert.deepEqual([outcome.exit, outcome.notes], [0, []]);
    assert.equal(outcome.output, `${a}: laid out\n2 documents: 1 laid out already, 1 laid out\n`);
    assert.deepEqual([textOf(a), textOf(b), textOf(other)], [TIDY, TIDY, "x:    1"]);
    assert.deepEqual(readdirSync(folder).sort(), ["a.move.yaml", "in", "notes.yaml"]);
    assert.equal((await run(folder)).output, "2 documents: 2 laid out already\n");
  });

  it("writes nothing with --check, and answers 1 where a document differs", async () => {
    const path = put("a.move.yaml", UNTIDY);
    const outcome = await run(path, "--check");
    assert.deepEqual([outcome.exit, outcome.output], [1, `${path}: to be laid out\n1 document: 1 to be laid out\n`]);
    assert.equal(textOf(path), UNTIDY);
    assert.equal((await run(put("b.move.yaml", TIDY), "--check")).exit, 0);
  });

  it("leaves a document with a fault alone, says where it is, and does the others", async () => {
    const broken = put("a.move.yaml", "move:   1\nkeys: [\n");
    const other = put("b.move.yaml", UNTIDY);
    const outcome = await run(folder);
    assert.equal(outcome.exit, 1);
    assert.equal(outcome.notes?.length, 1);
    assert.ok(
      outcome.notes?.[0].startsWith(`movewright: ${broken} is left as it is: line 2: This \`[\` is never closed`),
    );
    assert.deepEqual([textOf(broken), textOf(other)], ["move:   1\nkeys: [\n", TIDY]);
  });

  it("keeps the step of indentation of a JSON text, its line ends and its mark of the byte order", async () => {
    for (const step of ["\t", "   ", "  "]) {
      const path = put("a.move.json", `\ufeff{\r\n${step}"move":1,\r\n"keys":[]}`);
      assert.equal((await run(path)).exit, 0);
      assert.equal(textOf(path), `\ufeff{\r\n${step}"move": 1,\r\n${step}"keys": []\r\n}\r\n`);
    }
    const bare = put("b.move.json", '{\n"move":1}');
    assert.equal((await run(bare)).exit, 0);
    assert.equal(textOf(bare), '{\n  "move": 1\n}\n');
  });

  it("leaves columns as they come when asked to", async () => {
    const path = put("a.move.yaml", UNTIDY);
    assert.equal((await run(path, "--no-align-keys")).exit, 0);
    assert.equal(textOf(path), TIDY.replace("at:  0", "at: 0"));
  });

  it("answers in JSON", async () => {
    const [a, b] = [put("a.move.yaml", UNTIDY), put("b.move.yaml", "move: [")];
    const { output, exit } = await run(folder, "--format", "json");
    const reason = "is left as it is: line 1: This `[` is never closed, or what it holds is not indented.";
    assert.equal(exit, 1);
    assert.deepEqual(JSON.parse(output), {
      version: 1,
      files: [
        { path: a, state: "changed" },
        { path: b, state: "left", reason },
      ],
    });
  });

  it("answers 2 where a document can't be written, with one line, and does the others", async function () {
    const [target, other] = [put("in/a.move.yaml", UNTIDY), put("in/b.move.yaml", UNTIDY)];
    const link = join(folder, "link.move.yaml");
    symlinkSync(target, link);
    const outcome = await run(link, other);
    assert.equal(outcome.exit, 2);
    assert.deepEqual(outcome.notes, [`movewright: ${link} is a link; name the file that it leads to`]);
    assert.deepEqual([textOf(target), textOf(other)], [UNTIDY, TIDY]);
    if (process.getuid?.() === 0) return;
    chmodSync(target, 0o444);
    const second = await run(target);
    chmodSync(target, 0o644);
    assert.equal(second.exit, 2);
    assert.equal(textOf(target), UNTIDY);
  });

  it("says in one line why it could not run", async () => {
    const path = join(folder, "none.move.yaml");
    assert.deepEqual(await run(path), { output: "", exit: 2, notes: [`movewright: ${path} is not there`] });
  });
});
