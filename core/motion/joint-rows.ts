import type { MoveAxis } from "./resolved-move.ts";

/**
 * Numbers of a move's axes as numbers of the rig's joints: values, speeds or accelerations of an instant, followers
 * included. Fixed joints have 0; turntables have no joint. Allocates nothing.
 *
 * @param row Shape (axes,), as in an `Instant`.
 * @param out Shape (joints,); wholly overwritten.
 */
export function writeJointRow(axes: readonly MoveAxis[], row: Float64Array, out: Float64Array): void {
  out.fill(0);
  for (let i = 0; i < axes.length; i++) if (0 <= axes[i].joint) out[axes[i].joint] = row[i];
}
