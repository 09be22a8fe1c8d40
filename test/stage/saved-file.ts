import type { FromStage } from "../../protocol/stage.ts";
import type { SaveWish } from "../../protocol/stage-save.ts";
import type { StageTab } from "./stage-host.ts";

export interface SavedFile {
  readonly wish: SaveWish;
  readonly bytes: Buffer;
}

/** Takes the file that the stage wants saved, part by part, as the extension does, and says that it was written. */
export async function savedFile(tab: StageTab, patience = 60_000): Promise<SavedFile> {
  const ofType = async <T extends FromStage["type"]>(type: T): Promise<Extract<FromStage, { type: T }>[]> =>
    (await tab.messages()).filter((one): one is Extract<FromStage, { type: T }> => one.type === type);
  const until = async <T>(ask: () => Promise<T | undefined>): Promise<T> => {
    for (const end = Date.now() + patience; Date.now() < end;) {
      const answer = await ask();
      if (answer !== undefined) return answer;
      await tab.page.waitForTimeout(50);
    }
    throw new Error(`Nothing was saved; the stage said ${JSON.stringify(await tab.messages()).slice(0, 800)}`);
  };
  const taken = new Set((await ofType("save-part")).map(({ id }) => id));
  const wish = await until(async () => (await ofType("save")).find(({ id }) => !taken.has(id)));
  const parts: Buffer[] = [];
  for (let size = 0; size < wish.size; size += parts[parts.length - 1].length) {
    await tab.send({ type: "save-next", id: wish.id, index: parts.length });
    const part = await until(async () =>
      (await ofType("save-part")).find(({ id, index }) => id === wish.id && index === parts.length),
    );
    parts.push(Buffer.from(part.data, "base64"));
  }
  await tab.send({ type: "saved", id: wish.id, outcome: { end: "written", place: `out/${wish.name}` } });
  return { wish, bytes: Buffer.concat(parts) };
}
