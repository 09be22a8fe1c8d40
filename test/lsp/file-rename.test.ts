import assert from "node:assert/strict";
import { renameSync, mkdirSync } from "node:fs";
import { dirname, join } from "node:path";
import type { WorkspaceEdit } from "vscode-languageserver-protocol";
import { CAMERA, MOVE, MOVE_JSON, RIG, SET } from "./documents.ts";
import { offsetAt, startServer, type Client } from "./harness.ts";

const FILES: Readonly<Record<string, string>> = {
  "kit/slider.rig.yaml": RIG,
  "kit/a.camera.yaml": CAMERA,
  "moves/table.set.yaml": SET,
  "moves/along.move.yaml": MOVE,
  "moves/back.move.json": MOVE_JSON,
};

describe("new names of files", () => {
  let client: Client;
  let now: Record<string, string>;
  beforeEach(async () => {
    client = await startServer(FILES);
    now = { ...FILES };
  });
  afterEach(async () => assert.equal(await client.stop(), 0));

  /** Does what an editor does: asks, makes the edit, moves what there is, and tells. */
  const rename = async (pairs: Readonly<Record<string, string>>) => {
    const files = Object.entries(pairs).map(([from, to]) => ({ oldUri: client.uri(from), newUri: client.uri(to) }));
    const edit = await client.connection.sendRequest<WorkspaceEdit | null>("workspace/willRenameFiles", { files });
    const touched = Object.entries(edit?.changes ?? {}).map(([uri, edits]) => {
      const path = uri.slice(client.uri("").length + 1);
      const backwards = [...edits].sort(
        (a, b) => offsetAt(now[path], b.range.start) - offsetAt(now[path], a.range.start),
      );
      for (const { range, newText } of backwards) {
        const text = now[path];
        now[path] = text.slice(0, offsetAt(text, range.start)) + newText + text.slice(offsetAt(text, range.end));
      }
      client.write(path, now[path]);
      return path;
    });
    const before = Object.keys(now);
    for (const [from, to] of Object.entries(pairs)) {
      mkdirSync(dirname(join(client.folder, to)), { recursive: true });
      renameSync(join(client.folder, from), join(client.folder, to));
      now = Object.fromEntries(
        Object.entries(now).map(([path, text]) => [
          path === from || path.startsWith(`${from}/`) ? to + path.slice(from.length) : path,
          text,
        ]),
      );
    }
    for (const path of before.filter((each) => !(each in now))) await client.watched(path, 3);
    for (const path of Object.keys(now)) await client.watched(path, before.includes(path) ? 2 : 1);
    return touched.sort();
  };
  const findings = async () => {
    const { items } = await client.connection.sendRequest<{ items: { uri: string; items?: { code: string }[] }[] }>(
      "workspace/diagnostic",
      { previousResultIds: [] },
    );
    return items
      .flatMap(({ uri, items: found = [] }) => found.map(({ code }) => `${uri.split("/").at(-1)} ${code}`))
      .sort();
  };

  it("are announced for documents, what they name, and folders", () => {
    const { willRename } = client.initialized.capabilities.workspace!.fileOperations!;
    const filters = willRename!.filters.map(({ pattern: { glob, matches } }) => `${matches} ${glob}`);
    assert.ok(filters.includes("folder **"));
    assert.ok(filters.some((each) => /^file .*\*\.rig.*yaml/.test(each)) && filters.some((each) => /stl/.test(each)));
  });

  it("are followed by references in YAML and JSON, and nothing is found after", async () => {
    const before = await findings();
    assert.deepEqual(await rename({ "kit/slider.rig.yaml": "kit/my slider.rig.yaml" }), [
      "moves/along.move.yaml",
      "moves/back.move.json",
    ]);
    assert.equal(now["moves/along.move.yaml"], MOVE.replace("slider.rig", "my slider.rig"));
    assert.equal(now["moves/back.move.json"], MOVE_JSON.replace("slider.rig", "my slider.rig"));
    assert.deepEqual(await findings(), before);
  });

  it("of folders, and of several files at once", async () => {
    const before = await findings();
    await rename({ kit: "gear/kit", "moves/along.move.yaml": "moves/monday/along.move.yaml" });
    assert.match(now["moves/monday/along.move.yaml"], /rig: \.\.\/\.\.\/gear\/kit\/slider\.rig\.yaml\n/);
    assert.match(now["moves/monday/along.move.yaml"], /set: \.\.\/table\.set\.yaml\n/);
    assert.match(now["moves/back.move.json"], /"\.\.\/gear\/kit\/a\.camera\.yaml"/);
    assert.deepEqual(await findings(), before);
  });

  it("change the text as it is open, not as it is saved", async () => {
    const text = MOVE.replace("rig: ../kit", "\n\n# not saved\nrig: ../kit");
    await client.open("moves/along.move.yaml", text);
    now["moves/along.move.yaml"] = text;
    await rename({ "kit/slider.rig.yaml": "kit/b.rig.yaml" });
    assert.equal(now["moves/along.move.yaml"], text.replace("slider.rig", "b.rig"));
  });

  it("that nobody names change nothing", async () => {
    assert.deepEqual(await rename({ "moves/along.move.yaml": "moves/along the table.move.yaml" }), []);
    const files = [{ oldUri: client.uri("kit/none.rig.yaml"), newUri: client.uri("kit/other.rig.yaml") }];
    assert.equal(await client.connection.sendRequest("workspace/willRenameFiles", { files }), null);
  });
});
