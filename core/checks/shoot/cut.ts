import { capturedFraming } from "../../lens/project.ts";
import type { Task } from "../../base/task.ts";
import { trimmed } from "../../base/units.ts";
import type { Vec3 } from "../../base/vec3.ts";
import type { CutEnd, ResolvedCut } from "../../model/resolved-shoot.ts";
import type { ResolvedKey } from "../../motion/resolved-move.ts";
import type { Finding } from "../finding.ts";
import { CUT_SLACK } from "../thresholds.ts";
import { comparePictures, type Apart } from "./compare-pictures.ts";
import { cutCures } from "./cut-cures.ts";
import type { ShootCheck, ShootContext, ShootMove } from "./shoot-check.ts";
import { angleBetween, deliveredAt, shownAt, turnedApart, viewFigures, type Shown } from "./shown.ts";

/** One side of a cut with its motion. */
export interface CutSide {
  readonly end: CutEnd;
  readonly one: ShootMove;
  readonly key: ResolvedKey;
  /** Index into the targets of its move. */
  readonly target: number;
  readonly shown: Shown;
}

/** `match` of cuts: the pictures of two keys, about a target, agree within the tolerance. */
export const cut: ShootCheck = {
  code: "match",
  *run(context) {
    const out: Finding[] = [];
    for (const each of context.shoot.cuts) {
      const from = sideOf(context, each, each.from);
      const to = sideOf(context, each, each.to);
      if (from && to) out.push(...(yield* checkCut(each, from, to)));
      yield;
    }
    return out;
  },
};

/** Absent where the move, its key or its target has a finding of its own. */
function sideOf({ moves }: ShootContext, { about }: ResolvedCut, end: CutEnd): CutSide | undefined {
  const one = moves.get(end.move);
  const key = one?.move.keys.find(({ name }) => name === end.key);
  const target = one?.move.targets.findIndex(({ name }) => name === about) ?? -1;
  if (!one || !key || target < 0) return undefined;
  return { end, one, key, target, shown: shownAt(one.trajectory, target, key.time) };
}

function* checkCut(stated: ResolvedCut, from: CutSide, to: CutSide): Task<readonly Finding[]> {
  const found = comparePictures(from.shown, to.shown, stated.size);
  if (matches(found, stated)) return [];
  const isFramed = found.target <= stated.tolerance;
  const sets = yield* cutCures(from, to, (tried) => matches(comparePictures(from.shown, tried, stated.size), stated));
  return [
    {
      code: "match",
      severity: "warning",
      origin: to.end.origin,
      related: [
        { origin: stated.toleranceOrigin, note: "limit" },
        { origin: from.one.originOf(from.key.origin), note: "from-key" },
        { origin: to.one.originOf(to.key.origin), note: "to-key" },
      ],
      key: to.key.label,
      measured: isFramed ? found.most : found.target,
      limit: stated.tolerance,
      dimension: "pixels",
      evidence: "exact",
      facts: {
        about: stated.about,
        from: from.end.reference,
        fromKey: from.key.label,
        to: to.end.reference,
        of: isFramed ? "around" : "framing",
        target: found.target,
        most: found.most,
        reach: found.reach,
        direction: angleBetween(from.shown.sight, to.shown.sight),
        turned: turnedApart(from.shown, to.shown),
        ...sideFacts("from", from.shown),
        ...sideFacts("to", to.shown),
        place: metres(from.shown.sight),
        cures: sets.map(({ title }) => title.replace(/^S/, "s")).join(", or "),
      },
      sets,
    },
  ];
}

const matches = ({ most }: Apart, { tolerance }: ResolvedCut): boolean => most <= tolerance + CUT_SLACK;

/** Where a camera is from its target, `[x, y, z]` in metres. */
const metres = (sight: Vec3): string => `[${sight.map((each) => trimmed(-each, 4)).join(", ")}]`;

function sideFacts(side: "from" | "to", shown: Shown): Readonly<Record<string, number>> {
  const { optics, deliver } = shown.move;
  const [across, down] = capturedFraming(optics, deliver, deliveredAt(shown));
  const { distance, height, roll, focal, field } = viewFigures(shown);
  const crop = deliver[1] / optics.resolution[1];
  const all = { across, down, distance, height, roll, focal, field, crop };
  return Object.fromEntries(Object.entries(all).map(([name, value]) => [`${side}-${name}`, value]));
}
