import { cpus, loadavg, totalmem } from "node:os";

/** One figure of the table: what was measured, how fast, and what came out beside the time. */
export interface Figure {
  readonly name: string;
  /** In `unit`. */
  readonly value: number;
  readonly unit: string;
  /** What one core is meant to reach. */
  readonly target?: string;
  /** Outcome counts and spreads, so that speed cannot hide failures. */
  readonly facts: Readonly<Record<string, number | string>>;
}

/** Where the figures come from: they compare on the same machine only, and when nothing else runs on it. */
export function machineName(): string {
  const [first] = cpus();
  const memory = (totalmem() / 2 ** 30).toFixed(0);
  const load = loadavg()[0].toFixed(1);
  const name = `${first?.model.trim() ?? "unknown processor"}, ${cpus().length} cores, ${memory} GiB`;
  return `${name}, Node ${process.version}, load ${load}`;
}

/** Runs `work` once to warm up, then for at least `least` ms; gives rounds a second of processor time, the median and the worst of 5 parts. */
export function roundsPerSecond(work: () => number, least = 400): { median: number; worst: number } {
  work();
  const rates: number[] = [];
  for (let part = 0; part < 5; part++) {
    const begin = performance.now();
    const used = cpuSeconds();
    let rounds = 0;
    do rounds += work();
    while (performance.now() - begin < least / 5);
    rates.push(rounds / (cpuSeconds() - used));
  }
  rates.sort((a, b) => a - b);
  return { median: rates[2], worst: rates[0] };
}

/** Milliseconds of each call. */
export function times(calls: readonly (() => void)[]): number[] {
  return calls.map((call) => {
    const begin = performance.now();
    call();
    return performance.now() - begin;
  });
}

/** The value below which `share` of the values lie, 0 < share <= 1; values need no order. */
export function percentile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.max(0, Math.ceil(share * sorted.length) - 1))];
}

/** Seconds of a processor that this process has used, its compiling and collecting threads included. */
export function cpuSeconds(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}

/** A figure as two lines of the table: what was measured, and what came out beside. */
export function printed({ name, value, unit, target, facts }: Figure): string {
  const beside = Object.entries(facts).map(([fact, amount]) => `${fact} ${amount}`);
  const goal = target === undefined ? "" : `  (to reach: ${target})`;
  const shown = value >= 100 ? Math.round(value).toLocaleString("en-US") : value.toFixed(1);
  return `${name.padEnd(44)} ${shown.padStart(12)} ${unit}${goal}\n${" ".repeat(44)} ${beside.join(", ")}\n`;
}
