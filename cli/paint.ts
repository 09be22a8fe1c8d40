/** Colours a word for a terminal, or leaves it. */
export type Paint = (style: "error" | "warning" | "quiet" | "strong", text: string) => string;

const CODES = { error: 31, warning: 33, quiet: 2, strong: 1 } as const;

export const plain: Paint = (_style, text) => text;
export const coloured: Paint = (style, text) => `\u001b[${CODES[style]}m${text}\u001b[0m`;

/** Colours only on a terminal, and never when NO_COLOR is set (https://no-color.org). */
export function paintFor(stream: { readonly isTTY?: boolean }, env: NodeJS.ProcessEnv): Paint {
  const isRefused = (env.NO_COLOR ?? "") !== "" || env.TERM === "dumb";
  return stream.isTTY && !isRefused ? coloured : plain;
}
