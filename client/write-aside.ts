/** What of an editor's file system writing needs; places are what it names files by. */
export interface WritableFiles<Place> {
  writeFile(place: Place, bytes: Uint8Array): PromiseLike<void>;
  rename(from: Place, to: Place, options: { readonly overwrite: boolean }): PromiseLike<void>;
  delete(place: Place): PromiseLike<void>;
}

/**
 * Writes a file aside and moves it into its place: what was there stays whole until the new file is, and nothing half written
 * is left. Rejects as the file system does.
 */
export async function writeAside<Place>(
  fs: WritableFiles<Place>,
  files: { readonly place: Place; readonly aside: Place },
  bytes: Uint8Array,
): Promise<void> {
  const { place, aside } = files;
  try {
    await fs.writeFile(aside, bytes);
    await fs.rename(aside, place, { overwrite: true });
  } catch (error) {
    // It may not be there at all; the first failure is the one to tell.
    await fs.delete(aside).then(undefined, () => undefined);
    throw error;
  }
}
