import type { Task } from "../../base/task.ts";
import type { Trajectory } from "../../motion/trajectory.ts";
import { checkContext } from "../check-context.ts";
import type { Finding } from "../finding.ts";
import { createSeen } from "../seen.ts";
import { blur } from "./blur.ts";
import { judder } from "./judder.ts";

const CHECKS = { judder, blur } as const;

/** What of the picture is too fast: which check says so, of what dimension, and for a table its name. */
export interface TooFast {
  readonly code: keyof typeof CHECKS;
  readonly dimension: Finding["dimension"];
  readonly axis?: string;
}

/** What is too fast in a finding of the picture. The axis of a pan is no part of it: at another speed it may be another one. */
export function tooFast({ code, dimension, axis }: Pick<Finding, "code" | "dimension" | "axis">): TooFast | undefined {
  if (code !== "judder" && code !== "blur") return undefined;
  return dimension === "angle-speed" ? { code, dimension, axis } : { code, dimension };
}

/** By how much the same is too fast from `from` to `to` [s]: by this factor the time must grow; 0 where it is nowhere. */
export function* pictureExcess(trajectory: Trajectory, what: TooFast, from: number, to: number): Task<number> {
  const findings = yield* CHECKS[what.code].run(checkContext(trajectory, createSeen(), []));
  return findings
    .filter((finding) => isSame(what, finding) && finding.time && finding.time.from < to && from < finding.time.to)
    .reduce((most, { dimension, measured = 0, limit = 0 }) => {
      return Math.max(most, dimension === "time" ? limit / measured : measured / limit);
    }, 0);
}

const isSame = (what: TooFast, { dimension, axis }: Finding): boolean =>
  dimension === what.dimension && (what.axis === undefined || axis === what.axis);
