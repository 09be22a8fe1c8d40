import { relativeReference } from "../../core/base/path.ts";
import type { FileId } from "../../core/base/span.ts";
import { bareMove, moveCandidates, type MoveParts } from "../service/templates/templates-move.ts";
import type { Fields, WrittenDocument } from "../service/templates/templates-text.ts";
import { shootTemplate, templateText } from "../service/templates/templates.ts";
import type { Shop } from "./template-shop.ts";

/** A new document, and how many errors it has as it stands. */
export interface Begun {
  readonly written: WrittenDocument;
  readonly errors: number;
}

/** How many of the nearest documents of a kind are tried with each other. */
const RIGS_CAP = 3;
const CAMERAS_CAP = 2;
const LENSES_CAP = 2;
/** Most moves of a new shoot. */
const SHOTS_CAP = 12;

/** The first move without errors that the documents around it give; else the one with the fewest. */
export async function searchMove(shop: Shop, file: FileId): Promise<Begun | undefined> {
  let best: Begun | undefined;
  for (const parts of await partsFor(shop, file)) {
    const bare = await shop.trials.analyse(file, templateText("move", shop.format, bareMove(parts)).text);
    if (!bare?.move) continue;
    const found = await firstSound(shop, "move", file, moveCandidates(parts, bare.move));
    if (found?.errors === 0) return found;
    if (found && (!best || found.errors < best.errors)) best = found;
  }
  return best;
}

/** A shoot of the nearest moves; of fewer where they do not go together. */
export async function searchShoot(shop: Shop, file: FileId): Promise<Begun | undefined> {
  const moves = await shop.sound("move", SHOTS_CAP);
  const folderOf = (each: FileId): string => each.slice(0, each.lastIndexOf("/"));
  const nearest = moves.filter((move) => folderOf(move) === folderOf(moves[0]));
  const shoots = [nearest, ...nearest.map((move) => [move])].map((list) =>
    shootTemplate(
      shop.stem,
      list.map((move) => relativeReference(file, move)),
    ),
  );
  return firstSound(shop, "shoot", file, shoots);
}

async function firstSound(
  shop: Shop,
  kind: "move" | "shoot",
  file: FileId,
  documents: readonly Fields[],
): Promise<Begun | undefined> {
  let best: Begun | undefined;
  for (const document of documents) {
    if (shop.isCancelled()) break;
    const written = templateText(kind, shop.format, document);
    const errors = await shop.trials.errors(file, written.text);
    if (errors === 0) return { written, errors };
    if (!best || errors < best.errors) best = { written, errors };
  }
  return best;
}

/** Rigs with cameras, lenses and the nearest set, the nearest of each first. */
async function partsFor(shop: Shop, file: FileId): Promise<readonly MoveParts[]> {
  const [rigs, cameras, sets] = [
    await shop.sound("rig", RIGS_CAP),
    await shop.sound("camera", CAMERAS_CAP),
    await shop.sound("set", 1),
  ];
  const refer = (to: FileId): string => relativeReference(file, to);
  return rigs.flatMap((rig) =>
    cameras.flatMap((camera) =>
      shop
        .lensesIn(camera)
        .slice(0, LENSES_CAP)
        .map((lens) => ({
          title: shop.stem,
          rig: refer(rig),
          camera: refer(camera),
          lens,
          ...(sets.length > 0 ? { set: refer(sets[0]) } : {}),
        })),
    ),
  );
}
