import type { Task } from "../../base/task.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { courseOf } from "../../space/course.ts";
import { createPairs } from "../../space/pairs.ts";
import { createSearch } from "../../space/search.ts";
import type { SpaceBody } from "../../space/space-body.ts";
import { createSpace } from "../../space/space.ts";
import { spansInView } from "../../space/view-spans.ts";
import { keyAt, segmentKeys } from "../anchor.ts";
import type { Check, CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import { holdsView } from "./holds-view.ts";
import { keptBodies } from "./kept-bodies.ts";
import { createSight, seenIn, type Seen } from "./seen-part.ts";

/**
 * `in-view`: parts of the rig in the picture of its own camera, from the front of the lens barrel on. What the delivered crop
 * is free of is a warning.
 */
export const inView: Check = {
  code: "in-view",
  *run(context): Task<readonly Finding[]> {
    const { move, trajectory } = context;
    const space = createSpace(move, keptBodies(context).rig);
    const search = createSearch(space, createPairs(space, []), courseOf(trajectory));
    const which = space.bodies.flatMap((body, idx) => (isLooked(move, body) ? [idx] : []));
    if (which.length === 0) return [];
    const kept = context.seen.table<readonly Seen[]>("in-view");
    const sight = createSight(search, move);
    const found: Seen[] = [];
    for (let interval = 0; interval + 1 < search.course.knots.length; interval++) {
      const key = trajectory.intervals[interval] as object | undefined;
      let seen = key && kept.get(key);
      if (!seen) {
        const spans = [...spansInView(search, move.optics, interval, which)];
        seen = spans.flatMap(([idx, list]) => list.flatMap((span) => seenIn(sight, idx, span)));
        if (key) kept.set(key, seen);
      }
      for (const one of seen) join(found, one);
      yield;
    }
    return found.map((one) => viewFinding(context, space.bodies[one.body], one));
  },
};

/** Not the camera itself, as a body of the rig or not, nor what encloses its view, such as a matte box. */
function isLooked(move: ResolvedMove, body: SpaceBody): boolean {
  const { part, name } = body;
  const { optics } = move;
  if (part === "camera" || part === "lens") return false;
  if (part !== "attachment") return !holdsView(move, body);
  return !optics.attachments.some(
    ({ name: own, box, at }) => own === name && Math.abs(at[1]) < box[1] / 2 && Math.abs(at[2]) < box[2] / 2,
  );
}

/** What is seen on over a knot is one. */
function join(found: Seen[], next: Seen): void {
  const at = found.findIndex(({ body, to }) => body === next.body && Math.abs(to - next.from) < 1e-6);
  if (at < 0) {
    found.push(next);
    return;
  }
  const before = found[at];
  const worse = next.reach > before.reach + 1e-6 ? next : before;
  found[at] = { ...worse, from: before.from, to: next.to, isDelivered: before.isDelivered || next.isDelivered };
}

function viewFinding({ move }: CheckContext, body: SpaceBody, seen: Seen): Finding {
  const anchor = keyAt(move, [...move.keys.keys()], seen.peak);
  const key = move.keys[anchor.key];
  return {
    code: "in-view",
    severity: seen.isDelivered ? "error" : "warning",
    origin: key.camera?.origin || anchor.origin,
    related: [
      { origin: body.origin, note: "part" },
      ...(seen.isDelivered ? [] : [{ origin: move.deliverOrigin, note: "limit" } as const]),
      ...segmentKeys(move, anchor),
    ],
    key: key.label,
    time: { from: seen.from, to: seen.to },
    peak: seen.peak,
    measured: seen.reach,
    limit: 0,
    dimension: "pixels",
    evidence: "sampled",
    facts: { part: body.name, target: body.name, side: seen.side, crop: seen.isDelivered ? "" : "free" },
  };
}
