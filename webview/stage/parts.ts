import type { Object3D, Scene } from "three";

interface Part {
  readonly object: Object3D;
  dispose(): void;
}

/**
 * Parts of a scene, each kept for as long as what it is made of stays the same: an edit of a key leaves the rig and the
 * set standing.
 */
export interface Parts {
  /** The part kept under `name` if `made` of the same, else a new one in its place. */
  keep<T extends Part>(name: string, made: unknown, build: () => T): T;
  clear(): void;
  /** How many parts were built so far; a test reads it. */
  readonly built: () => number;
}

export function createParts(scene: Scene): Parts {
  const kept = new Map<string, { signature: string; part: Part }>();
  let built = 0;
  const drop = (part: Part): void => {
    scene.remove(part.object);
    part.dispose();
  };
  return {
    keep<T extends Part>(name: string, made: unknown, build: () => T): T {
      const signature = signatureOf(made);
      const before = kept.get(name);
      if (before?.signature === signature) return before.part as T;
      if (before) drop(before.part);
      const part = build();
      built += 1;
      kept.set(name, { signature, part });
      scene.add(part.object);
      return part;
    },
    clear() {
      for (const { part } of kept.values()) drop(part);
      kept.clear();
    },
    built: () => built,
  };
}

/** Where the text stands changes with each edit and shows in no picture. */
function signatureOf(made: unknown): string {
  return JSON.stringify(made, (key, value: unknown) => (/^origins?$|Origin$/.test(key) ? undefined : value));
}
