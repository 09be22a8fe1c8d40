import assert from "node:assert/strict";
import { parse } from "yaml";
import type {
  DocumentHighlight,
  Location,
  LocationLink,
  Position,
  Range,
  WorkspaceEdit,
} from "vscode-languageserver-protocol";
import { CAMERA } from "./documents.ts";
import { positionAt, startServer, textIn, type Client } from "./harness.ts";
import { asJson, marked, twin, type Marked } from "./twin.ts";

/** One of each kind of name, defined and used. A name in angle brackets is a place of the table below. */
const TEXTS: Readonly<Record<string, string>> = {
  "a.camera.yaml": CAMERA,
  "a.rig.yaml": `rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], origin: { at: [0, 0, 1] }, range: [-1, 1] }
  - { axis: wheel, type: rotary, along: [0, 1, 0], follows: { axis: slide, ratio: 1 deg/mm } }
  - { axis: pan, type: rotary, along: [0, 0, 1], range: [-170, 170] }
  - { axis: tilt, type: rotary, along: [0, -1, 0], range: [-90, 60] }
head: { pan: pan, tilt: tilt }
bodies:
  - { name: cart, on: slide, box: [0.1, 0.1, 0.1] }
  - { name: beam, on: pan, box: [0.1, 0.1, 0.1] }
touching: [[cart, beam]]
`,
  "a.set.yaml": `set: 1
marks: { corner: { at: [0, 0, 0] } }
targets:
  lid: { at: [2, 0, 1] }
  spout: { at: [0.2, 0, 0], on: plate }
turntables:
  plate: { at: [2, 0.3, 0.9], range: [-360, 360] }
`,
  "a.move.yaml": `move: 1
title: One
rig: a.rig.yaml
camera: { use: a.camera.yaml, lens: prime-35 }
set: a.set.yaml
place: { at: corner }
passes: [{ name: wet, targets: { lid: { shift: [0, 0, 0.01] } } }]
keys:
  - { at: 0 s, name: left, axes: { slide: 0.3, plate: 0 }, aim: { at: lid }, focus: lid }
  - { at: 4 s, name: right, axes: { slide: -0.3, plate: 30 }, aim: spout }
expect: [{ of: lid.distance, above: 1 }, { of: slide.speed, below: 1 }]
`,
  "a.shoot.yaml": `shoot: 1
shots: [{ move: a.move.yaml, passes: [wet] }]
match: [{ from: "a.move.yaml#left", to: "a.move.yaml#right", about: lid }]
`,
};

/** A name: where it is defined, one of its uses, and the documents with the number of places that name it, its definition too. */
const ROWS: readonly (readonly [string, string, string, string, string, Readonly<Record<string, number>>])[] = [
  ["an axis", "a.rig.yaml", "axis: sl|ide", "a.move.yaml", "sl|ide: -0.3", { rig: 3, move: 3 }],
  ["a target", "a.set.yaml", "l|id: {", "a.move.yaml", "focus: li|d", { set: 1, move: 4, shoot: 1 }],
  ["a turntable", "a.set.yaml", "pl|ate: {", "a.move.yaml", "pla|te: 30", { set: 2, move: 2 }],
  ["a mark", "a.set.yaml", "cor|ner: {", "a.move.yaml", "at: cor|ner", { set: 1, move: 1 }],
  ["a lens", "a.camera.yaml", "pri|me-35:", "a.move.yaml", "lens: pri|me-35", { camera: 1, move: 1 }],
  ["a key", "a.move.yaml", "name: le|ft", "a.shoot.yaml", "#le|ft", { move: 1, shoot: 1 }],
  ["a pass", "a.move.yaml", "name: w|et", "a.shoot.yaml", "passes: [w|et", { move: 1, shoot: 1 }],
  ["a part of the rig", "a.rig.yaml", "name: ca|rt", "a.rig.yaml", "[[ca|rt", { rig: 2 }],
];

for (const format of ["yaml", "json"]) {
  describe(`names in ${format}`, () => {
    let client: Client;
    const pathOf = (path: string) => path.replace(/yaml$/, format);
    const written = Object.fromEntries(
      Object.entries(TEXTS).map(([path, text]) => [pathOf(path), format === "yaml" ? text : asJson(parse(text))]),
    );
    before(async () => {
      client = await startServer(written);
      for (const [path, text] of Object.entries(written)) await client.open(path, text);
    });
    after(async () => assert.equal(await client.stop(), 0));

    /** The place of a row's cursor in the text of this format. */
    const cursor = (path: string, word: string): Marked => {
      const yaml = marked(TEXTS[path].replace(word.replace("|", ""), word));
      return format === "yaml" ? yaml : twin(yaml);
    };
    const ask = <T>(method: string, path: string, word: string, more: object = {}): Promise<T> => {
      const { text, offset } = cursor(path, word);
      assert.equal(text, written[pathOf(path)]);
      const position: Position = positionAt(text, offset);
      return client.connection.sendRequest<T>(method, {
        textDocument: { uri: client.uri(pathOf(path)) },
        position,
        ...more,
      });
    };
    const kindOf = (uri: string): string => /\.(\w+)\.\w+$/.exec(uri)![1];
    const counted = (uris: readonly string[]): Record<string, number> => {
      const counts: Record<string, number> = {};
      for (const uri of uris) counts[kindOf(uri)] = (counts[kindOf(uri)] ?? 0) + 1;
      return counts;
    };
    const nameAt = (path: string, range: Range): string => textIn(written[pathOf(path)], range);

    for (const [what, defined, definition, used, use, places] of ROWS) {
      it(`lead from ${what} to its definition, to all its uses, and are renamed everywhere`, async () => {
        const found = await ask<(Location | LocationLink)[]>("textDocument/definition", used, use);
        assert.equal(found.length, 1);
        const [place] = found as Location[];
        assert.equal(place.uri, client.uri(pathOf(defined)));
        const name = nameAt(defined, place.range);
        assert.ok(definition.replace("|", "").includes(name), name);
        for (const [path, word] of [
          [defined, definition],
          [used, use],
        ]) {
          const context = { includeDeclaration: true };
          const references = await ask<Location[]>("textDocument/references", path, word, { context });
          assert.deepEqual(counted(references.map(({ uri }) => uri)), places);
          const edit = await ask<WorkspaceEdit>("textDocument/rename", path, word, { newName: "other name" });
          const edits = Object.entries(edit.changes ?? {}).flatMap(([uri, each]) => each.map(() => uri));
          assert.deepEqual(counted(edits), places);
          const highlights = await ask<DocumentHighlight[]>("textDocument/documentHighlight", path, word);
          assert.equal(highlights.length, places[kindOf(path)]);
          // Written where it is defined, read elsewhere: once in the document that defines it.
          assert.equal(highlights.filter(({ kind }) => kind === 3).length, path === defined ? 1 : 0);
          for (const { range } of highlights) assert.equal(nameAt(path, range), name);
        }
      });
    }
  });
}
