import assert from "node:assert/strict";
import { resolveRig } from "../../core/model/resolve-rig.ts";
import { compileRig, createPoseBuffer, fillFollowers, forward, ownFrame } from "../../core/rig/chain.ts";
import type { ResolvedRig } from "../../core/rig/resolved-rig.ts";
import { memorySources } from "../fixtures/memory-sources.ts";

/** The rig of a text that names `arm.urdf`; findings of severity error fail. */
export function rigOfTexts(rig: string, urdf: string): ResolvedRig {
  const files = new Map([
    ["r.rig.yaml", rig],
    ["arm.urdf", urdf],
  ]);
  const resolved = resolveRig("r.rig.yaml", memorySources(files));
  const errors = resolved.problems.filter(({ severity }) => severity === "error");
  assert.deepEqual(errors.map(({ message }) => message), []); // prettier-ignore
  assert.ok(resolved.rig);
  return resolved.rig;
}

/** The mount of a rig in its base: row-major rotation (9) and position (3) [m], by axis values [rad or m], others 0. */
export function mountOf(
  rig: ResolvedRig,
  values: Readonly<Record<string, number>>,
): { readonly rotation: readonly number[]; readonly position: readonly number[] } {
  const chain = compileRig(rig);
  const q = Float64Array.from(rig.joints, ({ name }) => values[name] ?? 0);
  fillFollowers(chain, q);
  const pose = createPoseBuffer(chain);
  forward(chain, ownFrame(), q, pose);
  return { rotation: [...pose.mountRotation], position: [...pose.mountPosition] };
}

/** Fails unless all numbers are as near as `within`. */
export function assertNear(found: readonly number[], wanted: readonly number[], within: number, what: string): void {
  assert.equal(found.length, wanted.length);
  found.forEach((value, i) => {
    assert.ok(Math.abs(value - wanted[i]) <= within, `${what}: [${found.join(", ")}], expected [${wanted.join(", ")}]`);
  });
}
