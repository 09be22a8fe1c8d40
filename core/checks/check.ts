import type { FindingCode } from "../base/finding-code.ts";
import type { Task } from "../base/task.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import type { Trajectory } from "../motion/trajectory.ts";
import type { Finding } from "./finding.ts";
import type { Scan } from "./scan/scan.ts";
import type { Watches, WatchName } from "./scan/watches.ts";
import type { Seen } from "./seen.ts";

/** What a check may look at. */
export interface CheckContext {
  readonly move: ResolvedMove;
  readonly trajectory: Trajectory;
  /** What was seen of intervals before an edit; a check may add what it sees. */
  readonly seen: Seen;
  /** The move's numbers at every instant that is sampled; made by the first check that asks. */
  scan<Name extends WatchName>(name: Name): Task<Scan<Watches[Name]>>;
}

/** One check: reads a trajectory, gives findings as data. It may throw; the others run all the same. */
export interface Check {
  readonly code: FindingCode;
  run(context: CheckContext): Task<readonly Finding[]>;
}
