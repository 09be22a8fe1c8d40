import assert from "node:assert/strict";
import { writeAside } from "./write-aside.ts";

/** Files in memory; `refuses` names the step that fails. */
function files(refuses?: "writeFile" | "rename") {
  const held = new Map([["lid.png", "old"]]);
  const refuse = (step: string): void => {
    if (step === refuses) throw new Error(`${step} is refused`);
  };
  const fs = {
    async writeFile(place: string, bytes: Uint8Array) {
      held.set(place, "half");
      refuse("writeFile");
      held.set(place, String(bytes[0]));
    },
    async rename(from: string, to: string, { overwrite }: { readonly overwrite: boolean }) {
      refuse("rename");
      if (held.has(to) && !overwrite) throw new Error("it is there");
      held.set(to, held.get(from) ?? "");
      held.delete(from);
    },
    async delete(place: string) {
      if (!held.delete(place)) throw new Error("it is not there");
    },
  };
  const write = (): Promise<void> => writeAside(fs, { place: "lid.png", aside: "lid.png.part" }, Uint8Array.of(7));
  return { held, write };
}

describe("a file written aside", () => {
  it("takes its place when it is whole", async () => {
    const { held, write } = files();
    await write();
    assert.deepEqual([...held], [["lid.png", "7"]]);
  });

  it("leaves what was there, and nothing else, when it can't be written or moved", async () => {
    for (const step of ["writeFile", "rename"] as const) {
      const { held, write } = files(step);
      await assert.rejects(write(), { message: `${step} is refused` });
      assert.deepEqual([...held], [["lid.png", "old"]], step);
    }
  });
});
