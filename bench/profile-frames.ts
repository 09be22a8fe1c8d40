import type { Page } from "playwright-core";

/** Mean processor time of the script of a picture [ms]: all of it, and what three takes of it to walk its scene and call WebGL. */
export interface FrameShares {
  readonly all: number;
  readonly three: number;
}

/** Between two samples [µs]. */
const INTERVAL = 100;

/** @param work What goes on meanwhile; gives the number of pictures. */
export async function profileFrames(page: Page, work: () => Promise<number>): Promise<FrameShares> {
  const session = await page.context().newCDPSession(page);
  await session.send("Profiler.enable");
  await session.send("Profiler.setSamplingInterval", { interval: INTERVAL });
  await session.send("Profiler.start");
  const count = await work();
  const { profile } = await session.send("Profiler.stop");
  await session.detach();
  const nodes = new Map(profile.nodes.map((node) => [node.id, node]));
  const above = new Map(profile.nodes.flatMap((node) => (node.children ?? []).map((child) => [child, node.id])));
  const within = (id: number, name: string): boolean => {
    for (let at: number | undefined = id; at !== undefined; at = above.get(at))
      if (nodes.get(at)?.callFrame.functionName === name) return true;
    return false;
  };
  let [all, three] = [0, 0];
  profile.samples?.forEach((id, i) => {
    // A sample that came late because the thread waited for a processor counts as one.
    const share = Math.min(profile.timeDeltas?.[i] ?? 0, 2 * INTERVAL) / 1000;
    if (!within(id, "drawStage")) return;
    all += share;
    if (within(id, "WebGLRenderer.render")) three += share;
  });
  return { all: all / count, three: three / count };
}
