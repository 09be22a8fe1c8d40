import assert from "node:assert/strict";
import type { CompletionItem, DocumentLink, Hover, Location, MarkupContent } from "vscode-languageserver-protocol";
import type { MeshResult, TakeResult } from "../../protocol/requests.ts";
import type { StageTake } from "../../protocol/stage.ts";
import { CAMERA, MOVE, SET } from "./documents.ts";
import { at, startServer, textIn, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";
const RIG_PATH = "kit/slider.rig.yaml";
const URDF_PATH = "kit/slider.urdf";

/** The slider of the other documents as a URDF file. */
const URDF = `<robot name="slider">
  <link name="rail"/>
  <joint name="slide" type="prismatic">
    <parent link="rail"/><child link="sledge"/>
    <origin xyz="0 0 0.9"/><axis xyz="0 1 0"/><limit lower="-0.6" upper="0.6" velocity="0.4"/>
  </joint>
  <link name="sledge"><visual><geometry><mesh filename="meshes/sledge.gltf"/></geometry></visual></link>
  <joint name="pan" type="revolute">
    <parent link="sledge"/><child link="yoke"/><axis xyz="0 0 1"/><limit lower="-2.9" upper="2.9" velocity="1.05"/>
  </joint>
  <link name="yoke"><visual><geometry><mesh filename="package://slider/yoke.stl"/></geometry></visual></link>
  <joint name="tilt" type="revolute">
    <parent link="yoke"/><child link="head"/><axis xyz="0 -1 0"/><limit lower="-1.5" upper="1" velocity="1.05"/>
  </joint>
  <link name="head"/>
</robot>
`;

const RIG = `rig: 1
urdf: slider.urdf
axes:
  slide: { limits: { accel: 4, jerk: 60 } }
  pan: { limits: { accel: 120, jerk: 900 } }
  tilt: { limits: { accel: 120, jerk: 900 } }
head: { pan: pan, tilt: tilt }
camera-mount: { at: [0.05, 0, 0.1] }
`;

const WORKSPACE = {
  [RIG_PATH]: RIG,
  [URDF_PATH]: URDF,
  "kit/a.camera.yaml": CAMERA,
  "moves/table.set.yaml": SET,
  [PATH]: MOVE,
  "kit/meshes/sledge.gltf": JSON.stringify({
    asset: { version: "2.0" },
    scenes: [{ nodes: [0] }],
    nodes: [{ mesh: 0 }],
    meshes: [{ primitives: [{ attributes: { POSITION: 0 } }] }],
    accessors: [{ bufferView: 0, componentType: 5126, type: "VEC3", count: 3 }],
    bufferViews: [{ buffer: 0, byteLength: 36 }],
    buffers: [{ uri: "sledge.bin", byteLength: 36 }],
  }),
  // Letters of which each four are a small number.
  "kit/meshes/sledge.bin": "0123456789".repeat(4),
  "kit/slider/yoke.stl":
    "solid yoke\nfacet\nvertex -0.2 0 0\nvertex -0.1 0 0\nvertex -0.1 0 0.1\nendfacet\nendsolid yoke\n",
  "secret.txt": "not for the page",
};

const messages = (items: readonly { readonly message: string }[]): string[] => items.map(({ message }) => message);

describe("a rig from a URDF file in the language server", () => {
  let client: Client;
  beforeEach(async () => {
    client = await startServer(WORKSPACE);
    await client.open(PATH, MOVE);
    await client.open(RIG_PATH, RIG);
  });
  afterEach(async () => assert.equal(await client.stop(), 0));

  const take = async (): Promise<StageTake> => {
    const answer = await client.connection.sendRequest<TakeResult>("movewright/take", { uri: client.uri(PATH) });
    assert.ok("take" in answer, JSON.stringify(answer));
    return answer.take;
  };
  const mesh = (file: string, part?: string): Promise<MeshResult> =>
    client.connection.sendRequest("movewright/mesh", { uri: client.uri(PATH), mesh: { file, part } });
  const ask = <T>(method: string, path: string, text: string, word: string, shift = 1): Promise<T> =>
    client.connection.sendRequest(method, {
      textDocument: { uri: client.uri(path) },
      position: at(text, word, shift),
    });

  it("has no findings, and new ones when the file changes: on the rig, and on moves that use it", async () => {
    assert.deepEqual(messages(await client.pullUntil(PATH, (items) => items.length === 0)), []);
    assert.deepEqual(messages(await client.pullUntil(RIG_PATH, (items) => items.length === 0)), []);
    client.write(URDF_PATH, URDF.replace('upper="0.6"', 'upper="0.2"'));
    await client.watched(URDF_PATH, 2);
    const [first] = await client.pullUntil(PATH, (items) => items.length > 0);
    assert.equal(first.code, "axis-range");
    const limit = first.relatedInformation?.find(({ location }) => location.uri === client.uri(URDF_PATH));
    assert.equal(limit?.location.range.start.line, 4);
    client.write(URDF_PATH, URDF.replace("</robot>", ""));
    await client.watched(URDF_PATH, 2);
    const [broken] = await client.pullUntil(RIG_PATH, (items) => items.length > 0);
    assert.match(broken.message, /`slider\.urdf`, line 16, column 1: Unclosed tag/);
    assert.equal(textIn(RIG, broken.range), "slider.urdf");
    assert.equal(broken.relatedInformation?.[0].location.uri, client.uri(URDF_PATH));
    const [used] = await client.pullUntil(PATH, (items) => items.some(({ code }) => code === "missing-file"));
    assert.match(used.message, /has an error of its own/);
    client.remove(URDF_PATH);
    await client.watched(URDF_PATH, 3);
    const gone = await client.pullUntil(RIG_PATH, (items) =>
      items.some(({ message }) => /names no file/.test(message)),
    );
    assert.equal(gone.length, 1);
    client.write(URDF_PATH, URDF);
    await client.watched(URDF_PATH, 1);
    await client.pullUntil(RIG_PATH, (items) => items.length === 0);
    await client.pullUntil(PATH, (items) => items.length === 0);
  });

  it("leads from an axis to its joint, and from the reference to the file, which is a link", async () => {
    for (const [path, text, word] of [
      [PATH, MOVE, "slide: 0.3"],
      [RIG_PATH, RIG, "slide: {"],
    ] as const) {
      const [place] = await ask<Location[]>("textDocument/definition", path, text, word);
      assert.equal(place.uri, client.uri(URDF_PATH));
      assert.equal(textIn(URDF, place.range), "slide");
    }
    const [file] = await ask<Location[]>("textDocument/definition", RIG_PATH, RIG, "slider.urdf");
    assert.equal(file.uri, client.uri(URDF_PATH));
    const links = await client.connection.sendRequest<DocumentLink[]>("textDocument/documentLink", {
      textDocument: { uri: client.uri(RIG_PATH) },
    });
    assert.deepEqual(links.map(({ target }) => target), [client.uri(URDF_PATH)]); // prettier-ignore
  });

  it("offers the file, its axes and meshes, and tells what an axis does in the moves", async () => {
    const labels = async (text: string, word: string, shift: number): Promise<string[]> => {
      await client.change(RIG_PATH, text, Date.now());
      const found = await ask<CompletionItem[]>("textDocument/completion", RIG_PATH, text, word, shift);
      return found.map(({ label }) => label);
    };
    const named = RIG.replace("urdf: slider.urdf", "urdf: s");
    assert.deepEqual(await labels(named, "urdf: s", 7), ["slider.urdf"]);
    const axes = RIG.replace("  slide: {", "  sl: {");
    assert.deepEqual((await labels(axes, "  sl: {", 4)).sort(), ["slide"]);
    const body = `${RIG}bodies: [{ on: pan, mesh: { file: y } }]\n`;
    assert.deepEqual((await labels(body, "file: y", 7)).sort(), ["meshes/sledge.gltf", "slider/yoke.stl"]);
    await client.change(RIG_PATH, RIG, Date.now());
    await take();
    const hover = await ask<Hover>("textDocument/hover", RIG_PATH, RIG, "accel: 4");
    assert.match((hover.contents as MarkupContent).value, /`slide` in .*value.*top speed/);
  });

  it("hands out the meshes of a take, and the files that they name, and nothing else", async () => {
    const { meshes, rig } = await take();
    const files = meshes.map(({ file }) => file);
    assert.deepEqual(files.map((file) => file.split("/").slice(-2).join("/")), ["meshes/sledge.gltf", "slider/yoke.stl"]); // prettier-ignore
    assert.deepEqual(rig.bodies.map(({ solid }) => solid.shape === "mesh" && solid.file), files); // prettier-ignore
    const textOf = (answer: MeshResult): string =>
      "data" in answer ? Buffer.from(answer.data, "base64").toString() : "";
    assert.equal(textOf(await mesh(files[1])), WORKSPACE["kit/slider/yoke.stl"]);
    assert.equal(textOf(await mesh(files[0])), WORKSPACE["kit/meshes/sledge.gltf"]);
    const part = await mesh(files[0], "sledge.bin");
    assert.equal(textOf(part), WORKSPACE["kit/meshes/sledge.bin"]);
    // The stamp that the last answer carries is the one of the next take: nothing is fetched twice.
    assert.equal((await take()).meshes[0].stamp, "stamp" in part && part.stamp);
    for (const [file, name] of [
      [files[0].replace("meshes/sledge.gltf", "slider.urdf"), undefined],
      [files[0], "../../secret.txt"],
      [files[0], "none.bin"],
      [files[0], "../../../../../../../../../../etc/none.bin"],
    ] as const) {
      assert.ok("problem" in (await mesh(file, name)), `${file} ${name}`);
    }
  });

  it("tells of a mesh that changed, by another stamp, and of one that grew too large by a finding", async () => {
    const [before] = (await take()).meshes;
    await mesh(before.file, "sledge.bin");
    const [fetched] = (await take()).meshes;
    client.write("kit/meshes/sledge.bin", "0123456789".repeat(5));
    await client.watched("kit/meshes/sledge.bin", 2);
    await client.until("a new take", () => client.takeChanges.length > 0);
    const [after] = (await take()).meshes;
    assert.notEqual(after.stamp, fetched.stamp);
    client.write("kit/slider/yoke.stl", " ".repeat(8_000_001));
    await client.watched("kit/slider/yoke.stl", 2);
    const [large] = await client.pullUntil(RIG_PATH, (items) => items.length > 0);
    assert.match(large.message, /`yoke\.stl` has 8\.1 MB: the stage draws meshes of 8 MB or less/);
    assert.equal(large.code, "too-large");
    assert.equal((await take()).meshes.length, 1);
  });
});
