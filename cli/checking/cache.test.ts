import assert from "node:assert/strict";
import { mkdirSync, mkdtempSync, readdirSync, rmSync, statSync, symlinkSync, utimesSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import type { CheckedDocument } from "../../core/exchange/checked-document.ts";
import { openCache } from "../../host/cache/open-cache.ts";
import type { CachePlace } from "../../host/cache/result-cache.ts";
import { KIT } from "../../test/fixtures/kit.ts";
import { randomChoices, type Random } from "../../test/fuzz/random.ts";
import { binaryStl, boxTriangles, gltfBuffer, gltfFile, gltfJson } from "../../test/stage/mesh-files.ts";
import { findDocuments } from "../documents.ts";
import { checkDocuments } from "./check-documents.ts";

/** Random states of the workspace; more of them with CACHE_RUNS. */
const RUNS = Number(process.env.CACHE_RUNS ?? 60);

const BOX = boxTriangles([-0.1, -0.1, 0], [0.1, 0.1, 0.2]);
const WIDE = boxTriangles([-0.4, -0.4, 0], [0.4, 0.4, 0.2]);
const SIDE = gltfJson(BOX, "side.bin");
const PNG = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);

const move = (more = "", slide = "0.3", rig = "../kit/slider.rig.yaml"): string => `move: 1
rig: ${rig}
camera: { use: ../kit/a.camera.yaml, lens: wide }
set: ../kit/table.set.yaml
rate: 24
${more}keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 0.9 s, axes: { slide: ${slide} } }
`;
const bodies = (file: string): string => `bodies: [{ name: box, on: tilt, mesh: { file: ${file} } }]\n`;
const config = (level: string): string => `config: 1\nseverity: { axis-speed: ${level}, axis-accel: ${level} }\n`;
const arm = (
  upper: string,
): string => `<robot name="arm"><link name="base"/><link name="cart"/><joint name="slide" type="prismatic">
  <parent link="base"/><child link="cart"/><axis xyz="0 1 0"/><limit lower="-1" upper="${upper}" velocity="0.4" effort="0"/></joint></robot>`;
const shoot =
  "shoot: 1\nshots: [{ name: one, move: ../moves/a.move.yaml }, { name: two, move: ../moves/b.move.yaml }]\n";

/** What each file may be: any of these contents, or not there. Of two of the same size only the content tells. */
const CHOICES: Readonly<Record<string, readonly (string | Uint8Array)[]>> = {
  "job/moves/a.move.yaml": [move(), move("", "0.31"), move("plate: plate.png\n"), move("# a note\n")],
  "job/moves/b.move.yaml": [move("", "0.6"), move("", "0.2"), move("", "0.2", "../kit/arm.rig.yaml"), "move: [1"],
  "job/kit/slider.rig.yaml": [KIT["slider.rig.yaml"], KIT["slider.rig.yaml"].replace("speed: 0.5", "speed: 0.2"), KIT["slider.rig.yaml"] + bodies("box.stl"), KIT["slider.rig.yaml"] + bodies("box.gltf")], // prettier-ignore
  "job/kit/arm.rig.yaml": ["rig: 1\nurdf: arm.urdf\n"],
  "job/kit/arm.urdf": [arm("1.0"), arm("0.1")],
  "job/kit/box.stl": [binaryStl(BOX), binaryStl(WIDE), "no mesh"],
  "job/kit/box.gltf": [gltfFile(SIDE)],
  "job/kit/side.bin": [gltfBuffer(BOX), gltfBuffer(WIDE)],
  "job/kit/a.camera.yaml": [KIT["a.camera.yaml"], KIT["a.camera.yaml"].replace("24 mm", "21 mm")],
  "job/kit/table.set.yaml": [KIT["table.set.yaml"], `${KIT["table.set.yaml"]}# the same\n`],
  "job/moves/plate.png": [PNG, Buffer.from("no picture")],
  "job/days/day.shoot.yaml": [shoot],
  "job/moves/movewright.config.yaml": [config("warning"), config("off")],
  "job/movewright.config.yaml": [config("error"), config("off"), "config: 1\n"],
  // Outside of the project: read where its folder is the project's, and never otherwise.
  "movewright.config.yaml": [config("off")],
};

describe("the cache of checked documents", function () {
  this.timeout(120_000);
  let folder: string;
  let cache: CachePlace;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), "check-cache-"));
    cache = openCache(join(folder, ".cache"), "program");
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  const FIRST = new Date("2020-01-01T00:00:00Z");
  /** Puts a file with a time that doesn't tell when it changed, as copies and checkouts do. */
  const put = (name: string, content: string | Uint8Array): void => {
    const path = join(folder, name);
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, content);
    utimesSync(path, FIRST, FIRST);
  };
  const choose = (name: string, random: Random): void => {
    const choices = CHOICES[name];
    const which = random.below(choices.length + 1);
    if (which < choices.length) return put(name, choices[which]);
    const path = join(folder, name);
    rmSync(path, { force: true });
    // What a link leads to out of the project may not be read.
    if (random.below(2) === 0) symlinkSync("/etc/hostname", path);
  };
  const documents = () => findDocuments([join(folder, "job")]);
  const cold = (): Promise<readonly CheckedDocument[]> => checkDocuments(documents());
  const kept = (): Promise<readonly CheckedDocument[]> => checkDocuments(documents(), { cache });
  const countEntries = (): number =>
    readdirSync(cache.folder, { recursive: true }).filter((name) => String(name).endsWith(".json")).length;

  it("gives what a run without it gives, whichever input changes, comes or goes", async () => {
    const random = randomChoices(7);
    for (const [name, [first]] of Object.entries(CHOICES)) put(name, first);
    let found = 0;
    for (let run = 0; run < RUNS; run++) {
      for (let i = 0; i <= random.below(3); i++) choose(random.pick(Object.keys(CHOICES)), random);
      const [with_, without] = [await kept(), await cold()];
      assert.deepEqual(with_, without, `run ${run}`);
      found += without.flatMap(({ findings }) => findings).length;
    }
    assert.ok(found > 2 * RUNS, `${found} findings`);
  });

  it("does not look again at what is unchanged, and does at what has another input", async () => {
    for (const [name, [first]] of Object.entries(CHOICES)) put(name, first);
    const count = documents().length;
    const worked = async (): Promise<number> => {
      // What was found stands in the cache; what is worked on anew is written anew.
      const before = new Date(Date.now() - 60_000);
      const entries = readdirSync(cache.folder, { recursive: true }).map((name) => join(cache.folder, String(name)));
      for (const path of entries) utimesSync(path, before, before);
      await kept();
      const after = readdirSync(cache.folder, { recursive: true }).map((name) => join(cache.folder, String(name)));
      return after.filter((path) => path.endsWith(".json") && statSync(path).mtimeMs > before.getTime() + 1000).length;
    };
    assert.equal(await worked(), count);
    assert.equal(countEntries(), count);
    assert.equal(await worked(), 0);
    // Both moves and the shoot read the camera.
    put("job/kit/a.camera.yaml", CHOICES["job/kit/a.camera.yaml"][1]);
    assert.equal(await worked(), 4);
    put("job/kit/a.camera.yaml", CHOICES["job/kit/a.camera.yaml"][0]);
    assert.equal(await worked(), 0);
    // Nobody reads it but the document itself.
    put("job/days/day.shoot.yaml", `${shoot}# a note\n`);
    assert.equal(await worked(), 1);
    assert.deepEqual(await kept(), await cold());
  });

  it("is passed over where it is broken, and is no way to make the program say what it likes", async () => {
    for (const [name, [first]] of Object.entries(CHOICES)) put(name, first);
    const expected = await cold();
    await kept();
    const random = randomChoices(3);
    const entries = readdirSync(cache.folder, { recursive: true }).map(String).filter((name) => name.endsWith(".json")); // prettier-ignore
    for (const name of entries) {
      const content = Buffer.alloc(random.below(3000), "x");
      writeFileSync(join(cache.folder, name), content);
    }
    assert.deepEqual(await kept(), expected);
    assert.deepEqual(await kept(), expected);
    rmSync(cache.folder, { recursive: true });
    writeFileSync(cache.folder, "a file in its place");
    assert.deepEqual(await kept(), expected);
  });
});
