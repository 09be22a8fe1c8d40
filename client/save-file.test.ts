import assert from "node:assert/strict";
import { encodeBase64 } from "../protocol/base64.ts";
import { PART_SIZE, type SaveToStage, type SaveWish } from "../protocol/stage-save.ts";
import { createSaves } from "./save-file.ts";

const wish = (size: number): { type: "save" } & SaveWish => ({
  type: "save",
  id: 1,
  name: "Lid.png",
  kind: "png",
  size,
});
const contentOf = (size: number): Uint8Array => Uint8Array.from({ length: size }, (_, i) => (i * 7 + (i >> 8)) & 255);

/** An editor whose person answers with a place, and what was written where. */
function editor(place: string | undefined, refusal?: string) {
  const written = new Map<string, Uint8Array>();
  const told: SaveToStage[] = [];
  const saves = createSaves<string>(
    {
      choose: async () => place,
      async put(at, bytes) {
        if (refusal !== undefined) throw new Error(refusal);
        written.set(at, bytes.slice());
        return at;
      },
    },
    (message) => told.push(message),
  );
  const settle = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
  return {
    ...{ saves, written, told },
    async say(message: Parameters<typeof saves.receive>[0]): Promise<SaveToStage | undefined> {
      saves.receive(message);
      await settle();
      return told.at(-1);
    },
  };
}

const part = (content: Uint8Array, index: number) => ({
  ...{ type: "save-part" as const, id: 1, index },
  data: encodeBase64(content.subarray(index * PART_SIZE, (index + 1) * PART_SIZE)),
});

describe("files of the stage", () => {
  it("come in parts, each asked for when the one before is here, and are written whole", async () => {
    const content = contentOf(2 * PART_SIZE + 5);
    const { say, written, told } = editor("out/Lid.png");
    assert.deepEqual(await say(wish(content.length)), { type: "save-next", id: 1, index: 0 });
    assert.deepEqual(await say(part(content, 0)), { type: "save-next", id: 1, index: 1 });
    assert.deepEqual(await say(part(content, 1)), { type: "save-next", id: 1, index: 2 });
    assert.equal(written.size, 0);
    const outcome = { end: "written", place: "out/Lid.png" };
    assert.deepEqual(await say(part(content, 2)), { type: "saved", id: 1, outcome });
    assert.deepEqual(written.get("out/Lid.png"), content);
    assert.equal(told.length, 4);
  });

  it("may be as long as a part to the byte", async () => {
    const content = contentOf(PART_SIZE);
    const { say, written } = editor("a.png");
    await say(wish(content.length));
    assert.equal((await say(part(content, 0)))?.type, "saved");
    assert.deepEqual(written.get("a.png"), content);
  });

  it("are asked for by nobody when no place is named", async () => {
    const { say, written } = editor(undefined);
    assert.deepEqual(await say(wish(10)), { type: "saved", id: 1, outcome: { end: "left" } });
    await say(part(contentOf(10), 0));
    assert.equal(written.size, 0);
  });

  it("are not written when a part is damaged or short, and the stage is told", async () => {
    for (const data of ["?", encodeBase64(contentOf(9)), encodeBase64(contentOf(11))]) {
      const { say, written } = editor("a.png");
      await say(wish(10));
      const answer = await say({ type: "save-part", id: 1, index: 0, data });
      assert.ok(answer?.type === "saved" && answer.outcome.end === "failed" && /not whole/.test(answer.outcome.why));
      await say(part(contentOf(10), 0));
      assert.equal(written.size, 0);
    }
  });

  it("take no part that was not asked for, none twice, and none after the page is gone", async () => {
    const content = contentOf(2 * PART_SIZE);
    const { say, saves, written, told } = editor("a.png");
    await say(part(content, 0));
    assert.equal(told.length, 0);
    await say(wish(content.length));
    await say(part(content, 1));
    await say(part(content, 0));
    await say(part(content, 0));
    assert.equal(told.length, 2);
    saves.closed();
    await say(part(content, 1));
    assert.equal(told.length, 2);
    assert.equal(written.size, 0);
  });

  it("tell in the editor's words why they could not be written", async () => {
    const { say } = editor("a.png", "The disk is full.");
    await say(wish(10));
    const outcome = { end: "failed", why: "The disk is full." };
    assert.deepEqual(await say(part(contentOf(10), 0)), { type: "saved", id: 1, outcome });
  });
});
