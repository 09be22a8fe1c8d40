/** A document as people call it: the name of its file without what says its kind. */
export function documentTitle(uri: string): string {
  const name = uri.slice(uri.lastIndexOf("/") + 1).replace(/\.[a-z]+\.(yaml|yml|json)$/i, "");
  try {
    return decodeURIComponent(name);
  } catch {
    // A file system may have a name with a `%` that begins no letter.
    return name;
  }
}
