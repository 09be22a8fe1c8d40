import { readdirSync, rmSync, statSync, utimesSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { isAsideName, isEntryFolder, isEntryName } from "./entry-name.ts";

/** How large all entries of a folder may become [bytes], and what is left when room is made. */
export const MOST_KEPT = 256_000_000;
const LEFT_SHARE = 0.75;
/** Entries that nobody used for so long go, and what a program that was killed left half written [ms]. */
const MOST_AGE = 30 * 86_400_000;
const ASIDE_AGE = 3_600_000;
/** How often the folder is looked through [ms]. */
const EVERY = 3_600_000;
const MARK = "swept";

export interface SweepOptions {
  readonly most?: number;
  /** Also when it was looked through a moment ago. */
  readonly force?: boolean;
}

/** Removes old entries, what was used least lately first. Does nothing where it was done lately, or may not be. */
export function sweepCache(folder: string, { most = MOST_KEPT, force = false }: SweepOptions = {}): void {
  const now = Date.now();
  try {
    if (!force && !isDue(join(folder, MARK), now)) return;
    const { entries, asides } = listEntries(folder);
    for (const { path, used } of asides) if (now - used > ASIDE_AGE) rmSync(path, { force: true });
    for (const { path } of tooMany(entries, most, now)) rmSync(path, { force: true });
  } catch {
    // Somebody else's folder, or one that may only be read: what is in it stays.
  }
}

function isDue(mark: string, now: number): boolean {
  const stats = statSync(mark, { throwIfNoEntry: false });
  if (stats && Math.abs(now - stats.mtimeMs) < EVERY) return false;
  // Before the work, so that others who start meanwhile leave it.
  if (stats) utimesSync(mark, now / 1000, now / 1000);
  else writeFileSync(mark, "", { mode: 0o600 });
  return true;
}

interface Entry {
  readonly path: string;
  readonly size: number;
  /** When it was used last [ms]. */
  readonly used: number;
}

function listEntries(folder: string): { readonly entries: readonly Entry[]; readonly asides: readonly Entry[] } {
  const entries: Entry[] = [];
  const asides: Entry[] = [];
  for (const part of readdirSync(folder).filter(isEntryFolder)) {
    for (const name of readdirSync(join(folder, part))) {
      const list = isEntryName(name) ? entries : isAsideName(name) ? asides : undefined;
      const path = join(folder, part, name);
      // Gone meanwhile where another program sweeps too.
      const stats = list && statSync(path, { throwIfNoEntry: false });
      if (stats?.isFile()) list?.push({ path, size: stats.size, used: stats.mtimeMs });
    }
  }
  return { entries, asides };
}

function tooMany(entries: readonly Entry[], most: number, now: number): Entry[] {
  const newestFirst = [...entries].sort((a, b) => b.used - a.used);
  const total = newestFirst.reduce((sum, { size }) => sum + size, 0);
  let room = total > most ? most * LEFT_SHARE : most;
  return newestFirst.filter(({ size, used }) => {
    room -= size;
    return room < 0 || now - used > MOST_AGE;
  });
}
