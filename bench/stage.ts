import type { Body } from "../core/rig/resolved-rig.ts";
import type { StageTake } from "../protocol/stage.ts";
import { COUNT, longTake, NINE_PLOTS, turnWheel } from "../test/stage/graph-turns.ts";
import { topToFront } from "../test/stage/moves.ts";
import { startStageHost, type StageHost } from "../test/stage/stage-host.ts";
import { takeOf } from "../test/stage/take-of.ts";
import { percentile, type Figure } from "./measure.ts";
import { profileFrames } from "./profile-frames.ts";
import { meterScript } from "./stage-page.ts";

const SAMPLES = 20_000;
const BODIES = 200;
const PANES = [["free"], ["free", "lens"], ["free", "lens", "top", "side"]] as const;
/** Pictures before those that count: what was never run is compiled then. */
const WARM_UP = 40;
const PICTURES = 120;
const OPENINGS = 5;
const EDITS_BEFORE = 600;
const EDITS = 1000;

/**
 * The stage in a headless browser: script time of a picture, opening, and what edits leave behind.
 *
 * @param names Of those that are wanted, "playing", "opening", "editing" and "graphs"; all when there are none.
 */
export async function benchStage(...names: readonly string[]): Promise<Figure[]> {
  const wanted = (name: string): boolean => names.length === 0 || names.includes(name);
  const host = await startStageHost();
  const take = takeOf({ ...topToFront, obstacles: manyBodies() }, {}, SAMPLES);
  const figures: Figure[] = [];
  try {
    if (wanted("playing")) for (const panes of PANES) figures.push(await playing(host, take, panes));
    if (wanted("opening")) figures.push(await opening(host, take));
    if (wanted("editing")) figures.push(await editing(host));
    if (wanted("graphs")) figures.push(await graphing(host));
    return figures;
  } finally {
    await host.close();
  }
}

/** Boxes, rods and balls on a field round the rig. */
function manyBodies(): Body[] {
  return Array.from({ length: BODIES }, (_, i): Body => {
    const at = [(i % 20) * 0.4 - 3, Math.floor(i / 20) * 0.5 + 2, 0.2] as const;
    const solid = (
      [
        { shape: "box", size: [0.2, 0.2, 0.4] },
        { shape: "cylinder", radius: 0.1, height: 0.4 },
        { shape: "sphere", radius: 0.12 },
      ] as const
    )[i % 3];
    return { name: `pot ${i}`, link: -1, solid, pose: { at, turn: [0, 0, 0, 1] }, origin: 0 } as Body;
  });
}

async function playing(host: StageHost, take: StageTake, panes: readonly string[]): Promise<Figure> {
  const options = { width: 640, height: 480, kept: { panes, loop: true }, before: meterScript() };
  const tab = await host.open({ ...options, answer: { take } });
  await tab.page.keyboard.press("Space");
  const count = (): Promise<number> => tab.page.evaluate(() => window.stageMeter.pictures.length);
  const drawn = async (more: number): Promise<void> => {
    const until = (await count()) + more;
    await tab.page.waitForFunction((at) => window.stageMeter.pictures.length >= at, until, { timeout: 300_000 });
  };
  await drawn(WARM_UP);
  const from = await count();
  await drawn(PICTURES);
  const times = (await tab.page.evaluate(() => window.stageMeter.pictures)).slice(from);
  const shares = await profileFrames(tab.page, async () => {
    const begun = await count();
    await drawn(PICTURES);
    return (await count()) - begun;
  });
  const calls = (await tab.state()).picture?.calls ?? 0;
  await tab.close();
  return {
    // By the profiler's samples: a clock round the script counts what WebGL makes it wait for software drawing too.
    name: `script of a picture while playing, panes: ${panes.length}, mean`,
    value: shares.all,
    unit: "ms",
    target: "2",
    facts: {
      "of that three's": Number(shares.three.toFixed(2)),
      ...spreadOf(times),
      "p95 by the clock": Number(percentile(times, 0.95).toFixed(2)),
      pictures: times.length,
      "draw calls": calls,
      samples: SAMPLES,
      bodies: BODIES,
    },
  };
}

const spreadOf = (times: readonly number[]): { readonly p50: number; readonly max: number } => ({
  p50: Number(percentile(times, 0.5).toFixed(2)),
  max: Number(Math.max(...times).toFixed(1)),
});

/** From the page's address to the end of the script of its first picture, the take being there when it asks. */
async function opening(host: StageHost, take: StageTake): Promise<Figure> {
  const rounds: { first: number; ready: number }[] = [];
  for (let round = 0; round <= OPENINGS; round++) {
    const tab = await host.open({ width: 640, height: 480, before: meterScript({ take }) });
    await tab.page.waitForFunction(() => window.stageMeter.first !== undefined, undefined, { timeout: 60_000 });
    const { first = NaN, ready = NaN } = await tab.page.evaluate(() => window.stageMeter);
    await tab.close();
    // The first one starts the browser's own processes.
    if (round > 0) rounds.push({ first, ready });
  }
  const firsts = rounds.map(({ first }) => first);
  return {
    name: "opening the page to the first picture, p50",
    value: percentile(firsts, 0.5),
    unit: "ms",
    target: "500",
    facts: {
      worst: Math.round(Math.max(...firsts)),
      "until it asks for the take": Math.round(percentile(rounds.map(({ ready }) => ready), 0.5)), // prettier-ignore
      rounds: rounds.length,
    },
  };
}

/** Turns of the wheel over graphs of many samples, without WebGL. */
async function graphing(host: StageHost): Promise<Figure> {
  const take = longTake();
  const tab = await host.open({ width: 1200, height: 1200, kept: NINE_PLOTS, webgl: false, answer: { take } });
  await turnWheel(tab);
  const turns = await turnWheel(tab);
  await tab.close();
  const times = turns.map(({ spent }) => spent);
  return {
    name: "script of a zoom of nine graphs with 20 lines, p95",
    value: percentile(times, 0.95),
    unit: "ms",
    target: "16",
    facts: {
      ...spreadOf(times),
      "most places": Math.max(...turns.map(({ places }) => places)),
      samples: COUNT,
      turns: turns.length,
    },
  };
}

/** One key of the move is moved to and fro: what is built anew, and what stays in memory. */
async function editing(host: StageHost): Promise<Figure> {
  const at = (time: number, version: number): StageTake => {
    const keys = topToFront.keys.map((one, i) => (i === 3 ? { ...one, time } : one));
    return takeOf({ ...topToFront, keys, obstacles: manyBodies() }, { version });
  };
  const takes = [at(6.6, 1), at(7, 2)];
  const tab = await host.open({ width: 480, height: 420, before: meterScript(), answer: { take: takes[0] } });
  const session = await tab.page.context().newCDPSession(tab.page);
  const heap = async (): Promise<number> => {
    await session.send("HeapProfiler.collectGarbage");
    return ((await session.send("Runtime.getHeapUsage")) as { usedSize: number }).usedSize / 2 ** 20;
  };
  const edit = (count: number): Promise<void> =>
    tab.page.evaluate(
      async ({ takes, count }) => {
        for (let i = 0; i < count; i++) {
          const take = structuredClone(takes[(i + 1) % 2]);
          dispatchEvent(new MessageEvent("message", { data: { type: "take", answer: { take } } }));
          await new Promise((resolve) => requestAnimationFrame(resolve));
        }
      },
      { takes, count },
    );
  // The browser's own compiler fills its tables for some hundred edits; what grows after them grows for ever.
  await edit(EDITS_BEFORE);
  const before = (await tab.state()).picture?.built ?? 0;
  const [from, alive] = [await heap(), await tab.page.evaluate(() => window.stageMeter.alive)];
  await edit(EDITS);
  const [to, still] = [await heap(), await tab.page.evaluate(() => window.stageMeter.alive)];
  const built = ((await tab.state()).picture?.built ?? 0) - before;
  await tab.close();
  return {
    name: `memory after ${EDITS} edits`,
    value: to - from,
    unit: "MiB more",
    target: "0",
    facts: {
      before: `${from.toFixed(1)} MiB`,
      "things of WebGL": `${alive} before, ${still} after`,
      "parts built an edit": built / EDITS,
    },
  };
}
