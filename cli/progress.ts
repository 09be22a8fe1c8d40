/** How far long work is, for a person who waits. */
export interface Progress {
  readonly onProgress: (done: number, all: number) => void;
  /** Leaves no trace on a terminal. */
  readonly end: () => void;
}

/** Where it is told: standard error, so that the answer stays alone. */
export interface ProgressStream {
  readonly isTTY?: boolean;
  write(text: string): unknown;
}

/** What takes less is not worth a line [ms]. */
const PATIENCE = 500;
/** How often the line of a terminal is written again, and how often a log of a machine gets a line [ms]. */
const ON_TERMINAL = 100;
const IN_LOG = 10_000;

/**
 * One line that is written again and again on a terminal; where no line can be, and in the log of a machine that builds, a
 * line now and then, so that nobody takes it for dead. Anywhere else nothing.
 *
 * @param what Of what there are so many: `documents checked`.
 */
export function progressOn(
  stream: ProgressStream,
  env: NodeJS.ProcessEnv,
  what: string,
  now: () => number = () => performance.now(),
): Progress {
  const isTerminal = stream.isTTY === true;
  const canRewrite = isTerminal && env.TERM !== "dumb";
  const isBuild = (env.CI ?? "") !== "" && env.CI !== "false";
  if (!isTerminal && !isBuild) return { onProgress: () => undefined, end: () => undefined };
  const begun = now();
  const every = canRewrite ? ON_TERMINAL : IN_LOG;
  let next = begun + (canRewrite ? PATIENCE : IN_LOG);
  let isShown = false;
  return {
    onProgress(done, all) {
      const time = now();
      if (time < next || done >= all) return;
      next = time + every;
      isShown = canRewrite;
      const line = `movewright: ${done} of ${all} ${what}${leftWords(time - begun, done, all)}`;
      stream.write(canRewrite ? `\r${line}\u001b[K` : `${line}\n`);
    },
    end() {
      if (isShown) stream.write("\r\u001b[K");
      isShown = false;
    },
  };
}

/** `, about 12 s left` once that can be said. */
function leftWords(spent: number, done: number, all: number): string {
  const left = Math.ceil((spent * (all - done)) / done / 1000);
  if (done < all / 20 || spent < 2000) return "";
  return `, about ${left < 100 ? `${left} s` : `${Math.round(left / 60)} min`} left`;
}
