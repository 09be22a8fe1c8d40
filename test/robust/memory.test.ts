import assert from "node:assert/strict";
import { CAMERA, MOVE, RIG, SET } from "../lsp/documents.ts";
import { PUSHED } from "../lsp/harness.ts";
import { startRobustServer, type Change, type RobustServer } from "./robust-server.ts";

/** More by hand: `MOVEWRIGHT_EDITS=10000 MOVEWRIGHT_CYCLES=1000 npx mocha test/robust/memory.test.ts`. */
const EDITS = Number(process.env.MOVEWRIGHT_EDITS ?? 3000);
const CYCLES = Number(process.env.MOVEWRIGHT_CYCLES ?? 900);
/** Parts of a run after each of which the heap is looked at. */
const PARTS = 6;

const FILES = {
  "small/kit/slider.rig.yaml": RIG,
  "small/kit/a.camera.yaml": CAMERA,
  "small/moves/table.set.yaml": SET,
};
const PATH = "small/moves/along.move.yaml";

/** Bytes by which the heap grows with each step, from the middle of a run to its end: at first, what is kept in any case fills. */
async function growth(server: RobustServer, steps: number, step: (index: number) => Promise<void>): Promise<number> {
  const heaps: number[] = [];
  const each = Math.ceil(steps / PARTS);
  for (let part = 0; part < PARTS; part++) {
    for (let index = 0; index < each; index++) await step(part * each + index);
    heaps.push(await server.heap());
  }
  const [a, b, c, d] = heaps.slice(-4);
  // Two looks each: what is let go of just before or after one counts half.
  const grown = (c + d - a - b) / 2 / (2 * each);
  const shown = heaps.map((heap) => (heap / 2 ** 20).toFixed(1)).join(", ");
  console.log(`      ${each * PARTS} steps; MiB of heap after each part: ${shown}; ${grown.toFixed(0)} bytes a step`);
  return grown;
}

describe("memory of the server", () => {
  let server: RobustServer;
  afterEach(async () => assert.equal(await server.stop(), 0));

  it(`stays as it is over ${EDITS} edits`, async function () {
    this.timeout(Math.max(120_000, EDITS * 300));
    server = await startRobustServer(FILES, PUSHED);
    await server.open(PATH, MOVE);
    let text = MOVE;
    const put = async (changes: readonly Change[]): Promise<void> => {
      text = await server.change(PATH, text, changes);
      const version = server.version(PATH);
      await server.until(`version ${version}`, () => server.published(PATH)?.version === version);
    };
    const grown = await growth(server, EDITS, async (index) => {
      // No value comes twice; every few edits the text is broken for a while.
      const at = text.indexOf("slide: ") + "slide: ".length;
      const end = text.indexOf(",", at);
      await put([{ from: at, to: end, piece: index % 5 === 3 ? "{" : (0.2 + (index % 9973) / 1e5).toFixed(5) }]);
    });
    assert.ok(grown < 1000, `${grown} bytes an edit`);
  });

  it(`stays as it is over ${CYCLES} documents that are opened and closed`, async function () {
    this.timeout(Math.max(120_000, CYCLES * 1000));
    server = await startRobustServer(FILES);
    const grown = await growth(server, CYCLES, async (index) => {
      const path = `small/moves/new-${index}.move.yaml`;
      await server.open(path, MOVE.replace("slide: 0.3", `slide: ${(0.2 + index / 1e5).toFixed(5)}`));
      await server.pull(path);
      await server.close(path);
    });
    assert.ok(grown < 8000, `${grown} bytes a document`);
  });
});
