import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { parse as parseYamlLibrary } from "yaml";
import { SHAPES, type SchemaKind } from "../schema/documents.ts";
import { parseTree } from "../syntax/parse.ts";
import { anyValue, changed } from "../../test/fuzz/any-document.ts";
import { randomChoices, type Random } from "../../test/fuzz/random.ts";
import { CAMERA, MOVES, RIGS, SET } from "../../test/fuzz/sound-documents.ts";
import { convertDialect } from "./convert-dialect.ts";

type Format = "yaml" | "json";

const convert = (text: string, format: Format) => convertDialect(text, parseTree(text, format));

/** The converted text; fails where there is none. */
function converted(text: string, format: Format): string {
  const made = convert(text, format);
  if ("refusal" in made) assert.fail(`${made.refusal}\n${text}`);
  return made.text;
}

function refusal(text: string, format: Format): string {
  const made = convert(text, format);
  if (!("refusal" in made)) assert.fail(`converted:\n${made.text}`);
  return made.refusal;
}

describe("converting a document", () => {
  const folder = new URL("../../examples/broken/", import.meta.url);
  const pairs = readdirSync(folder).filter((name) => name.endsWith(".yaml"));

  it("gives the JSON that stands beside each broken document of the examples, number for number", () => {
    let count = 0;
    for (const name of pairs) {
      const yaml = readFileSync(new URL(name, folder), "utf8");
      const tree = parseTree(yaml, "yaml");
      // What is said twice has no JSON.
      if (tree.problems.length > 0 || /# allow /.test(yaml)) continue;
      const json = readFileSync(new URL(name.replace(/yaml$/, "json"), folder), "utf8");
      // `1.0` stays as it is written; the examples' JSON was written from values.
      const made = converted(yaml, "yaml").replaceAll(/(?<=[\d])\.0(?=[,\]\n])/g, "");
      assert.equal(made, json.replaceAll(/\.(rig|camera|set|move)\.json"/g, '.$1.yaml"'), name);
      count += 1;
    }
    assert.ok(count > 30, `${count} compared`);
  });

  it("gives YAML of JSON that another reader takes for the same, laid out as documents are", () => {
    for (const name of pairs) {
      const json = readFileSync(new URL(name.replace(/yaml$/, "json"), folder), "utf8");
      if (parseTree(json, "json").problems.length > 0) continue;
      const yaml = converted(json, "json");
      assert.deepEqual(parseYamlLibrary(yaml), JSON.parse(json), name);
      assert.ok(
        yaml.split("\n").every((line) => line.length <= 120),
        name,
      );
    }
    const key = JSON.stringify({
      move: 1,
      camera: { use: "kit/a.camera.yaml", lens: "wide" },
      keys: [
        { at: "0 s", name: "lid", axes: { slide: 0.25, plate: 0 }, aim: { at: "lid", framing: [0.5, 0.5] } },
        { at: "01:00:02:10", ease: { linear: { ramp: "1 s" } }, note: "first line\nsecond: line\n" },
      ],
    });
    assert.equal(
      converted(key, "json"),
      `move: 1
camera: { use: kit/a.camera.yaml, lens: wide }
keys:
  - at: 0 s
    name: lid
    axes: { slide: 0.25, plate: 0 }
    aim: { at: lid, framing: [0.5, 0.5] }
  - at: "01:00:02:10"
    ease: { linear: { ramp: 1 s } }
    note: |
      first line
      second: line
`,
    );
  });

  it("keeps texts that a reader of YAML could take for something else", () => {
    const texts = [
      ...[
        "",
        " ",
        "a b ",
        "yes",
        "No",
        "null",
        "~",
        "true",
        "1",
        "1.0",
        "1e3",
        "0x1f",
        "1:30",
        "2024-01-01",
        "-",
        "- a",
      ],
      ...[
        "a: b",
        "a:b",
        "a #b",
        "a#b",
        "#a",
        "*a",
        "&a",
        "!a",
        "[a",
        "{a",
        "a, b",
        "a]",
        "'a'",
        '"a"',
        "%a",
        "@a",
        "`a",
      ],
      ...[
        "---",
        "...",
        "? a",
        "<<",
        "=",
        ".5",
        "+.5",
        "-.inf",
        ".NaN",
        "12 mm",
        "-3.5 deg",
        "60 f",
        "00:00:02;10",
        "../a/b.rig.yaml",
      ],
      ...[
        "Töpferei",
        "茶壺",
        "🫖",
        "a\tb",
        "a\u0000b",
        "a\u2028b",
        "\ufeffa",
        "a\u0085b",
        "\ud800",
        "a\\b",
        "a\nb",
        "\na",
        "a\n",
        "a\n\n",
      ],
      ...[
        "a\n  b",
        "a\r\nb",
        "a \nb",
        "constructor",
        "__proto__",
        "a.move.yaml#side",
        "http://a/b",
        "linen, folded",
        "it's",
      ],
    ];
    for (const text of texts) {
      const document = { a: text, b: [text, [text]], c: { d: { e: text } }, [`x${text}`]: 1, [text]: [{ f: text }] };
      const json = JSON.stringify(document);
      const yaml = converted(json, "json");
      assert.deepEqual(parseYamlLibrary(yaml), JSON.parse(json), JSON.stringify(text));
      assert.deepEqual(JSON.parse(converted(yaml, "yaml")), JSON.parse(json), JSON.stringify(text));
    }
  });

  it("keeps the spelling of numbers where both formats have it, and their values else", () => {
    assert.equal(
      converted('{"a": [0.50, -0, 1E3, 1e-12, 12345678901234567890]}', "json"),
      "a: [0.50, -0, 1E3, 1e-12, 12345678901234567890]\n",
    );
    assert.equal(
      converted("a: [0.50, .5, 5., +5, 0x1F, 0o17, -0]\n", "yaml"),
      '{\n  "a": [0.50, 0.5, 5, 5, 31, 15, -0]\n}\n',
    );
  });

  it("writes out what YAML says once for several places", () => {
    const yaml = `limits: &fast { speed: 1, accel: 2 }
chain:
  - { axis: pan, limits: *fast }
  - <<: *fast
    axis: tilt
    note: >-
      folded over
      two lines
`;
    const json = JSON.parse(converted(yaml, "yaml")) as unknown;
    const fast = { speed: 1, accel: 2 };
    assert.deepEqual(json, {
      limits: fast,
      chain: [
        { axis: "pan", limits: fast },
        { "<<": fast, axis: "tilt", note: "folded over two lines" },
      ],
    });
  });

  it("names comments that JSON cannot hold, and keeps what they allow as fields", () => {
    const yaml = `# The demo. allow nothing here
move: 1 # version
# allow judder: meant
keys:
  - at: 0 s # allow axis-speed: rehearsed
  # allow blur
  - at: 1 s
    allow: [{ code: judder, reason: seen }]
    # allow axis-jerk: rehearsed
`;
    const made = convert(yaml, "yaml");
    if ("refusal" in made) assert.fail(made.refusal);
    assert.deepEqual(
      made.lost.map(({ text }) => text),
      ["The demo. allow nothing here", "version"],
    );
    assert.deepEqual(JSON.parse(made.text), {
      move: 1,
      keys: [
        { at: "0 s", allow: [{ code: "axis-speed", reason: "rehearsed" }] },
        {
          at: "1 s",
          allow: [{ code: "judder", reason: "seen" }, { code: "blur" }, { code: "axis-jerk", reason: "rehearsed" }],
        },
      ],
      allow: [{ code: "judder", reason: "meant" }],
    });
  });

  it("keeps line ends, and leaves a byte order mark away", () => {
    assert.equal(converted('\ufeff{"a": 1,\r\n"b": "c\\nd"}\r\n', "json"), "a: 1\r\nb: |-\r\n  c\r\n  d\r\n");
    assert.equal(converted("a: 1\r\nb: |\r\n  c\r\n  d\r\n", "yaml"), '{\r\n  "a": 1,\r\n  "b": "c\\nd\\n"\r\n}\r\n');
  });

  it("refuses what is not well formed, and what one of the formats cannot say, with the place and the cure", () => {
    for (const [text, format, said] of [
      ["a: [1, 2\n", "yaml", /^line 1 must be mended first: /],
      ["a: 1\nb: 2\na: 3\n", "yaml", /^line 3 must be mended first: `a` stands twice/],
      ["a: 1\nb: *none\n", "yaml", /^line 2 must be mended first: /],
      ['{"a": 1, // why\n"b": 2}', "json", /^line 1 must be mended first: JSON has no comments/],
      ["a: 1\nb: [.inf]\n", "yaml", /^JSON has no `\.inf`, which stands in line 2$/],
      ["# nothing\n", "yaml", /^the document is empty$/],
      ["a: 1\n---\nb: 2\n", "yaml", /^line [23] must be mended first: /],
      ["<<<<<<< a\na: 1\n=======\na: 2\n>>>>>>> b\n", "yaml", /^line 1 must be mended first: /],
    ] as const) {
      assert.match(refusal(text, format), said, text);
    }
  });
});

describe("converting there and back", () => {
  const sound = (kind: SchemaKind, random: Random): unknown => {
    if (kind === "rig") return random.pick(RIGS);
    if (kind === "move") return random.pick(MOVES);
    return kind === "camera" ? CAMERA : kind === "set" ? SET : anyValue(SHAPES[kind], random);
  };

  it("keeps the data of any document, sound or not", () => {
    const random = randomChoices(20261201);
    const kinds = Object.keys(SHAPES) as SchemaKind[];
    let kept = 0;
    for (let round = 0; round < 400; round++) {
      const kind = kinds[round % kinds.length];
      const value = changed(kind, sound(kind, random), random);
      const json = JSON.stringify(value);
      const yaml = converted(json, "json");
      const expected: unknown = JSON.parse(json);
      assert.deepEqual(parseYamlLibrary(yaml), expected, json);
      assert.deepEqual(JSON.parse(converted(yaml, "yaml")), expected, json);
      kept += 1;
    }
    assert.equal(kept, 400);
  });
});
