import assert from "node:assert/strict";
import { encodeBase64 } from "../protocol/base64.ts";
import type { ReadFileResult } from "../protocol/requests.ts";
import { bytesThroughClient, listThroughClient, readThroughClient, type ClientFiles } from "./platform.ts";

describe("files through the client", () => {
  const asked: string[] = [];
  const client = (answer: ReadFileResult | Error): ClientFiles => ({
    canRead: true,
    canList: true,
    readFile: async (uri, as) => {
      asked.push(`${as} ${uri}`);
      if (answer instanceof Error) throw answer;
      return answer;
    },
    listFiles: async (cap, what) => ({
      uris: [`vscode-vfs://host/${what}-${cap}.urdf`, "vscode-vfs://host/more.urdf"],
    }),
  });
  const bytes: ReadFileResult = { state: "bytes", size: 3, stamp: "3-1", data: encodeBase64(Uint8Array.of(1, 2, 3)) };

  it("are asked for as texts, meshes with what is in them unless they are too large", async () => {
    asked.length = 0;
    const file = "vscode-vfs://host/kit/hand.STL";
    const state = await readThroughClient(client(bytes), file);
    assert.ok(state.state === "bytes" && state.size === 3 && state.stamp === "3-1");
    assert.deepEqual(state.content(), Uint8Array.of(1, 2, 3));
    assert.deepEqual(await readThroughClient(client({ state: "text", text: "a" }), "vscode-vfs://host/a.urdf"), {
      state: "text",
      text: "a",
    });
    assert.deepEqual(asked, [`facts ${file}`, `bytes ${file}`, "text vscode-vfs://host/a.urdf"]);
    const large = await readThroughClient(client({ ...bytes, size: 9_000_000 }), file);
    assert.ok(large.state === "bytes" && large.content() === undefined);
    for (const answer of [{ state: "missing" } as const, new Error("gone")]) {
      assert.deepEqual(await readThroughClient(client(answer), file), { state: "missing" });
    }
  });

  it("are read as bytes up to a cap, and not at all where that fails", async () => {
    const file = "vscode-vfs://host/hand.stl";
    assert.deepEqual(await bytesThroughClient(client(bytes), file, 3), Uint8Array.of(1, 2, 3));
    assert.equal(await bytesThroughClient(client(bytes), file, 2), undefined);
    assert.equal(await bytesThroughClient(client({ ...bytes, data: "?" }), file, 9), undefined);
    assert.equal(await bytesThroughClient(client(new Error("gone")), file, 9), undefined);
    assert.equal(await bytesThroughClient({ ...client(bytes), canRead: false }, file, 9), undefined);
  });

  it("are listed by what is wanted, up to a cap", async () => {
    assert.deepEqual(await listThroughClient(client(bytes), 1, "assets"), ["vscode-vfs://host/assets-1.urdf"]);
  });
});
