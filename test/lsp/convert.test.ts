import assert from "node:assert/strict";
import type { ClientCapabilities, CodeAction, Position, TextDocumentEdit } from "vscode-languageserver-protocol";
import { CAMERA, MOVE, MOVE_JSON, RIG, SET, WORKSPACE } from "./documents.ts";
import { ABLE, codes, offsetAt, startServer, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";
const SHOOT = `# two shots of one move
shoot: 1
shots:
  - move: along.move.yaml
  - { move: 'along.move.yaml', note: again } # with the cup
match:
  - { from: along.move.yaml#left, to: "along.move.yaml#right" }
`;
const COMMENTED = `# The table's length
${MOVE.replace("at: 4 s", "at: 1 s # allow axis-speed: rehearsed")} # at rest
`;

const withFiles = (more: object): ClientCapabilities => ({
  ...ABLE,
  workspace: {
    ...ABLE.workspace,
    workspaceEdit: { documentChanges: true, resourceOperations: ["create", "delete", "rename"], ...more },
  },
  textDocument: { ...ABLE.textDocument, codeAction: { ...ABLE.textDocument?.codeAction, disabledSupport: true } },
});
const PLAIN = withFiles({});
const ANNOTATING = withFiles({ changeAnnotationSupport: {} });

const START: Position = { line: 0, character: 0 };

async function asked(client: Client, path: string, only?: string[], position = START): Promise<CodeAction[]> {
  const actions = await client.connection.sendRequest<CodeAction[]>("textDocument/codeAction", {
    textDocument: { uri: client.uri(path) },
    range: { start: position, end: position },
    context: { diagnostics: [], only },
  });
  return actions.filter(({ title }) => title.startsWith("Convert"));
}

const resolved = (client: Client, action: CodeAction) =>
  client.connection.sendRequest<CodeAction>("codeAction/resolve", action);

/** The texts after an edit with files in it, by path; a deleted one is `undefined`. */
function textsAfter(client: Client, { edit }: CodeAction, before: Readonly<Record<string, string>>) {
  assert.ok(edit?.documentChanges, "there is an edit");
  const texts = new Map<string, string | undefined>(
    Object.entries(before).map(([path, text]) => [client.uri(path), text]),
  );
  const steps: string[] = [];
  for (const change of edit.documentChanges) {
    if ("kind" in change) {
      steps.push(change.kind);
      assert.ok(change.kind === "create" || change.kind === "delete");
      assert.equal(texts.get(change.uri) === undefined, change.kind === "create", change.uri);
      texts.set(change.uri, change.kind === "create" ? "" : undefined);
    } else texts.set(change.textDocument.uri, applied(texts.get(change.textDocument.uri) ?? "", change));
  }
  return { steps, of: (path: string) => texts.get(client.uri(path)) };
}

function applied(text: string, { edits }: TextDocumentEdit): string {
  const spans = edits.map((edit) => {
    assert.ok("newText" in edit);
    return { from: offsetAt(text, edit.range.start), to: offsetAt(text, edit.range.end), newText: edit.newText };
  });
  spans.sort((one, other) => other.from - one.from);
  return spans.reduce((now, { from, to, newText }) => now.slice(0, from) + newText + now.slice(to), text);
}

describe("converting a document in the editor", () => {
  const FILES = { ...WORKSPACE, [PATH]: COMMENTED, "moves/day.shoot.yaml": SHOOT };
  let client: Client;
  before(async () => {
    client = await startServer(FILES, ANNOTATING);
    await client.open(PATH, COMMENTED, 3);
  });
  after(async () => assert.equal(await client.stop(), 0));

  it("puts JSON in the place of YAML, with its name changed wherever it is given, and the same findings", async () => {
    const earlier = await client.pullUntil(PATH, (found) => codes(found).includes("axis-speed"));
    const [action] = await asked(client, PATH);
    assert.equal(
      action.title,
      `Convert to JSON: asks first about 2 comments ("The table's length", "at rest") that JSON cannot hold`,
    );
    assert.equal(action.kind, "refactor.rewrite.convert");
    const whole = await resolved(client, action);
    const { steps, of } = textsAfter(client, whole, FILES);
    assert.deepEqual(steps, ["create", "delete"]);
    const json = of("moves/along.move.json") ?? "";
    assert.equal(of(PATH), undefined);
    const value = JSON.parse(json) as { keys: { at?: string; allow?: unknown }[]; set: string };
    assert.equal(value.set, "table.set.yaml");
    assert.deepEqual(value.keys[1].allow, [{ code: "axis-speed", reason: "rehearsed" }]);
    assert.equal(
      of("moves/day.shoot.yaml"),
      SHOOT.replaceAll("along.move.yaml", "along.move.json"),
      "every other byte stays",
    );
    const annotations = Object.values(whole.edit?.changeAnnotations ?? {});
    assert.deepEqual(annotations, [
      {
        label: "Comments that JSON cannot hold",
        needsConfirmation: true,
        description: `line 1: The table's length; line ${COMMENTED.split("\n").length - 1}: at rest`,
      },
    ]);
    await client.open("moves/again.move.json", json);
    const found = await client.pullUntil("moves/again.move.json", (items) => codes(items).includes("axis-speed"));
    assert.deepEqual(codes(found), codes(earlier));
    await client.close("moves/again.move.json");
  });

  it("is offered on the first line and on that of the version, or by its name anywhere", async () => {
    assert.equal((await asked(client, PATH, undefined, { line: 1, character: 3 })).length, 1);
    assert.equal((await asked(client, PATH, undefined, { line: 5, character: 0 })).length, 0);
    assert.equal((await asked(client, PATH, ["refactor.rewrite.convert"], { line: 5, character: 0 })).length, 1);
    assert.equal((await asked(client, PATH, ["quickfix"])).length, 0);
  });

  it("changes the documents that use a rig, a camera and a set", async () => {
    for (const [path, text, name] of [
      ["kit/slider.rig.yaml", RIG, "../kit/slider.rig.yaml"],
      ["kit/a.camera.yaml", CAMERA, "../kit/a.camera.yaml"],
      ["moves/table.set.yaml", SET, "table.set.yaml"],
    ]) {
      await client.open(path, text);
      const [action] = await asked(client, path);
      assert.equal(action.title, "Convert to JSON");
      const { of } = textsAfter(client, await resolved(client, action), FILES);
      assert.equal(of(PATH), COMMENTED.replace(name, name.replace("yaml", "json")));
      assert.equal(typeof JSON.parse(of(path.replace("yaml", "json")) ?? ""), "object");
    }
  });

  it("makes YAML of JSON", async () => {
    await client.open("moves/other.move.json", MOVE_JSON);
    const [action] = await asked(client, "moves/other.move.json");
    assert.equal(action.title, "Convert to YAML");
    const { of } = textsAfter(client, await resolved(client, action), { ...FILES, "moves/other.move.json": MOVE_JSON });
    const yaml = of("moves/other.move.yaml") ?? "";
    await client.open("moves/third.move.yaml", yaml);
    assert.match(yaml, /^move: 1\n[^]*\nkeys:\n {2}- /);
    const found = await client.pull("moves/third.move.yaml");
    assert.ok(found.kind === "full" && found.items.every(({ severity }) => severity !== 1), JSON.stringify(found));
  });

  it("is refused with the reason: a broken text, and a file that is there", async () => {
    await client.open("moves/broken.move.yaml", MOVE.replace("framing: [0.5, 0.5]", "framing: [0.5, 0.5"));
    const [broken] = await asked(client, "moves/broken.move.yaml");
    assert.match(broken.disabled?.reason ?? "", /^Line 11 must be mended first: .*never closed.*\.$/);
    client.write("moves/twin.move.json", MOVE_JSON);
    await client.open("moves/twin.move.yaml", MOVE);
    const [twin] = await asked(client, "moves/twin.move.yaml");
    assert.equal(twin.disabled?.reason, "`twin.move.json` is there already: rename or delete it first.");
  });
});

describe("converting for editors that can do less", () => {
  it("tells the comments in the title where nothing can be said beside an edit", async () => {
    const client = await startServer({ ...WORKSPACE, [PATH]: COMMENTED }, PLAIN);
    await client.open(PATH, COMMENTED);
    const [action] = await asked(client, PATH);
    assert.equal(action.title, `Convert to JSON without its 2 comments ("The table's length", "at rest")`);
    const { edit } = await resolved(client, action);
    assert.equal(edit?.changeAnnotations, undefined);
    assert.ok(edit?.documentChanges?.every((change) => !("annotationId" in change)));
    assert.equal(await client.stop(), 0);
  });

  it("is disabled where an edit cannot create and delete files", async () => {
    const able = { ...PLAIN, workspace: ABLE.workspace };
    const client = await startServer(WORKSPACE, able);
    await client.open(PATH, MOVE);
    const [action] = await asked(client, PATH);
    assert.equal(action.disabled?.reason, "This editor cannot create and delete files in one edit.");
    assert.equal(await client.stop(), 0);
  });
});
