const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "\t": "&#9;",
  "\n": "&#10;",
  "\r": "&#13;",
};

/** Text for XML 1.0, which has no room for most control characters and none for half a character. */
export function xmlText(text: string): string {
  return fit(text).replace(/[&<>"]/g, (letter) => ENTITIES[letter]);
}

/** The same between double quotes: a reader makes blanks of bare tabs and line ends there. */
export function xmlAttribute(text: string): string {
  return fit(text).replace(/[&<>"\t\n\r]/g, (letter) => ENTITIES[letter]);
}

const fit = (text: string): string =>
  text.replace(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, "\ufffd");
