import type { OriginId } from "../../base/origin-id.ts";
import type { Task } from "../../base/task.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Check, CheckContext } from "../check.ts";
import type { AddedField, Finding, SetValue } from "../finding.ts";
import { lastPassError } from "../passes/last-pass.ts";
import { FRAME_SLACK } from "../thresholds.ts";

/** What lies between the captured and the delivered picture, and what is taken of it: captured px on each side. */
export interface Margin {
  /** Across and down; the crop is centred, so left is as right and top as bottom. */
  readonly left: readonly [number, number];
  readonly stabilise: readonly [number, number];
  /** The framing error that is accepted, and what the last pass may be off the first, at 95 %. */
  readonly framing: number;
  readonly passes: number;
}

/** `crop-margin`: stabilising, framing errors and the spread of passes take more than lies around the delivered crop. */
export const cropMargin: Check = {
  code: "crop-margin",
  *run(context): Task<readonly Finding[]> {
    const { move } = context;
    const margin = yield* marginOf(context);
    if (!margin) return [];
    const short = [0, 1].map((i) => needOf(margin, i) - margin.left[i]);
    const worst = short[1] > short[0] ? 1 : 0;
    if (!(short[worst] > FRAME_SLACK)) return [];
    const sides = [...(short[0] > FRAME_SLACK ? ["across"] : []), ...(short[1] > FRAME_SLACK ? ["down"] : [])];
    return [
      {
        code: "crop-margin",
        severity: "error",
        origin: originOf(move),
        related: [
          { origin: move.optics.resolutionOrigin ?? 0, note: "limit" },
          { origin: move.deliverOrigin, note: "see" },
          { origin: move.toleranceOrigin, note: "see" },
        ],
        measured: needOf(margin, worst),
        limit: margin.left[worst],
        dimension: "pixels",
        evidence: margin.passes > 0 ? "sampled" : "exact",
        facts: {
          sides: sides.join(),
          leftAcross: margin.left[0],
          leftDown: margin.left[1],
          shortAcross: short[0],
          shortDown: short[1],
          stabiliseAcross: margin.stabilise[0],
          stabiliseDown: margin.stabilise[1],
          framing: margin.framing,
          passes: margin.passes,
          whole: move.deliverOrigin === 0 ? "whole" : "",
        },
        sets: [...lessStabilising(move, margin), ...(yield* smallerCrop(context, margin))],
        adds: yield* newCrop(context, margin),
      },
    ];
  },
};

/** `undefined` where nothing is cropped and nothing stabilised. */
export function* marginOf(context: CheckContext): Task<Margin | undefined> {
  const { move } = context;
  const { optics, deliver, stabilise, keys } = move;
  const left = [(optics.resolution[0] - deliver[0]) / 2, (optics.resolution[1] - deliver[1]) / 2] as const;
  if (stabilise === 0 && left[0] === 0 && left[1] === 0) return undefined;
  const isAimed = keys.some(({ aim }) => aim?.kind === "target");
  return {
    left,
    stabilise: [(stabilise * optics.resolution[0]) / 2, (stabilise * optics.resolution[1]) / 2],
    framing: isAimed ? move.tolerance.aim : 0,
    passes: (yield* lastPassError(context))?.p95 ?? 0,
  };
}

/** Where all of a width or height is delivered and nothing stabilised, post has nothing to move along it. */
export const needOf = ({ left, stabilise, framing, passes }: Margin, i: number): number =>
  left[i] === 0 && stabilise[i] === 0 ? 0 : stabilise[i] + framing + passes;

/** In the move's own text: what is stabilised, else the crop. */
const originOf = ({ stabilise, stabiliseOrigin = 0, deliverOrigin, origin }: ResolvedMove): OriginId =>
  (stabilise > 0 ? stabiliseOrigin : 0) || deliverOrigin || origin;

/** The largest share, in steps of 0.1 %, that fits beside the rest. */
function lessStabilising(move: ResolvedMove, { left, framing, passes }: Margin): readonly SetValue[] {
  const { stabilise, stabiliseOrigin = 0, optics } = move;
  const fits = Math.min(...[0, 1].map((i) => (2 * (left[i] - framing - passes)) / optics.resolution[i]));
  const share = Math.floor(fits * 1000 + 1e-9) / 1000;
  if (stabiliseOrigin === 0 || !(0 <= share && share < stabilise)) return [];
  const value = `${(share * 100).toFixed(1).replace(/\.0$/, "")} %`;
  return [{ origin: stabiliseOrigin, value, title: `Set \`stabilise\` to ${value}` }];
}

/** The written size of the crop that fits, in place of the one that does not. */
function* smallerCrop(context: CheckContext, margin: Margin): Task<readonly SetValue[]> {
  const { cropOrigin = 0 } = context.move;
  const size = cropOrigin === 0 ? undefined : yield* fittingCrop(context, margin);
  return size ? [{ origin: cropOrigin, value: written(size), title: `Deliver a crop of ${size.join(" x ")} px` }] : [];
}

/** A crop where the whole picture was to be delivered. */
function* newCrop(context: CheckContext, margin: Margin): Task<readonly AddedField[]> {
  const { move } = context;
  const size = move.deliverOrigin === 0 ? yield* fittingCrop(context, margin) : undefined;
  return size ? [{ field: "deliver", value: written(size) }] : [];
}

const written = (size: readonly number[]): string => `[${size.join(", ")}]`;

/**
 * The largest crop of the delivered shape, in even numbers of pixels as encoders want them, that leaves what is needed, and
 * in which the subject still is; `undefined` without one.
 */
function* fittingCrop(context: CheckContext, margin: Margin): Task<readonly [number, number] | undefined> {
  const { deliver, optics } = context.move;
  const share = Math.min(...[0, 1].map((i) => (optics.resolution[i] - 2 * needOf(margin, i)) / deliver[i]));
  const size = [even(deliver[0] * share), even(deliver[1] * share)] as const;
  if (!(0 < size[0] && 0 < size[1])) return undefined;
  const less = Math.max(deliver[0] - size[0], deliver[1] - size[1]) / 2;
  const scan = yield* context.scan("poses");
  return (yield* scan.above("outside", -less)).length === 0 ? size : undefined;
}

const even = (pixels: number): number => 2 * Math.floor(pixels / 2 + 1e-9);
