import { unpackTake } from "../protocol/codec.ts";
import type { TakeResult } from "../protocol/requests.ts";
import {
  SHAPE_REQUEST,
  type ShapeIntent,
  type ShapeParams,
  type ShapePreview,
  type ShapeResult,
} from "../protocol/stage-shape.ts";
import { startNearServer } from "../test/support/near-server.ts";
import { CAMERA, moveText, RIG, SET } from "./documents.ts";
import { cpuSeconds, percentile, type Figure } from "./measure.ts";

const PATH = "m.move.yaml";
const KEYS = 200;
/** The key that is dragged. */
const KEY = 100;
/** Events of a drag, without those that compile what was never run. */
const ROUNDS = 120;
const WARM = 40;

/** A key of the camera's place among others that give axes; every tenth gives one. */
function withPlaces(text: string): string {
  const at = `      track: `;
  const key = text.indexOf(`name: k${KEY}\n`);
  const axes = text.indexOf("    axes:\n", key);
  const end = text.indexOf("    aim:", axes);
  if (key < 0 || axes < 0 || !text.slice(axes, end).includes(at)) throw new Error("the benchmark's key was not found");
  return `${text.slice(0, axes)}    camera: { at: [6.3, 0.4, 1.5] }\n${text.slice(end)}`;
}

interface Drag {
  readonly name: string;
  readonly text: string;
  /** What the pointer wants after so many events; it goes to and fro, and a little on with each. */
  readonly wish: (round: number) => ShapeIntent;
}

const wave = (round: number, size: number): number => size * Math.sin(round * 0.37);

const DRAGS: readonly Drag[] = [
  { name: "a key in time", text: moveText(KEYS), wish: (n) => ({ kind: "time", key: KEY, time: KEY + wave(n, 0.4) }) },
  {
    name: "a camera's place",
    text: withPlaces(moveText(KEYS)),
    wish: (n) => ({ kind: "camera", key: KEY, at: [6.3 + wave(n, 0.15), 0.4 + wave(n + 2, 0.15), 1.5 + wave(n, 0.1)] }),
  },
  {
    name: "a camera's place, by axes",
    text: moveText(KEYS),
    wish: (n) => ({ kind: "camera", key: KEY, at: [4.7 + wave(n, 0.15), 0.4 + wave(n + 2, 0.15), 1.5 + wave(n, 0.1)] }),
  },
  {
    name: "a subject in the picture",
    text: moveText(KEYS),
    wish: (n) => ({ kind: "framing", key: KEY, at: [0.5 + wave(n, 0.08), 0.5 + wave(n + 3, 0.05)] }),
  },
  {
    name: "an axis",
    text: moveText(KEYS),
    wish: (n) => ({ kind: "axis", key: KEY, axis: 2, by: wave(n, 0.05) }),
  },
];

/** Milliseconds from an event of a drag to the changed poses at hand, through the server's connection, messages included. */
export async function benchShaping(): Promise<Figure[]> {
  const figures: Figure[] = [];
  for (const drag of DRAGS) figures.push(await benchDrag(drag));
  return figures;
}

async function benchDrag({ name, text, wish }: Drag): Promise<Figure> {
  const server = await startNearServer({ "seven.rig.yaml": RIG, "a.camera.yaml": CAMERA, "a.set.yaml": SET });
  try {
    await server.open(PATH, text);
    const uri = server.uri(PATH);
    const take = await server.connection.sendRequest<TakeResult>("movewright/take", { uri });
    if (!("take" in take)) throw new Error(take.problem.message);
    const spent: number[] = [];
    const out = { moved: 0, stopped: 0, refused: 0, still: 0 };
    let rows = 0;
    let bytes = 0;
    let used = 0;
    for (let round = 0; round < WARM + ROUNDS; round++) {
      const params: ShapeParams = { uri, turn: round, version: 1, phase: "preview", intent: wish(round) };
      const [begun, cpu] = [performance.now(), cpuSeconds()];
      const result = await server.connection.sendRequest<ShapeResult>(SHAPE_REQUEST, params);
      const preview = "preview" in result ? result.preview : undefined;
      const samples = preview?.patch && unpackTake(preview.patch.rows);
      const [took, cpuTook] = [performance.now() - begun, cpuSeconds() - cpu];
      if (round < WARM) continue;
      spent.push(took);
      used += cpuTook;
      out[outcomeOf(preview)] += 1;
      rows = samples?.count ?? rows;
      bytes = JSON.stringify(result).length;
    }
    const facts = {
      least: Number(Math.min(...spent).toFixed(1)),
      p50: Number(percentile(spent, 0.5).toFixed(1)),
      max: Number(Math.max(...spent).toFixed(1)),
      "mean of processor time": Number(((1000 * used) / spent.length).toFixed(1)),
      rounds: spent.length,
      ...out,
      rows,
      kB: Math.round(bytes / 1024),
    };
    return {
      name: `drag ${name} of ${KEYS} keys, p95`,
      value: percentile(spent, 0.95),
      unit: "ms",
      target: "16",
      facts,
    };
  } finally {
    server.stop();
  }
}

function outcomeOf(preview: ShapePreview | undefined): "moved" | "stopped" | "refused" | "still" {
  if (!preview) return "refused";
  if (!preview.patch) return "still";
  return preview.stop ? "stopped" : "moved";
}
