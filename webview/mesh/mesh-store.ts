import type { Body } from "../../core/rig/resolved-rig.ts";
import { decodeBase64 } from "../../core/base/base64.ts";
import { baseName } from "../../core/base/path.ts";
import type { StageMesh, StageMeshAnswer, StageMeshPart } from "../../protocol/stage.ts";
import type { StagePlate } from "../../protocol/stage-lens.ts";
import { createPlateStore, type PlateStore } from "../lens/plate-store.ts";
import type { MeshShape } from "./mesh-shape.ts";
import { readMesh } from "./read-mesh.ts";

/** The meshes of the take that is shown: asked for once, and again when their files change. */
export interface MeshStore {
  /** The plate, whose file is asked for in the same way. */
  readonly plate: PlateStore;
  /** Says which meshes there are, and which plate; others are let go. */
  load(meshes: readonly StageMesh[], plate?: StagePlate): void;
  receive(answer: StageMeshAnswer): void;
  /** `undefined` while it is not there, and for one that can't be drawn. */
  shape(file: string): MeshShape | undefined;
  /** Another one when a shape of the bodies is another. */
  signature(bodies: readonly Body[]): string;
  /** Files that are drawn, and a sentence on each that can't be. */
  report(): { readonly drawn: readonly string[]; readonly problems: readonly string[] };
}

interface Entry {
  /** Of what was asked for; `undefined` after a failure that another try may mend. */
  stamp: string | undefined;
  /** Counts what was asked for: answers to older questions are dropped. */
  turn: number;
  revision: number;
  shape?: MeshShape;
  problem?: string;
  readonly waiting: Map<string, { resolve(answer: { data: string; stamp: string }): void; reject(error: Error): void }>;
}

/**
 * @param ask     Asks for a file of a mesh; its answer goes to `receive`.
 * @param changed Called when a mesh can be drawn, or can't.
 * @param stale   Called when the plate is to be shown otherwise.
 */
export function createMeshStore(ask: (part: StageMeshPart) => void, changed: () => void, stale: () => void): MeshStore {
  const entries = new Map<string, Entry>();

  const drop = (entry: Entry): void => {
    entry.turn += 1;
    for (const { reject } of entry.waiting.values()) reject(new Error("It is not wanted any more."));
    entry.waiting.clear();
  };

  /** A file of the mesh, once it is here. */
  const fetchPart = (file: string, entry: Entry, part?: string): Promise<{ data: string; stamp: string }> =>
    new Promise((resolve, reject) => {
      entry.waiting.set(part ?? "", { resolve, reject });
      ask(part === undefined ? { file } : { file, part });
    });

  const begin = async (file: string, entry: Entry, stamp: string): Promise<void> => {
    drop(entry);
    const { turn } = entry;
    entry.stamp = stamp;
    const bytesOf = async (part?: string): Promise<Uint8Array> => {
      const { data, stamp: now } = await fetchPart(file, entry, part);
      if (entry.turn === turn) entry.stamp = now;
      return decodeBase64(data) ?? new Uint8Array(0);
    };
    const outcome = await bytesOf()
      .then((bytes) => readMesh(file, bytes, bytesOf))
      .then((shape) => ({ shape, problem: undefined }))
      .catch((error: unknown) => ({
        shape: undefined,
        problem: error instanceof Error ? error.message : String(error),
      }));
    if (entry.turn !== turn) {
      release(outcome.shape);
      return;
    }
    release(entry.shape);
    entry.shape = outcome.shape;
    entry.problem = outcome.problem;
    entry.revision += 1;
    changed();
  };

  const plate = createPlateStore(ask, changed, stale);
  return {
    plate,
    load(meshes, shown) {
      plate.load(shown);
      const wanted = new Set(meshes.map(({ file }) => file));
      for (const [file, entry] of entries) {
        if (wanted.has(file)) continue;
        drop(entry);
        release(entry.shape);
        entries.delete(file);
      }
      for (const { file, stamp } of meshes) {
        const entry = entries.get(file) ?? { stamp: undefined, turn: 0, revision: 0, waiting: new Map() };
        entries.set(file, entry);
        if (entry.stamp !== stamp) void begin(file, entry, stamp);
      }
    },
    receive(answer) {
      if (plate.receive(answer)) return;
      const entry = entries.get(answer.file);
      const waiting = entry?.waiting.get(answer.part ?? "");
      if (!entry || !waiting) return;
      entry.waiting.delete(answer.part ?? "");
      if ("data" in answer) waiting.resolve(answer);
      else {
        entry.stamp = undefined;
        waiting.reject(new Error(answer.problem));
      }
    },
    shape: (file) => entries.get(file)?.shape,
    signature: (bodies) =>
      bodies.map(({ solid }) => (solid.shape === "mesh" ? (entries.get(solid.file)?.revision ?? 0) : "")).join(),
    report: () => ({
      drawn: [...entries].filter(([, { shape }]) => shape).map(([file]) => file),
      problems: [
        ...[...entries].flatMap(([file, { problem }]) =>
          problem ? [`${baseName(file)} is not drawn. ${problem}`] : [],
        ),
        ...(plate.problem() === "" ? [] : [plate.problem()]),
      ],
    }),
  };
}

function release(shape: MeshShape | undefined): void {
  shape?.faces.dispose();
  shape?.edges.dispose();
}
