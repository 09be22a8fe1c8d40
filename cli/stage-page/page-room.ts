import type { AlonePage } from "../../protocol/alone-page.ts";
import type { PageProgram } from "./page-program.ts";
import { renderPage } from "./render-page.ts";

/** A page with a comparison is not larger than this, so that it can be attached to a mail [bytes]. */
const PAGE_ROOM = 1_500_000;

/** Rounded up, so that what is too large does not look as if it were not. */
export const kilobytes = (bytes: number): string => `${Math.ceil(bytes / 1000)} kB`;

/** A page that was made, and a sentence on what had no room in it. */
export interface MadePage {
  readonly page: AlonePage;
  readonly text: string;
  readonly left: readonly string[];
}

/** Makes the page with what is compared with, if there is room for that, and without it else. */
export function withinRoom(whole: AlonePage, program: PageProgram, room = PAGE_ROOM): MadePage {
  const text = renderPage(whole, program);
  const size = Buffer.byteLength(text);
  if (!whole.ghost || size <= room) return { page: whole, text, left: [] };
  const { ghost, ...page } = whole;
  const why = `with it the page would have ${kilobytes(size)}, and a page with a comparison may have ${kilobytes(room)}`;
  return { page, text: renderPage(page, program), left: [`${ghost.label} is not in the page: ${why}.`] };
}
