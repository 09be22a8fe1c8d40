const CENTRAL_ENTRY = 0x02014b50;
const END_OF_CENTRAL_DIRECTORY = 0x06054b50;

/** Names of the files in a zip archive, sorted; read from its central directory (PKWARE APPNOTE 4.3.12 and 4.3.16). */
export function zipNames(archive: Buffer): string[] {
  let end = archive.length - 22;
  while (end >= 0 && archive.readUInt32LE(end) !== END_OF_CENTRAL_DIRECTORY) end -= 1;
  if (end < 0) throw new Error("Not a zip archive.");
  const names: string[] = [];
  let at = archive.readUInt32LE(end + 16);
  for (let left = archive.readUInt16LE(end + 10); left > 0; left -= 1) {
    if (archive.readUInt32LE(at) !== CENTRAL_ENTRY) throw new Error(`No entry of the central directory at ${at}.`);
    const nameLength = archive.readUInt16LE(at + 28);
    names.push(archive.toString("utf8", at + 46, at + 46 + nameLength));
    at += 46 + nameLength + archive.readUInt16LE(at + 30) + archive.readUInt16LE(at + 32);
  }
  return names.sort();
}
