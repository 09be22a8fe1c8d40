import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { parse } from "yaml";
import { randomChoices } from "../../../test/fuzz/random.ts";
import { viewOf } from "../../../test/support/rewritten.ts";
import { semanticTokens, type SemanticToken } from "./semantic-tokens.ts";
import { TOKEN_MODIFIERS, TOKEN_TYPES } from "./token-legend.ts";
import type { View } from "../view.ts";

/** A token in a text is written `<type.modifier:text>`. */
const MARK = /<([a-zA-Z.]+):([^<>]*)>/g;
const plain = (marked: string): string => marked.replace(MARK, "$2");

const kindOf = ({ type, modifiers }: SemanticToken): string => [type, ...[...modifiers].sort()].join(".");

/** The text with its tokens written into it. */
function marked(view: View): string {
  let at = 0;
  const parts: string[] = [];
  for (const token of semanticTokens(view)) {
    assert.ok(at <= token.start && token.start < token.end, "in order, without overlap");
    parts.push(view.text.slice(at, token.start), `<${kindOf(token)}:${view.text.slice(token.start, token.end)}>`);
    at = token.end;
  }
  return parts.join("") + view.text.slice(at);
}

/** What the tokens are, without what stands between them. */
const inOrder = (view: View): string[] =>
  semanticTokens(view).map((token) => `${kindOf(token)}:${view.text.slice(token.start, token.end)}`);

const HEAD = `<keyword:move>: <number:1>
<property:rig>: <string:slider.rig.yaml> # the small one
<property:camera>: { <property:use>: <string:a.camera.yaml>, <property:lens>: <struct:wide> }
<property:set>: <string:table.set.yaml>
<property:rate>: <number:25>
`;

type Row = readonly [what: string, file: string, text: string];

const ROWS: readonly Row[] = [
  [
    "keys in blocks",
    "m.move.yaml",
    `${HEAD}<property:start>: <number:01:00:00:00>
<property:speed>: <number:50> <unit:%>
<property:keys>:
  - <property:at>: <number:0> <unit:s>
    <property:name>: <event.declaration:first one>
    <property:axes>: { <variable:slide>: <number:0>, <variable:plate>: <number:10> <unit:deg> }
    <property:aim>: { <property:at>: <class:lid>, <property:framing>: [<number:0.5>, <number:0.4>] }
    <property:focus>: <class:lid>
  - <property:after>: <number:50> <unit:f>
    <property:aim>: <enumMember:none>
    <property:axes>:
      <variable:slide>: <number:-0.1>
    <property:focus>: <number:2> <unit:m>
    <property:roll>: <enumMember:level>
    <property:stop>: <keyword:true>
    <property:ease>: <enumMember:minimum-jerk>
    <property:note>: |
      no 3 m of this
<property:passes>:
  - { <property:name>: <namespace.declaration:celadon>, <property:times>: <number:2> }
`,
  ],
  [
    "what a move expects, and what it allows",
    "m.move.yaml",
    `${HEAD}<property:keys>: [{ <property:at>: <number:0>, <property:axes>: { <variable:slide>: <number:0> } }, { <property:at>: <number:9> <unit:s> }]
<property:expect>:
  - { <property:of>: <variable:slide>.<property:speed>, <property:below>: <number:25> <unit:mm/s> }
  - { <property:of>: <property:camera.speed>, <property:below>: <number:1> <unit:m/s> }
  - { <property:of>: <class:lid>.<property:distance>, <property:above>: <number:1> <unit:mm> }
<property:allow>: [{ <property:code>: <enumMember:near-limit>, <property:reason>: rehearsed at 3 m }]
`,
  ],
  [
    "a rig: what it states of its limits cannot be changed",
    "r.rig.yaml",
    `<keyword:rig>: <number:1>
<property:name>: Slider 3 m
<property:chain>:
  - <property:axis>: <variable.declaration:slide>
    <property:type>: <enumMember:linear>
    <property:along>: [<number:1>, <number:0>, <number:0>]
    <property:range>: [<number.readonly:-1>, <number.readonly:1.5e0> <unit:m>]
    <property:limits>: { <property:speed>: <number.readonly:0.5>, <property:accel>: <number.readonly:1> <unit:m/s2> }
  - { <property:axis>: <variable.declaration:"q">, <property:type>: <enumMember:rotary> }
  - { <property:axis>: <variable.declaration:pan>, <property:type>: <enumMember:rotary>, <property:follows>: { <property:axis>: <variable:q>, <property:ratio>: <number:-1> } }
`.replace('<variable.declaration:"q">', "<variable.declaration:q>"),
  ],
  [
    "a set",
    "s.set.yaml",
    `<keyword:set>: <number:1>
<property:targets>:
  <class.declaration:lid>: { <property:at>: [<number:0>, <number:0>, <number:1> <unit:m>], <property:on>: <variable:plate> }
<property:turntables>:
  <variable.declaration:plate>: { <property:at>: [<number:0>, <number:0>, <number:0>] }
<property:obstacles>: { <type.declaration:teapot>: { <property:sphere>: { <property:radius>: <number:8> <unit:cm> } } }
<property:marks>: { <interface.declaration:a>: { <property:at>: [<number:0>, <number:0>, <number:0>] } }
`,
  ],
  [
    "a shoot, its move missing",
    "d.shoot.yaml",
    `<keyword:shoot>: <number:1>
<property:match>:
  - { <property:from>: <string.unresolved:m.move.yaml>#<event.unresolved:top>, <property:to>: <string.unresolved:m.move.yaml>#<event.unresolved:end>, <property:about>: <class:lid> }
`,
  ],
  [
    "names that mean nothing, fields that are none, files that are not there",
    "m.move.yaml",
    `${HEAD.replace("<struct:wide>", "<struct.unresolved:wider>")}<property.unresolved:colour>: 3
<property:keys>:
  - <property:at>: <number:0> <unit:s>
    <property:axes>: { <variable.unresolved:slid>: <number:0> }
    <property:aim>: <class.unresolved:lit>
`,
  ],
  [
    "files that are not there",
    "m.move.yaml",
    "<keyword:move>: <number:1>\n<property:rig>: <string.unresolved:none.rig.yaml>\n<property:keys>: []\n",
  ],
  [
    // 0.3 m in 0.1 s is far above the slider's 0.5 m/s; the way back out of its range of 3 m is not asked for.
    "values out of a limit",
    "m.move.yaml",
    `${HEAD}<property:keys>:
  - { <property:at>: <number:0> <unit:s>, <property:axes>: { <variable:slide>: <number:0>, <variable:pan>: <number:0>, <variable:tilt>: <number:0> } }
  - { <property:at>: <number:5> <unit:s>, <property:axes>: { <variable:slide>: <number.outOfLimit:700> <unit.outOfLimit:m> } }
`,
  ],
];

describe("semantic tokens", () => {
  for (const [what, file, text] of ROWS) {
    it(`of ${what}`, () => assert.equal(marked(viewOf(plain(text), file)), text));

    it(`of ${what}: the same with line ends of two letters`, () => {
      const crlf = text.replaceAll("\n", "\r\n");
      assert.equal(marked(viewOf(plain(crlf), file)), crlf);
    });

    it(`of ${what}: the same in JSON`, () => {
      // Numbers are written as JSON writes them; what YAML reads as a time of day is text.
      const value: unknown = parse(plain(text), { version: "1.2" });
      const json = viewOf(JSON.stringify(value, null, 1), file.replace("yaml", "json"));
      const yaml = inOrder(viewOf(plain(text), file));
      assert.deepEqual(inOrder(json), yaml);
    });
  }

  it("of a part are those of the whole that touch it", () => {
    const view = viewOf(plain(ROWS[0][2]), "m.move.yaml");
    const all = semanticTokens(view);
    const random = randomChoices(3);
    for (let round = 0; round < 200; round += 1) {
      const start = random.below(view.text.length);
      const end = start + random.below(120);
      const found = semanticTokens(view, { start, end });
      const wanted = all.filter((token) => token.start < end && start < token.end);
      for (const token of wanted) assert.ok(found.some((one) => one.start === token.start && one.end === token.end));
      assert.ok(found.every((token) => all.some((one) => one.start === token.start && kindOf(one) === kindOf(token))));
      assert.ok(
        found.every((token) => start - 200 <= token.start && token.end <= end + 200),
        "not the whole document",
      );
    }
  });

  it("of a broken text are those of what can be read", () => {
    const view = viewOf("move: 1\nkeys:\n  - { at: 2 s, aim: \n", "m.move.yaml");
    assert.equal(
      marked(view),
      "<keyword:move>: <number:1>\n<property:keys>:\n  - { <property:at>: <number:2> <unit:s>, <property:aim>: \n",
    );
  });

  it("need no registration in the package but that of types and modifiers of our own", () => {
    const manifest = JSON.parse(readFileSync(new URL("../../../package.json", import.meta.url), "utf8")) as {
      contributes: Record<"semanticTokenTypes" | "semanticTokenModifiers", { id: string; superType?: string }[]>;
    };
    const { semanticTokenTypes, semanticTokenModifiers } = manifest.contributes;
    // The protocol's own, of LSP 3.17.
    const types =
      "namespace type class enum interface struct typeParameter parameter variable property enumMember event";
    const others = "function method macro keyword modifier comment string number regexp operator decorator";
    const modifiers = "declaration definition readonly static deprecated abstract async modification documentation";
    const own = (all: readonly string[], standard: string) => all.filter((one) => !standard.split(" ").includes(one));
    assert.deepEqual(
      own(TOKEN_TYPES, `${types} ${others}`),
      semanticTokenTypes.map(({ id }) => id),
    );
    assert.deepEqual(
      own(TOKEN_MODIFIERS, modifiers),
      semanticTokenModifiers.map(({ id }) => id),
    );
    assert.ok(semanticTokenTypes.every(({ superType }) => others.split(" ").includes(superType ?? "")));
  });
});
