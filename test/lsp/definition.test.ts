import assert from "node:assert/strict";
import type { DocumentLink, Location } from "vscode-languageserver-protocol";
import { CAMERA, MOVE, MOVE_JSON, RIG, SET, WORKSPACE } from "./documents.ts";
import { at, startServer, textIn, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";
const TEXTS: Readonly<Record<string, string>> = { ...WORKSPACE, "moves/along.move.json": MOVE_JSON };

describe("definition and references", () => {
  let client: Client;
  before(async () => {
    client = await startServer(TEXTS);
    await client.open(PATH, MOVE);
  });
  after(async () => assert.equal(await client.stop(), 0));

  /** `path text` of every place, sorted. */
  const shown = (locations: readonly Location[] | null) =>
    (locations ?? [])
      .map(({ uri, range }) => {
        const path = Object.keys(TEXTS).find((each) => client.uri(each) === uri) ?? uri;
        return `${path} ${range.start.line}:${textIn(TEXTS[path], range)}`;
      })
      .sort();
  const definition = async (path: string, word: string, shift = 0, nth = 0) =>
    shown(
      await client.connection.sendRequest<Location[] | null>("textDocument/definition", {
        textDocument: { uri: client.uri(path) },
        position: at(TEXTS[path], word, shift, nth),
      }),
    );
  const references = async (path: string, word: string, includeDeclaration: boolean) =>
    shown(
      await client.connection.sendRequest<Location[] | null>("textDocument/references", {
        textDocument: { uri: client.uri(path) },
        position: at(TEXTS[path], word, 1),
        context: { includeDeclaration },
      }),
    );

  const GOES: readonly (readonly [what: string, word: string, shift: number, place: string])[] = [
    ["an axis to the chain of the rig", "slide: 0.3", 2, "kit/slider.rig.yaml 3:slide"],
    ["a turntable to the set", "plate: 0", 1, "moves/table.set.yaml 5:plate"],
    ["a target to the set", "at: lid", 5, "moves/table.set.yaml 2:lid"],
    ["what is in focus to the set", "focus: lid", 8, "moves/table.set.yaml 2:lid"],
    ["a lens to the camera", "lens: prime-35", 8, "kit/a.camera.yaml 3:prime-35"],
    ["a file to its beginning", "rig: ../kit", 8, "kit/slider.rig.yaml 0:"],
  ];
  for (const [what, word, shift, place] of GOES) {
    it(`lead from ${what}`, async () => assert.deepEqual(await definition(PATH, word, shift), [place]));
  }

  it("lead from names in JSON too", async () => {
    await client.open("moves/along.move.json", MOVE_JSON);
    assert.deepEqual(await definition("moves/along.move.json", '"slide"', 2), ["kit/slider.rig.yaml 3:slide"]);
    assert.deepEqual(await definition("moves/along.move.json", '"../kit/a', 4), ["kit/a.camera.yaml 0:"]);
  });

  it("lead within a rig and a set", async () => {
    await client.open("kit/slider.rig.yaml", RIG);
    assert.deepEqual(await definition("kit/slider.rig.yaml", "pan: pan", 6), ["kit/slider.rig.yaml 9:pan"]);
    await client.open("moves/table.set.yaml", SET);
    assert.deepEqual(await definition("moves/table.set.yaml", "on: plate", 5), ["moves/table.set.yaml 5:plate"]);
  });

  it("lead nowhere from what is not defined", async () => {
    const text = MOVE.replace("focus: lid", "focus: lit");
    await client.change(PATH, text, 2);
    assert.deepEqual(await definition(PATH, "focus: lid", 8), []);
    await client.change(PATH, MOVE, 3);
  });

  it("find an axis in every move that uses the rig, from the rig", async () => {
    assert.deepEqual(await references("kit/slider.rig.yaml", "slide\n", true), [
      "kit/slider.rig.yaml 3:slide",
      "moves/along.move.json 8:slide",
      "moves/along.move.json 9:slide",
      "moves/along.move.yaml 14:slide",
      "moves/along.move.yaml 17:slide",
      "moves/along.move.yaml 9:slide",
    ]);
  });

  it("find a target from a use of it, without its definition when that is not asked for", async () => {
    assert.deepEqual(await references(PATH, "lid, framing", false), [
      "moves/along.move.json 8:lid",
      "moves/along.move.json 8:lid",
      "moves/along.move.yaml 10:lid",
      "moves/along.move.yaml 11:lid",
    ]);
  });

  it("find a lens, and where a file is used", async () => {
    await client.open("kit/a.camera.yaml", CAMERA);
    assert.deepEqual(await references("kit/a.camera.yaml", "prime-35", false), [
      "moves/along.move.json 4:prime-35",
      "moves/along.move.yaml 3:prime-35",
    ]);
    assert.deepEqual(await references(PATH, "table.set.yaml", false), [
      "moves/along.move.json 5:table.set.yaml",
      "moves/along.move.yaml 4:table.set.yaml",
    ]);
  });

  it("are links on the files that are there", async () => {
    await client.change(PATH, MOVE.replace("table.set", "no.set"), 4);
    const links = await client.connection.sendRequest<DocumentLink[]>("textDocument/documentLink", {
      textDocument: { uri: client.uri(PATH) },
    });
    assert.deepEqual(
      links.map(({ target }) => target),
      [client.uri("kit/slider.rig.yaml"), client.uri("kit/a.camera.yaml")],
    );
    assert.equal(textIn(MOVE, links[0].range), "../kit/slider.rig.yaml");
    await client.change(PATH, MOVE, 5);
  });
});
