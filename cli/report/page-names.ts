/** Letters of a name: with an ending and what tells two apart, within any disk's. */
const LETTERS = 60;

/**
 * A name for the pages of each path, of letters that any disk and address takes. No two are alike, upper and lower case
 * left aside; the same paths give the same names.
 */
export function pageNames(paths: readonly string[]): string[] {
  const taken = new Set<string>();
  return paths.map((path) => {
    const plain = path
      .replace(/\.(?:move|rig|set|camera|shoot)\.(?:yaml|yml|json)$/i, "")
      .replace(/[^A-Za-z0-9]+/g, "-")
      .replace(/^-+|-+$/g, "")
      .toLowerCase()
      .slice(-LETTERS)
      .replace(/^-+/, "");
    // Devices of some systems are files of these names.
    const base = plain === "" || /^(?:con|prn|aux|nul|com\d|lpt\d)$/.test(plain) ? `move-${plain || "1"}` : plain;
    let name = base;
    for (let n = 2; taken.has(name); n++) name = `${base}-${n}`;
    taken.add(name);
    return name;
  });
}
