import {
  PART_SIZE,
  readPart,
  type SaveFromStage,
  type SaveOutcome,
  type SaveToStage,
  type SaveWish,
} from "../protocol/stage-save.ts";

/** Where files go: an editor's, or a test's. */
export interface SavePlaces<Place> {
  /** Asks a person; `undefined` when there is to be none. */
  choose(wish: SaveWish): Promise<Place | undefined>;
  /** Whole or not at all. Rejects with an error in words. @returns What to call the place. */
  put(place: Place, bytes: Uint8Array): Promise<string>;
}

/** Files that the stage made, on their way to where a person wants them. */
export interface Saves {
  receive(message: SaveFromStage): void;
  /** The page is gone, and what it had not sent with it. */
  closed(): void;
}

interface Coming<Place> {
  readonly wish: SaveWish;
  readonly place: Place;
  readonly bytes: Uint8Array;
  /** Parts so far. */
  parts: number;
}

export function createSaves<Place>(places: SavePlaces<Place>, post: (message: SaveToStage) => void): Saves {
  const coming = new Map<number, Coming<Place>>();
  let turn = 0;
  const end = (id: number, outcome: SaveOutcome): void => {
    coming.delete(id);
    post({ type: "saved", id, outcome });
  };
  const failed = (id: number, error: unknown): void =>
    end(id, { end: "failed", why: error instanceof Error ? error.message : String(error) });

  const begin = async (wish: SaveWish): Promise<void> => {
    const begun = turn;
    const place = await places.choose(wish);
    if (begun !== turn) return;
    if (place === undefined) return end(wish.id, { end: "left" });
    coming.set(wish.id, { wish, place, bytes: new Uint8Array(wish.size), parts: 0 });
    post({ type: "save-next", id: wish.id, index: 0 });
  };

  const take = async (id: number, index: number, data: string): Promise<void> => {
    const one = coming.get(id);
    // A part that nobody asked for, or that came twice.
    if (one === undefined || index !== one.parts) return;
    const part = readPart(data);
    const from = index * PART_SIZE;
    const wanted = Math.min(PART_SIZE, one.wish.size - from);
    if (part?.length !== wanted) throw new Error("The stage sent a part that is not whole; try once more.");
    one.bytes.set(part, from);
    one.parts += 1;
    if (from + wanted < one.wish.size) return post({ type: "save-next", id, index: one.parts });
    end(id, { end: "written", place: await places.put(one.place, one.bytes) });
  };

  return {
    receive(message) {
      const done = message.type === "save" ? begin(message) : take(message.id, message.index, message.data);
      done.catch((error: unknown) => failed(message.id, error));
    },
    closed() {
      turn += 1;
      coming.clear();
    },
  };
}
