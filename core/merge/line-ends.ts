import type { Three } from "./sides.ts";

const MARK = "\ufeff";

/** How a text begins and how its lines end. */
interface Dress {
  readonly mark: boolean;
  /** `mixed` where both kinds of line end stand in it. */
  readonly lineEnd: "\n" | "\r\n" | "mixed";
  readonly lastEnds: boolean;
}

function dressOf(text: string): Dress {
  const crlf = text.split("\r\n").length - 1;
  const all = text.split("\n").length - 1;
  const hasLone = text.split("\r").length - 1 > crlf;
  const lineEnd = hasLone || (crlf > 0 && crlf < all) ? "mixed" : crlf > 0 ? "\r\n" : "\n";
  return { mark: text.startsWith(MARK), lineEnd, lastEnds: text === "" || text.endsWith("\n") };
}

/**
 * Three texts without a mark of byte order, with `\n` at each line's end, and what gives a merged text its ends back: that
 * of the last line too where it must end, as a mark of a conflict must.
 */
export interface Undressed {
  readonly texts: Three<string>;
  readonly dress: (text: string, mustEnd: boolean) => string;
}

/** Takes off what is of the file and not of what it says. Ends of lines that a side mixes stay as they are. */
export function undress({ base, ours, theirs }: Three<string>): Undressed {
  const all = { base: base === undefined ? undefined : dressOf(base), ours: dressOf(ours), theirs: dressOf(theirs) };
  const isMixed = [all.base, all.ours, all.theirs].some((one) => one?.lineEnd === "mixed");
  const plain = (text: string): string => {
    const bare = text.startsWith(MARK) ? text.slice(1) : text;
    const ended = bare === "" || bare.endsWith("\n") ? bare : `${bare}\n`;
    return isMixed ? ended : ended.replaceAll("\r\n", "\n");
  };
  const taken = <K extends keyof Dress>(of: K): Dress[K] =>
    all.ours[of] === all.base?.[of] ? all.theirs[of] : all.ours[of];
  return {
    texts: { base: base === undefined ? undefined : plain(base), ours: plain(ours), theirs: plain(theirs) },
    dress(text, mustEnd) {
      const ended = taken("lastEnds") || mustEnd ? text : text.replace(/\n$/, "");
      const lined = !isMixed && taken("lineEnd") === "\r\n" ? ended.replaceAll("\n", "\r\n") : ended;
      return taken("mark") ? MARK + lined : lined;
    },
  };
}
