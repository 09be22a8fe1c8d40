import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { loadWatch, type LoadRow } from "../load/load-watch.ts";
import { motorsOf, motorWatch } from "../optics/motor-watch.ts";
import { passingWatch, type PassingRow } from "../optics/passing-watch.ts";
import { passCount } from "../passes/last-pass.ts";
import { passWatch } from "../passes/pass-watch.ts";
import { repeatAxes } from "../../repeat/repeat-axes.ts";
import { poseWatch, type PoseRow } from "./measures.ts";
import type { Watch } from "./scan.ts";

/** What is watched of a move by those who look at every instant of it. */
export interface Watches {
  readonly poses: PoseRow;
  readonly passing: PassingRow;
  readonly loads: LoadRow;
  readonly motors: string;
  readonly passes: string;
}

export type WatchName = keyof Watches;

type Makers = { readonly [Name in WatchName]: (move: ResolvedMove) => Watch<Watches[Name]> };

const MAKERS: Makers = {
  poses: poseWatch,
  passing: passingWatch,
  loads: loadWatch,
  motors: (move) => motorWatch(motorsOf(move), move.optics.closeFocus),
  passes: passWatch,
};

export function makeWatch<Name extends WatchName>(name: Name, move: ResolvedMove): Watch<Watches[Name]> {
  return MAKERS[name](move);
}

/** All that a move is watched for in any case: evaluating an instant costs more than looking at it. */
export function watchedOf(move: ResolvedMove): readonly WatchName[] {
  const { rig } = move;
  return [
    "poses",
    "passing",
    ...(rig.masses.length > 0 ? (["loads"] as const) : []),
    ...(motorsOf(move).length > 0 ? (["motors"] as const) : []),
    ...(passCount(move) > 1 && repeatAxes(move).length > 0 ? (["passes"] as const) : []),
  ];
}
