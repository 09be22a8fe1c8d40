import { packTake } from "../../protocol/codec.ts";
import type { StageTake } from "../../protocol/stage.ts";
import { axesOf } from "./moves.ts";
import { joint, rigOf } from "../support/rigs.ts";
import { optics } from "../support/lenses.ts";
import { RATES } from "../../core/base/rate.ts";

/** A take of two samples written by hand: a slide with limits, a pan without, a target straight ahead. */
export function smallTake(more: Partial<StageTake> = {}): StageTake {
  const rig = rigOf([
    joint("slide", "linear", [0, 1, 0], [0, 0, 1], { limits: { speed: 0.4, accel: 0.5 } }),
    joint("pan", "rotary", [0, 0, 1]),
  ]);
  return {
    uri: "file:///pottery/small.move.yaml",
    version: 1,
    stale: false,
    title: "Small",
    rate: RATES["25"],
    startFrame: 0,
    duration: 1,
    rig,
    base: { x: 0, y: 0, floor: 0, heading: 0, lean: [0, 0] },
    optics: optics({}),
    deliver: [3840, 2160],
    axes: axesOf(rig, []),
    targets: [{ name: "lid", at: [2, 0, 1], origin: 0 }],
    turntables: [],
    obstacles: [],
    people: [],
    meshes: [],
    marks: [],
    floor: 0,
    tolerance: { match: 2, aim: 4, clearance: 0.05, nearLimit: 0.9 },
    keys: [
      { label: "first", time: 0 },
      { label: "last", time: 1 },
    ],
    aims: [],
    findings: [],
    samples: packTake({
      count: 2,
      t: Float64Array.of(0, 1),
      value: Float64Array.of(0, 0, 0.2, 0),
      speed: Float64Array.of(0.1, 0, 0.3, 0),
      accel: Float64Array.of(0.5, 0, -0.6, 0),
      jerk: Float64Array.of(0, 0, 0, 0),
      position: Float64Array.of(0.052, 0, 1, 0.052, 0.2, 1),
      rotation: Float64Array.of(0, 0, 0, 1, 0, 0, 0, 1),
      focal: Float64Array.of(0.035, 0.035),
      focus: Float64Array.of(2.044, 2.044),
      share: Float64Array.of(1, 1.2),
      targets: Float64Array.of(2, 0, 1, 2, 0, 1),
      framing: Float64Array.of(0.5, 0.5, 0.6, 0.5),
      distance: Float64Array.of(1.948, 1.96),
      wanted: Float64Array.of(NaN, NaN, NaN, NaN),
    }),
    ...more,
  };
}
