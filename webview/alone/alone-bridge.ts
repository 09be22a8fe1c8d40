import type { AlonePage } from "../../protocol/alone-page.ts";
import type { FromStage, StageMeshAnswer, StageMeshPart, ToStage } from "../../protocol/stage.ts";
import type { Bridge } from "../bridge.ts";
import { element } from "../element.ts";

export interface AloneEvents {
  keyRevealed(key: number): void;
  findingRevealed(id: number): void;
  failed(message: string): void;
  /** An answer to `report`. */
  told(message: Extract<FromStage, { type: "state" }>): void;
}

/** The stage's channel in a page without an editor: what it asks for is answered from the page's own data. */
export interface AloneBridge extends Bridge {
  /** Says something to the stage, as an editor would. */
  say(message: ToStage): void;
}

export function createAloneBridge(page: AlonePage, events: AloneEvents): AloneBridge {
  const takers: ((message: ToStage) => void)[] = [];
  const say = (message: ToStage): void => takers.forEach((take) => take(message));
  const { findings } = "take" in page.answer ? page.answer.take : page.answer.problem;
  // Who is handed a page with findings looks for them first.
  let kept: unknown = findings.length > 0 ? { tab: "findings" } : undefined;
  return {
    say,
    writes: false,
    // Answers come later, as an editor's do: the stage is not called while it calls.
    send: (message) => queueMicrotask(() => answer(message)),
    listen: (take) => void takers.push(take),
    kept: () => kept,
    keep: (state) => void (kept = state),
    download,
  };

  function answer(message: FromStage): void {
    if (message.type === "ready") {
      say({ type: "take", answer: page.answer });
      if (page.ghost) say({ type: "ghost", ghost: page.ghost });
    }
    if (message.type === "mesh") say({ type: "mesh", mesh: meshOf(page, message.mesh) });
    else if (message.type === "series") {
      const series = page.series.find(({ name }) => name === message.name);
      if (series) say({ type: "series", series });
    } else if (message.type === "reveal-key") events.keyRevealed(message.key);
    else if (message.type === "reveal-finding") events.findingRevealed(message.id);
    else if (message.type === "failed") events.failed(message.message);
    else if (message.type === "state") events.told(message);
  }
}

function download(name: string, content: Blob): void {
  const address = URL.createObjectURL(content);
  element("a", { href: address, download: name }).click();
  // The browser has begun to read it by then.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

function meshOf({ meshes }: AlonePage, wanted: StageMeshPart): StageMeshAnswer {
  const found = meshes.find(({ file, part }) => file === wanted.file && part === wanted.part);
  return found ?? { ...wanted, problem: `\`${wanted.part ?? wanted.file}\` is not in this page.` };
}
