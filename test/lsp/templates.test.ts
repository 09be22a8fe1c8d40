import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { DiagnosticSeverity, type Diagnostic, type DocumentDiagnosticReport } from "vscode-languageserver-protocol";
import type { TemplateKind, TemplateResult } from "../../protocol/templates.ts";
import { CAMERA, RIG, SET } from "./documents.ts";
import { offsetAt, startServer, type Client } from "./harness.ts";

const demo = (path: string): string => readFileSync(new URL(`../../examples/${path}`, import.meta.url), "utf8");

/** Rigs of every form, each with a folder of its own: on rails, above the set, with a boom, without a head, from URDF. */
const RIGS: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  slider: { "slider.rig.yaml": demo("kit/slider.rig.yaml") },
  overhead: { "overhead.rig.yaml": demo("kit/overhead.rig.yaml") },
  floor: { "floor.rig.yaml": demo("kit/floor.rig.yaml") },
  "track-arm": { "track-arm.rig.yaml": demo("kit/track-arm.rig.yaml") },
  "rail-arm": {
    "rail-arm.rig.yaml": demo("kit/rail-arm.rig.yaml"),
    "rail-arm.urdf": demo("kit/rail-arm.urdf"),
    "meshes/forearm.obj": demo("kit/meshes/forearm.obj"),
  },
  little: { "little.rig.yaml": RIG },
  // No range, no limits, no head, one axis; names that have to be quoted.
  bare: {
    "bare.rig.yaml":
      'rig: 1\nchain:\n  - { axis: "yes", type: linear, along: [0, 1, 0], origin: { at: [0, 0, 1] } }\n  - { axis: größe, type: rotary }\n',
  },
};
const SETS: Readonly<Record<string, string>> = { floor: demo("teapots.set.yaml"), little: SET };

const WORKSPACE = Object.fromEntries(
  Object.entries(RIGS).flatMap(([folder, files]) => [
    ...Object.entries(files).map(([name, text]) => [`${folder}/kit/${name}`, text]),
    [`${folder}/kit/a b.camera.yaml`, CAMERA],
    [`${folder}/kit/table.set.yaml`, SETS[folder] ?? demo("teapots.set.yaml")],
  ]),
) as Readonly<Record<string, string>>;

describe("a new document from a template", function () {
  this.timeout(120_000);
  let client: Client;
  before(async () => {
    client = await startServer(WORKSPACE);
  });
  after(async () => assert.equal(await client.stop(), 0));

  const begin = (on: Client, kind: TemplateKind, path: string, together?: boolean) =>
    on.connection.sendRequest<TemplateResult>("movewright/template", { kind, uri: on.uri(path), together });

  /** Opens the documents that were begun, as an editor would, and gives what is found in each once it is solved. */
  const findings = async (on: Client, result: TemplateResult): Promise<readonly Diagnostic[]> => {
    assert.equal(result.state, "written", JSON.stringify(result));
    if (result.state !== "written") return [];
    const open = [...result.files].reverse();
    for (const { uri, text } of open) {
      const textDocument = { uri, languageId: uri.endsWith("json") ? "json" : "yaml", version: 1, text };
      await on.connection.sendNotification("textDocument/didOpen", { textDocument });
    }
    const all: Diagnostic[] = [];
    for (const { uri } of open) {
      // The status waits for the whole analysis of a move; other documents have no motion.
      for (let tries = 0; tries < 200; tries += 1) {
        const status = await on.connection.sendRequest<{ state: string } | null>("movewright/status", { uri });
        if (status?.state !== "solving") break;
      }
      const report = await on.connection.sendRequest<DocumentDiagnosticReport>("textDocument/diagnostic", {
        textDocument: { uri },
      });
      assert.equal(report.kind, "full");
      if (report.kind === "full") all.push(...report.items);
    }
    for (const { uri } of open)
      await on.connection.sendNotification("textDocument/didClose", { textDocument: { uri } });
    return all;
  };
  const errors = (found: readonly Diagnostic[]): readonly string[] =>
    found.filter(({ severity }) => severity === DiagnosticSeverity.Error).map(({ message }) => message);

  for (const ending of ["yaml", "json"]) {
    for (const kind of ["rig", "camera", "set"] as const) {
      it(`is a ${kind} in ${ending} without any finding, which says that its figures are invented`, async () => {
        const result = await begin(client, kind, `new/ours.${kind}.${ending}`);
        assert.deepEqual(await findings(client, result), []);
        assert.ok(result.state === "written" && result.errors === 0 && result.files.length === 1);
        const { text, cursor } = result.files[0];
        assert.match(text, /invented/);
        if (kind === "rig") assert.match(text, /manual/);
        if (ending === "json") assert.equal(JSON.parse(text).name, "ours");
        // The cursor stands before the first value to fill in.
        const rest = text.slice(offsetAt(text, cursor));
        assert.match(rest, { rig: /^"?slide/, camera: /^\[?"?36 mm|^\[/, set: /^\[2, 0, 1\]/ }[kind]);
      });
    }
    for (const folder of Object.keys(RIGS)) {
      it(`is a move in ${ending} without errors for the rig of ${folder}/`, async () => {
        const result = await begin(client, "move", `${folder}/moves/first try.move.${ending}`);
        const found = await findings(client, result);
        assert.deepEqual(errors(found), [], result.state === "written" ? result.files[0].text : "");
        assert.ok(result.state === "written");
        assert.equal(result.errors, 0);
        const { text } = result.files[0];
        assert.match(text, new RegExp(`\\.\\./kit/${folder}\\.rig\\.yaml`));
        assert.match(text, /\.\.\/kit\/a b\.camera\.yaml/);
        assert.match(text, /\.\.\/kit\/table\.set\.yaml/);
        assert.match(text, /first try/);
        assert.match(text, /invented/);
      });
    }
  }

  it("is a move that aims and that moves, where the rig can", async () => {
    for (const folder of ["slider", "floor", "track-arm", "rail-arm", "little", "overhead"]) {
      const result = await begin(client, "move", `${folder}/moves/aim.move.json`);
      assert.ok(result.state === "written");
      const move = JSON.parse(result.files[0].text);
      assert.ok(["lid", "spout"].includes(move.keys[0].aim), `${folder}: ${result.files[0].text}`);
      const [[axis, last]] = Object.entries<number>(move.keys[1].axes);
      assert.notEqual(move.keys[0].axes[axis], last, `${folder}: ${axis} stands still`);
    }
  });

  it("says what a move needs where the workspace has none, and begins it too when asked", async () => {
    const empty = await startServer({ "notes.txt": "nothing", "kit/broken.rig.yaml": "rig: 1\nchain: [\n" });
    try {
      const path = "moves/vase.move.yaml";
      const missing = await begin(empty, "move", path);
      assert.ok(missing.state === "missing");
      assert.deepEqual(missing.kinds, ["rig", "camera", "set"]);
      assert.match(missing.reason, /no rig, camera or set without errors/);
      for (const ending of ["yaml", "json"]) {
        const whole = await begin(empty, "move", `moves/vase.move.${ending}`, true);
        assert.ok(whole.state === "written");
        assert.deepEqual(
          whole.files.map(({ uri }) => uri),
          ["move", "rig", "camera", "set"].map((kind) => empty.uri(`moves/vase.${kind}.${ending}`)),
        );
        assert.deepEqual(errors(await findings(empty, whole)), [], whole.files[0].text);
        const day = await begin(empty, "shoot", `day.shoot.${ending}`, true);
        assert.ok(day.state === "written");
        assert.equal(day.files.length, 5);
        assert.deepEqual(errors(await findings(empty, day)), [], day.files[0].text);
      }
    } finally {
      await empty.stop();
    }
  });

  it("is a shoot of the moves of the nearest folder", async () => {
    const texts: Record<string, string> = { ...WORKSPACE };
    for (const name of ["one", "two"]) {
      const begun = await begin(client, "move", `floor/moves/${name}.move.yaml`);
      assert.ok(begun.state === "written");
      texts[`floor/moves/${name}.move.yaml`] = begun.files[0].text;
    }
    const other = await startServer(texts);
    try {
      const result = await begin(other, "shoot", "floor/day.shoot.yaml");
      assert.deepEqual(errors(await findings(other, result)), []);
      assert.ok(result.state === "written");
      const moves = [...result.files[0].text.matchAll(/move: ([^\s,]+)/g)].map((match) => match[1]);
      assert.deepEqual(moves, ["moves/one.move.yaml", "moves/two.move.yaml"]);
    } finally {
      await other.stop();
    }
  });
});
