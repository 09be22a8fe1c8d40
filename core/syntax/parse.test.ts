import assert from "node:assert/strict";
import { MAX_DEPTH, MAX_TEXT } from "./caps.ts";
import { parseTree } from "./parse.ts";
import { valueOf, type TreeNode } from "./tree.ts";

/** The values of a tree without their places. */
function plain(node: TreeNode | undefined): unknown {
  const value = valueOf(node);
  if (!value) return undefined;
  if (value.kind === "scalar") return value.value;
  if (value.kind === "list") return value.items.map(plain);
  return Object.fromEntries(value.entries.map((entry) => [entry.name, plain(entry.value)]));
}

/** Pieces of text that the problems of `text` mark. */
const marked = (text: string, format: "yaml" | "json"): string[] =>
  parseTree(text, format).problems.map(({ code, span }) => `${code}: ${text.slice(span.start, span.end)}`);

describe("parseTree of YAML", () => {
  it("reads the 1.2 core schema", () => {
    const text = "a: 0x10\nb: 1e3\nc: true\nd: ~\ne: yes\nf: 01:00:00:00\ng: 2.4 s\nh: '3'\ni: |\n  x\n<<: 1\n";
    assert.deepEqual(plain(parseTree(text, "yaml").root), {
      a: 16,
      b: 1000,
      c: true,
      d: null,
      e: "yes",
      f: "01:00:00:00",
      g: "2.4 s",
      h: "3",
      i: "x\n",
      "<<": 1,
    });
  });

  it("gives each value its own span, in texts with a byte order mark, CRLF and characters beyond the BMP too", () => {
    const text = "\ufeffa: { é😀: [1, two] } # c\r\nb:\r\n  - 'q r'\r\n";
    const { root, problems, comments } = parseTree(text, "yaml");
    assert.deepEqual(problems, []);
    const seen: string[] = [];
    const visit = (node: TreeNode | undefined): void => {
      if (!node) return;
      if (node.kind === "scalar") seen.push(text.slice(node.start, node.end));
      if (node.kind === "list") node.items.forEach(visit);
      if (node.kind !== "map") return;
      for (const entry of node.entries) {
        seen.push(text.slice(entry.nameSpan.start, entry.nameSpan.end));
        visit(entry.value);
      }
    };
    visit(root);
    assert.deepEqual(seen, ["a", "é😀", "1", "two", "b", "'q r'"]);
    assert.deepEqual(
      comments.map((comment) => [text.slice(comment.start, comment.end), comment.text]),
      [["# c", "c"]],
    );
  });

  it("ends a block map where its last value ends, and keeps a name without a value", () => {
    const text = "keys:\n  - at: 0\n    aim:\n\n# far\nrest: 1\n";
    const { root } = parseTree(text, "yaml");
    assert.ok(root?.kind === "map");
    const list = root.entries[0].value;
    assert.ok(list?.kind === "list" && list.items[0]?.kind === "map");
    assert.equal(text.slice(list.items[0].start, list.items[0].end), "at: 0\n    aim:".slice(0, -1));
    assert.equal(list.items[0].entries[1].value, undefined);
  });

  it("takes `#` in a block scalar and in quotes for text", () => {
    assert.deepEqual(
      parseTree("a: |\n  # no\nb: '# no' # yes\n", "yaml").comments.map(({ text }) => text),
      ["yes"],
    );
  });

  it("marks what is broken and reads on", () => {
    assert.deepEqual(marked("a: [1, 2\nb: 3\n", "yaml"), ["syntax: ["]);
    assert.deepEqual(marked("a: 'x\nb: 3\n", "yaml"), ["syntax: '"]);
    assert.deepEqual(marked("a: 1}\n", "yaml"), []);
    assert.deepEqual(marked("a: {b: 1}}\n", "yaml"), ["syntax: }"]);
    assert.deepEqual(marked("a: *x\n", "yaml"), ["syntax: *x"]);
    assert.deepEqual(marked("a: &x [*x]\n", "yaml"), ["syntax: *x"]);
    assert.deepEqual(marked("a: 1\na: 2\n", "yaml"), ["duplicate-name: a"]);
    assert.deepEqual(marked("? [a]\n: 1\nb: 2\n", "yaml"), ["syntax: [a]"]);
    assert.deepEqual(plain(parseTree("a: [1, 2\nb: 3\n", "yaml").root), { a: [1, 2], b: 3 });
  });

  it("reports one fault a line", () => {
    assert.deepEqual(marked("a: b: c: d: e\nf: @x\ng: 1\n", "yaml").length, 2);
  });

  it("follows aliases to what stands before them, and stops a bomb of them", () => {
    assert.deepEqual(plain(parseTree("a: &x { b: 1 }\nc: *x\n", "yaml").root), { a: { b: 1 }, c: { b: 1 } });
    const levels = "bcdefghij".split("");
    const bomb = levels.map((name, i) => `${name}: &${name} [${`*${"abcdefghij"[i]}, `.repeat(9)}1]\n`);
    const text = `a: &a [1, 1, 1, 1, 1, 1, 1, 1, 1]\n${bomb.join("")}`;
    const before = performance.now();
    assert.deepEqual(
      parseTree(text, "yaml").problems.map(({ code }) => code),
      ["too-many-aliases"],
    );
    assert.ok(performance.now() - before < 2000);
  });
});

describe("parseTree of JSON", () => {
  it("reads what JSON.parse reads", () => {
    const text = '{ "a": [1, -2.5e3, 0.1, true, false, null, "x\\n\\u00e9\\"", {}, []], "b": { "c": "" } }';
    assert.deepEqual(plain(parseTree(text, "json").root), JSON.parse(text));
    assert.deepEqual(parseTree(text, "json").problems, []);
  });

  it("finds what YAML would let pass: comments, trailing commas, loose names, single quotes, other numbers", () => {
    assert.deepEqual(marked('{"a": 1,}', "json"), ["syntax: ,"]);
    assert.deepEqual(marked("// hm\n{}", "json"), ["syntax: // hm"]);
    assert.deepEqual(marked("{a: 1}", "json"), ["syntax: a"]);
    assert.deepEqual(marked("['a']", "json"), ["syntax: 'a'"]);
    for (const number of ["01", ".5", "5.", "+1", "0x10", "NaN", "Infinity", "-", "1e"]) {
      assert.deepEqual(marked(`[${number}]`, "json"), [`syntax: ${number}`]);
    }
    assert.deepEqual(marked('["a\tb"]', "json"), ["syntax: \t"]);
    assert.deepEqual(marked('["\\q"]', "json"), ["syntax: \\"]);
  });

  it("reads on after each fault", () => {
    const text = '{ "a": 1,\n b: 2,\n "c" 3,\n "d": [1 2,\n 3,],\n "e": tru\n}';
    const { root, problems } = parseTree(text, "json");
    assert.deepEqual(plain(root), { a: 1, b: 2, c: undefined, d: [1, 2, 3], e: "tru", "3": undefined });
    assert.equal(problems.length, 5);
    for (const { cure } of problems) for (const edit of cure?.edits ?? []) assert.ok(edit.span.start <= edit.span.end);
  });

  it("marks a bracket or a string that nothing closes", () => {
    assert.deepEqual(marked('{"a": [1, 2', "json"), ["syntax: {"]);
    assert.deepEqual(marked('{"a": "x', "json").slice(-1), ["syntax: {"]);
    assert.deepEqual(marked('{"a": 1} 2', "json"), ["syntax: 2"]);
  });

  it("keeps a number too large as infinity, for the reader to refuse", () => {
    assert.deepEqual(plain(parseTree("[1e400]", "json").root), [Infinity]);
  });
});

describe("caps", () => {
  it("refuse a text of 20 MB at once", () => {
    for (const format of ["yaml", "json"] as const) {
      const before = performance.now();
      const { problems, root } = parseTree("a: [1, 2, 3]\n".repeat(1_600_000), format);
      assert.deepEqual(
        problems.map(({ code }) => code),
        ["too-large"],
      );
      assert.equal(root, undefined);
      assert.ok(performance.now() - before < 200);
    }
    assert.ok(MAX_TEXT < 20_000_000);
  });

  it("let pass what is nested as deep as allowed, and stop one level deeper", () => {
    for (const format of ["yaml", "json"] as const) {
      const nested = (depth: number): string => `${"[".repeat(depth)}1${"]".repeat(depth)}`;
      assert.deepEqual(parseTree(nested(MAX_DEPTH), format).problems, []);
      assert.deepEqual(
        parseTree(nested(MAX_DEPTH + 1), format).problems.map(({ code }) => code),
        ["too-deep"],
      );
    }
  });

  it("stop a text that is nothing but opening marks", () => {
    for (const text of ["[", "{a: ", "- ", "? ", "a: ", "[{"].map((mark) => mark.repeat(500_000))) {
      const before = performance.now();
      const codes = parseTree(text, "yaml").problems.map(({ code }) => code);
      assert.ok(codes.includes("too-deep") || codes.includes("syntax"), codes.join());
      assert.ok(performance.now() - before < 2000);
    }
  });
});

describe("a conflict that a merge left", () => {
  it("is one finding, and the first side is read, with its places", () => {
    const text = "a: 1\n<<<<<<< ours\nb: 2\n||||||| base\nb: 0\n=======\nb: 3\n>>>>>>> theirs\nc: 4\n";
    const { root, problems } = parseTree(text, "yaml");
    assert.deepEqual(plain(root), { a: 1, b: 2, c: 4 });
    assert.deepEqual(
      problems.map(({ code, span }) => [code, text.slice(span.start, span.end)]),
      [["syntax", "<<<<<<< ours"]],
    );
    assert.ok(root?.kind === "map" && text.slice(root.entries[2].start, root.entries[2].end) === "c: 4");
  });

  it("is not seen in a heading underlined with equals signs", () => {
    assert.deepEqual(parseTree("note: |\n  x\n  =======\n", "yaml").problems, []);
  });
});
