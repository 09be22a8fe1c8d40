import assert from "node:assert/strict";
import type { CompletionItem, CompletionList, Hover } from "vscode-languageserver-protocol";
import { decodeBase64 } from "../../core/base/base64.ts";
import type { MeshResult, TakeResult } from "../../protocol/requests.ts";
import type { StageTake } from "../../protocol/stage.ts";
import { MOVE, SET, WORKSPACE } from "./documents.ts";
import { startServer, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";
const SET_PATH = "moves/table.set.yaml";
/** What a WebP file begins with: all of it is text. */
const STILL = "RIFF\u0010\0\0\0WEBPVP8 \0\0\0\0";
const CUP = "v 0 0 0\nv 0.1 0 0\nv 0 0.1 0\nv 0 0 0.1\nf 1 2 3\nf 1 2 4\nf 1 3 4\nf 2 3 4\n";
const DRESSED = `${SET}dressing:\n  cup: { mesh: { file: cup.obj }, at: [1, 1, 1] }\n`;
const PLATED = `${MOVE}plate: stills/take.webp\n`;

describe("dressing and plates over a connection", () => {
  let client: Client;
  before(async () => {
    client = await startServer({ ...WORKSPACE, [SET_PATH]: DRESSED, "moves/cup.obj": CUP, "moves/stills/take.webp": STILL, "moves/stills/other.webp": STILL }); // prettier-ignore
    await client.open(PATH, PLATED, 1);
  });
  after(async () => assert.equal(await client.stop(), 0));

  const take = async (): Promise<StageTake> => {
    const answer = await client.connection.sendRequest<TakeResult>("movewright/take", { uri: client.uri(PATH) });
    assert.ok("take" in answer, JSON.stringify(answer));
    return answer.take;
  };
  const file = (mesh: object): Promise<MeshResult> =>
    client.connection.sendRequest<MeshResult>("movewright/mesh", { uri: client.uri(PATH), mesh });

  it("go to the stage, which gets their files and no other", async () => {
    const { dressing, meshes, lens, obstacles } = await take();
    assert.deepEqual(
      dressing?.map(({ name }) => name),
      ["cup"],
    );
    assert.deepEqual(obstacles, []);
    assert.deepEqual(
      meshes.map((mesh) => mesh.file.endsWith("moves/cup.obj")),
      [true],
    );
    const plate = lens?.plate;
    assert.ok(plate);
    assert.ok(plate.file.endsWith("moves/stills/take.webp") && plate.stamp !== "");
    assert.deepEqual([plate.opacity, plate.fills], [0.5, "captured"]);
    const still = await file({ file: plate.file });
    assert.ok("data" in still);
    assert.equal(new TextDecoder("latin1").decode(decodeBase64(still.data)), STILL);
    assert.ok("data" in (await file({ file: meshes[0].file })));
    const other = await file({ file: plate.file.replace("take.webp", "other.webp") });
    assert.deepEqual("problem" in other && other.problem, "It is no part of this move.");
  });

  it("are told of when their files change, and the plate has a finding while its file is none", async () => {
    const { lens } = await take();
    const count = client.takeChanges.length;
    client.write("moves/stills/take.webp", "no picture");
    await client.watched("moves/stills/take.webp", 2);
    await client.until("the notice", () => client.takeChanges.length > count);
    const { lens: now, findings } = await take();
    assert.notEqual(now?.plate?.stamp, lens?.plate?.stamp);
    assert.deepEqual(
      findings.map(({ message }) => message),
      [
        "`stills/take.webp` is not shown: it does not begin as a PNG, JPEG or WebP file does. Save it as one of them again.",
      ],
    );
    client.write("moves/stills/take.webp", STILL);
    await client.watched("moves/stills/take.webp", 2);
    await client.until("the notice", () => client.takeChanges.length > count + 1);
    assert.deepEqual((await take()).findings, []);
  });

  it("are offered and explained where they are written", async () => {
    const completed = await client.connection.sendRequest<CompletionItem[] | CompletionList>(
      "textDocument/completion",
      {
        textDocument: { uri: client.uri(PATH) },
        position: { line: PLATED.split("\n").length - 2, character: "plate: ".length },
      },
    );
    const items = Array.isArray(completed) ? completed : completed.items;
    assert.deepEqual(items.map(({ label }) => label).filter((label) => label.includes("webp")).sort(), ["stills/other.webp", "stills/take.webp"]); // prettier-ignore
    await client.open(SET_PATH, DRESSED, 1);
    const hover = await client.connection.sendRequest<Hover | null>("textDocument/hover", {
      textDocument: { uri: client.uri(SET_PATH) },
      position: { line: DRESSED.split("\n").length - 2, character: 3 },
    });
    assert.match(
      JSON.stringify(hover?.contents),
      /`cup`: a mesh, .*It dresses the picture: it is drawn, and nothing is checked against it\./,
    );
  });
});
