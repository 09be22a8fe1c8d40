import assert from "node:assert/strict";
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Hover, MarkupContent } from "vscode-languageserver-protocol";
import type { ReadFileParams } from "../../protocol/requests.ts";
import { CAMERA, MOVE, RIG, SET } from "./documents.ts";
import { ABLE, at, startServer, type Client } from "./harness.ts";

/** An axis that only the rig outside of the workspace has: no answer may know of it. */
const SECRET = "unheard-of";
const SECRET_RIG = RIG.replaceAll("slide", SECRET);
const SECRET_STL = "solid a\nfacet\nvertex 0 0 0\nvertex 9 0 0\nvertex 0 9 9\nendfacet\nendsolid a\n";

const urdf = (mesh: string) => `<robot name="a">
<link name="rail"><collision><geometry><mesh filename="${mesh}"/></geometry></collision></link>
<joint name="slide" type="prismatic"><parent link="rail"/><child link="sledge"/><axis xyz="0 1 0"/><limit lower="-1" upper="1" velocity="1"/></joint>
<link name="sledge"/></robot>
`;
const gltf = (buffer: string) =>
  JSON.stringify({
    asset: { version: "2.0" },
    scenes: [{ nodes: [0] }],
    nodes: [{ mesh: 0 }],
    meshes: [{ primitives: [{ attributes: { POSITION: 0 } }] }],
    accessors: [{ bufferView: 0, componentType: 5126, type: "VEC3", count: 3 }],
    bufferViews: [{ buffer: 0, byteLength: 36 }],
    buffers: [{ uri: buffer, byteLength: 36 }],
  });

describe("what is read of files that a text names", () => {
  let outside: string;
  let client: Client;
  const asked: string[] = [];
  before(async () => {
    outside = mkdtempSync(join(tmpdir(), "movewright-outside-"));
    writeFileSync(join(outside, "secret.rig.yaml"), SECRET_RIG);
    writeFileSync(join(outside, "secret.stl"), SECRET_STL);
    writeFileSync(join(outside, "secret.bin"), "0123456789".repeat(4));
    const files = { "kit/a.camera.yaml": CAMERA, "kit/slider.rig.yaml": RIG, "moves/table.set.yaml": SET };
    // This client reads whatever it is asked for, wherever it is.
    client = await startServer(files, ABLE, { readFile: true });
    client.connection.onRequest("movewright/readFile", ({ uri }: ReadFileParams) => {
      asked.push(uri);
      return { state: "text", text: SECRET_RIG };
    });
    symlinkSync(join(outside, "secret.rig.yaml"), join(client.folder, "kit/link.rig.yaml"));
    symlinkSync(outside, join(client.folder, "kit/linked"));
  });
  after(async () => {
    assert.equal(await client.stop(), 0);
    rmSync(outside, { recursive: true });
  });

  /** Names of the axes that the server offers in a move that names a rig in this way, and what it finds at the name. */
  const seen = async (reference: string) => {
    const path = `moves/m${Math.abs(hash(reference))}.move.yaml`;
    const text = MOVE.replace("../kit/slider.rig.yaml", JSON.stringify(reference));
    await client.open(path, text);
    const items = await client.pullUntil(path, () => true);
    const hints = await client.connection.sendRequest<{ label: string }[]>("textDocument/completion", {
      textDocument: { uri: client.uri(path) },
      position: at(text, "slide: 0.3"),
    });
    await client.close(path);
    return { items, labels: hints.map(({ label }) => label) };
  };

  it("are those of the workspace", async () => {
    const { items, labels } = await seen("../kit/slider.rig.yaml");
    assert.ok(labels.includes("slide"), labels.join());
    assert.ok(!items.some(({ code }) => code === "missing-file"));
  });

  const names = (): Readonly<Record<string, string>> => ({
    "steps up": `../../${outside.split("/").at(-1)}/secret.rig.yaml`,
    "steps up through a folder that is none": `none/../../../${outside.split("/").at(-1)}/secret.rig.yaml`,
    "a path from the root": `${outside}/secret.rig.yaml`,
    "a link to a file": "../kit/link.rig.yaml",
    "a link to a folder": "../kit/linked/secret.rig.yaml",
    "a file: address": pathToFileURL(join(outside, "secret.rig.yaml")).toString(),
    "a file: address within": pathToFileURL(join(client.folder, "kit/slider.rig.yaml")).toString(),
    "another machine": `//localhost${outside}/secret.rig.yaml`,
    "an address": "https://localhost/secret.rig.yaml",
    "another file system": "vscode-vfs://host/secret.rig.yaml",
  });
  for (const name of [
    "steps up",
    "steps up through a folder that is none",
    "a path from the root",
    "a link to a file",
    "a link to a folder",
    "a file: address",
    "a file: address within",
    "another machine",
    "an address",
    "another file system",
  ]) {
    it(`is nothing for ${name}`, async () => {
      const { items, labels } = await seen(names()[name]);
      const found = items.find(({ code }) => code === "missing-file");
      assert.match(found?.message ?? "", /lies outside of what may be read here\.$/);
      assert.ok(!labels.includes(SECRET), labels.join());
      assert.deepEqual(asked, []);
    });
  }

  it("is nothing for meshes of a URDF file, and for what a mesh names", async () => {
    const up = `../../${outside.split("/").at(-1)}`;
    const meshes = [
      `${up}/secret.stl`,
      `${outside}/secret.stl`,
      `file://${outside}/secret.stl`,
      "linked/secret.stl",
      "package://linked/secret.stl",
      "https://localhost/secret.stl",
      "//localhost/secret.stl",
    ];
    const buffers = [
      `${up}/secret.bin`,
      `${outside}/secret.bin`,
      `file://${outside}/secret.bin`,
      "linked/secret.bin",
      "https://localhost/secret.bin",
    ];
    const texts = [
      ...meshes.map((mesh) => urdf(mesh)),
      ...buffers.map((buffer, idx) => {
        client.write(`kit/b${idx}.gltf`, gltf(buffer));
        return urdf(`b${idx}.gltf`);
      }),
    ];
    for (const [idx, text] of texts.entries()) {
      client.write(`kit/u${idx}.urdf`, text);
      const rig = `rig: 1\nurdf: u${idx}.urdf\naxes: { slide: { limits: { accel: 1, jerk: 9 } } }\n`;
      await client.open(`kit/u${idx}.rig.yaml`, rig);
      const items = await client.pullUntil(`kit/u${idx}.rig.yaml`, () => true);
      const about = `${text}\n${JSON.stringify(items.map(({ message }) => message))}`;
      assert.ok(
        items.some(({ message }) =>
          /^`u\d+\.urdf`.*(No file is found for|, which it names, can't be read\.)/.test(message),
        ),
        about,
      );
    }
    assert.deepEqual(asked, []);
  });

  it("is nothing that is written: the workspace is as it was", () => {
    const files = readdirSync(client.folder, { recursive: true }).map(String);
    const strange = files.filter(
      (file) =>
        statSync(join(client.folder, file)).isFile() && !/\.(rig|camera|set)\.yaml$|\.(urdf|gltf|stl|bin)$/.test(file),
    );
    assert.deepEqual(strange, []);
    assert.equal(readFileSync(join(client.folder, "kit/slider.rig.yaml"), "utf8"), RIG);
    assert.equal(readFileSync(join(outside, "secret.rig.yaml"), "utf8"), SECRET_RIG);
  });

  it("stands in hovers as words: no link, picture, markup or command of a text is one", async () => {
    const evil = "[go](command:workbench.action.quit) ![x](https://localhost/x.png) <img src=x> **b**";
    const text = RIG.replace("name: Slider", `name: ${JSON.stringify(evil)}`).replaceAll(
      "axis: slide",
      `axis: "a](command:x)"`,
    );
    await client.open("kit/evil.rig.yaml", text);
    const position = at(text, "a](command:x)", 1);
    const hover = await client.connection.sendRequest<Hover | null>("textDocument/hover", {
      textDocument: { uri: client.uri("kit/evil.rig.yaml") },
      position,
    });
    const { value } = (hover?.contents ?? { value: "" }) as MarkupContent;
    // Within code nothing is markup.
    const outsideCode = value.replace(/`[^`]*`/g, "");
    assert.doesNotMatch(outsideCode, /(?<!\\)\]\(|(?<!\\)<img|(?<!\\)!\[/);
  });
});

function hash(text: string): number {
  return [...text].reduce((sum, letter) => (sum * 31 + letter.charCodeAt(0)) | 0, 7);
}
