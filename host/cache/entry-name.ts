import { createHash } from "node:crypto";

/** Bytes or a text as 64 hexadecimal digits (SHA-256). */
export const digestOf = (content: string | Uint8Array): string => createHash("sha256").update(content).digest("hex");

/** Where an entry of this digest lies in the folder of entries: in one of 256 folders, so that none grows large. */
export const entryPath = (digest: string): readonly [folder: string, name: string] => [
  digest.slice(0, 2),
  `${digest.slice(2)}.json`,
];

export const isEntryFolder = (name: string): boolean => /^[0-9a-f]{2}$/.test(name);
export const isEntryName = (name: string): boolean => /^[0-9a-f]{62}\.json$/.test(name);
/** What an entry is written to before it has its name. */
export const isAsideName = (name: string): boolean => /^\.[0-9a-f]{62}\.json\.[0-9a-f]{12}$/.test(name);
