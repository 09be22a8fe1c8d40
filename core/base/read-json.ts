/** The value of a JSON text; `undefined` for what is none, as no JSON text is. */
export function readJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    // What it was meant to be is for the caller to say.
    return undefined;
  }
}
