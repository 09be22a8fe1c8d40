import { PUSHED } from "../test/lsp/harness.ts";
import { positionIn, startRobustServer, type RobustServer } from "../test/robust/robust-server.ts";
import { CAMERA, moveText, RIG, SET } from "./documents.ts";
import { percentile, type Figure } from "./measure.ts";

const KIT = { "bench/seven.rig.yaml": RIG, "bench/a.camera.yaml": CAMERA, "bench/a.set.yaml": SET };
const PATH = "bench/m.move.yaml";

/** Milliseconds from a message to its answer, over a real connection to a server of its own; one wait after the other. */
export async function benchLatency(keys: number, target: string): Promise<Figure[]> {
  const text = moveText(keys);
  const begun = performance.now();
  const server = await startRobustServer(KIT, PUSHED);
  const started = performance.now() - begun;
  try {
    await server.open(PATH, text);
    const first = await both(server, 0, performance.now());
    const typed = await typing(server, text, keys >= 1000 ? 30 : 60);
    const ms = (name: string, times: readonly number[], facts: Figure["facts"], goal?: string): Figure => ({
      name: `${name}, ${keys} keys, p95`,
      value: percentile(times, 0.95),
      unit: "ms",
      ...(goal === undefined ? {} : { target: goal }),
      facts: { p50: Number(percentile(times, 0.5).toFixed(1)), rounds: times.length, ...facts },
    });
    const { findings, items, tables } = typed;
    return [
      {
        name: `cold start to the first diagnostics, ${keys} keys`,
        value: started + first.text,
        unit: "ms",
        facts: { starting: Math.round(started), "to those of the motion": Math.round(started + first.whole) },
      },
      ms("keystroke to diagnostics of the text", typed.text, { findings: findings.text }),
      ms("keystroke to all diagnostics", typed.whole, { findings: findings.whole }, target),
      ms("keystroke to completion", typed.completion, { items }),
      ms("hover over a solved key", typed.hover, { "with a table": tables }),
    ];
  } finally {
    await server.stop();
  }
}

/** Waits for the findings of a text, then for those of its motion, which the server sends one after the other. */
async function both(server: RobustServer, before: number, begun: number): Promise<{ text: number; whole: number }> {
  await server.until("diagnostics of the text", () => before < server.publishes(PATH));
  const text = performance.now() - begun;
  await server.until("all diagnostics", () => before + 1 < server.publishes(PATH));
  return { text, whole: performance.now() - begun };
}

/** A digit that comes and goes behind one value in the middle: all that follows moves by one. */
async function typing(server: RobustServer, start: string, rounds: number) {
  const out = {
    text: [] as number[],
    whole: [] as number[],
    completion: [] as number[],
    hover: [] as number[],
    findings: { text: 0, whole: 0 },
    items: 0,
    tables: 0,
  };
  let text = start;
  const at = text.indexOf("\n", text.indexOf("lift: ", Math.floor(text.length / 2)));
  const key = text.indexOf("name:", at);
  const put = async (from: number, to: number, piece: string): Promise<void> => {
    text = await server.change(PATH, text, [{ from, to, piece }]);
  };
  const ask = <T>(method: string, offset: number): Promise<T> =>
    server.connection.sendRequest<T>(`textDocument/${method}`, {
      textDocument: { uri: server.uri(PATH) },
      position: positionIn(text, offset),
    });
  for (let round = -4; round < rounds; round++) {
    const before = server.publishes(PATH);
    const begun = performance.now();
    await put(at, at + (round % 2 === 0 ? 0 : 1), round % 2 === 0 ? String(1 + ((round + 9) % 9)) : "");
    const times = await both(server, before, begun);
    const asked = performance.now();
    const hover = await ask<{ contents: { value: string } } | null>("hover", key + 2);
    const hovered = performance.now() - asked;
    // The name of an axis is begun: completion is asked for with the keystroke, before anything is known of it.
    const publishes = server.publishes(PATH);
    const completed = performance.now();
    await put(at, at, "\n      b");
    const items = await ask<readonly unknown[]>("completion", at + "\n      b".length);
    const listed = performance.now() - completed;
    await both(server, publishes, completed);
    const undone = server.publishes(PATH);
    await put(at, at + "\n      b".length, "");
    await both(server, undone, performance.now());
    // The first rounds compile what was never run.
    if (round < 0) continue;
    out.text.push(times.text);
    out.whole.push(times.whole);
    out.hover.push(hovered);
    out.completion.push(listed);
    out.findings.whole = server.published(PATH)?.diagnostics.length ?? 0;
    out.items = items.length;
    if (hover?.contents.value.includes("|")) out.tables += 1;
  }
  return out;
}
