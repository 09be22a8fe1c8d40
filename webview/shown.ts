import type { StageFinding } from "../protocol/stage.ts";
import type { Moment } from "./take/moment.ts";
import type { OpenTake } from "./take/open-take.ts";

/** What is shown now: a take that is open, or why there is none. */
export interface Shown {
  readonly uri: string | undefined;
  readonly version: number;
  readonly message: string;
  readonly findings: readonly StageFinding[];
  readonly open?: OpenTake;
  readonly moment?: Moment;
}
