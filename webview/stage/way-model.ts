import { BufferAttribute, BufferGeometry, LineSegments } from "three";
import type { StageFinding, StageSegment } from "../../protocol/stage.ts";
import type { Moment } from "../take/moment.ts";
import { STAGE_ONLY } from "./eye.ts";
import type { Materials } from "./materials.ts";

/** Half of a cross at an end [m]: it tells the ends of a way that is too short to be seen. */
const ARM = 0.02;
/** Lines of one way: itself and three of a cross at each end. */
const LINES = 7;

/** The shortest ways that findings tell, while the moment is in their time. */
export interface WayModel {
  readonly object: LineSegments;
  update(moment: Moment): void;
  /** Those that are drawn now. */
  shown(): readonly StageSegment[];
  dispose(): void;
}

export function createWayModel(findings: readonly StageFinding[], materials: Materials): WayModel {
  const told = findings.filter(({ segment }) => segment !== undefined);
  const place = new BufferAttribute(new Float32Array(6 * LINES * told.length), 3);
  const geometry = new BufferGeometry().setAttribute("position", place);
  const object = new LineSegments(geometry, materials.way);
  object.frustumCulled = false;
  object.renderOrder = 30;
  object.layers.set(STAGE_ONLY);
  let shown: readonly StageSegment[] = [];
  geometry.setDrawRange(0, 0);
  return {
    object,
    update({ t }) {
      const now = told.flatMap(({ time, segment }) => (segment && isIn(t, time) ? [segment] : []));
      if (now.length === shown.length && now.every((one, idx) => one === shown[idx])) return;
      shown = now;
      now.forEach((one, idx) => place.array.set(linesOf(one), 6 * LINES * idx));
      place.needsUpdate = true;
      geometry.setDrawRange(0, 2 * LINES * now.length);
    },
    shown: () => shown,
    dispose: () => geometry.dispose(),
  };
}

const isIn = (t: number, time: StageFinding["time"]): boolean =>
  time === undefined || (time.from - 1e-6 <= t && t <= time.to + 1e-6);

function linesOf({ from, to }: StageSegment): number[] {
  const cross = (at: StageSegment["from"]): number[] =>
    [0, 1, 2].flatMap((axis) => [-ARM, ARM].flatMap((off) => at.map((part, k) => (k === axis ? part + off : part))));
  return [...from, ...to, ...cross(from), ...cross(to)];
}
