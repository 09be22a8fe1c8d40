import assert from "node:assert/strict";
import { KIT } from "../../test/fixtures/kit.ts";
import { memorySources } from "../../test/fixtures/memory-sources.ts";
import { runToEnd } from "../base/task.ts";
import { analyse, createMemo, type AnalysisMemo } from "../checks/analyse.ts";
import { findingsOf } from "../checks/analysis.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import type { SourceState } from "./sources.ts";

/** Eight bytes of PNG and nothing after: enough to be told apart by. */
const PNG = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a);
const JPEG = Uint8Array.of(0xff, 0xd8, 0xff, 0xe0);
const WEBP = new TextEncoder().encode("RIFF\0\0\0\0WEBPVP8 ");

interface Read {
  readonly plate: ResolvedMove["plate"];
  readonly said: readonly string[];
  readonly reads: number;
}

function read(plate: string, file: Uint8Array | SourceState, memo: AnalysisMemo = createMemo(), stamp = "1"): Read {
  const move = `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
plate: ${plate}
keys:
  - { at: 0 s, axes: { slide: -0.4, pan: 0, tilt: 0 } }
  - { at: 4 s, axes: { slide: 0.4 } }
`;
  const texts = memorySources(
    new Map(
      Object.entries({
        ...KIT,
        "moves/m.move.yaml": move.replaceAll(": slider", ": ../slider").replace("use: a", "use: ../a"),
      }),
    ),
  );
  let reads = 0;
  const analysis = runToEnd(
    analyse(
      "moves/m.move.yaml",
      {
        read(name): SourceState {
          if (!name.startsWith("stills/")) return texts.read(name);
          if (!(file instanceof Uint8Array)) return file;
          return { state: "bytes", size: file.length, stamp, content: () => ((reads += 1), file) };
        },
      },
      memo,
    ),
  );
  const said = findingsOf(analysis).map(({ code, severity, message }) => `${severity} ${code}: ${message}`);
  return { plate: analysis.move?.plate, said, reads };
}

describe("the plate of a move", () => {
  it("is a file, half opaque over the whole captured picture, or says otherwise", () => {
    const { plate, said } = read("../stills/take-3.png", PNG);
    assert.deepEqual(
      { ...plate, origin: 0 },
      { file: "stills/take-3.png", opacity: 0.5, fills: "captured", origin: 0 },
    );
    assert.deepEqual(said, []);
    const other = read("{ file: ../stills/take-3.JPG, opacity: 30 %, fills: delivered }", JPEG);
    assert.deepEqual(
      { ...other.plate, origin: 0 },
      { file: "stills/take-3.JPG", opacity: 0.3, fills: "delivered", origin: 0 },
    );
    assert.deepEqual(other.said, []);
    assert.deepEqual(read("../stills/take-3.webp", WEBP).said, []);
  });

  it("has one finding where it is missing, broken, too large or no picture", () => {
    assert.deepEqual(read("../stills/gone.png", { state: "missing" }).said, [
      "error missing-file: `../stills/gone.png` names no file: there is no `stills/gone.png`. Paths are relative to this document.",
    ]);
    assert.deepEqual(read("../stills/far.png", { state: "outside" }).said, [
      "error missing-file: `../stills/far.png` (`stills/far.png`) lies outside of what may be read here.",
    ]);
    assert.deepEqual(read("../stills/text.png", new TextEncoder().encode("a text")).said, [
      "warning not-computed: `../stills/text.png` is not shown: it does not begin as a PNG, JPEG or WebP file does. Save it as one of them again.",
    ]);
    assert.deepEqual(
      read("../stills/huge.png", { state: "bytes", size: 8_000_001, stamp: "1", content: () => undefined }).said,
      [
        "warning too-large: `huge.png` has 8.1 MB: the stage shows plates of 8 MB or less. Save it smaller: the lens view is no larger than a screen.",
      ],
    );
    assert.deepEqual(read("../stills/take.tiff", PNG).said, [
      "warning not-computed: `../stills/take.tiff` is no picture that the stage shows, by its name: it shows PNG, JPEG and WebP.",
    ]);
    assert.deepEqual(read("../stills/take.png", { state: "unread" }).said, []);
    assert.match(read("{ file: ../stills/a.png, opacity: 120 % }", PNG).said.join(), /bad-number.*120 %/);
    assert.match(read("{ file: ../stills/a.png, fills: all }", PNG).said.join(), /`captured`.*`delivered`/);
    assert.match(read("{ opacity: 20 % }", PNG).said.join(), /missing-field.*`file`/);
  });

  it("is read once for its first bytes, and again when the file is another", () => {
    const memo = createMemo();
    assert.equal(read("../stills/a.png", PNG, memo).reads, 1);
    assert.equal(read("../stills/a.png", PNG, memo).reads, 0);
    const again = read("../stills/a.png", Uint8Array.of(1, 2, 3), memo, "2");
    assert.equal(again.reads, 1);
    assert.match(again.said.join(), /does not begin as/);
  });
});
