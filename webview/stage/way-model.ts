import { BufferAttribute, BufferGeometry, Group, LineSegments } from "three";
import type { StageFinding, StageSegment } from "../../protocol/stage.ts";
import type { Moment } from "../take/moment.ts";
import { createDots, type Dots } from "./dots.ts";
import { STAGE_ONLY } from "./eye.ts";
import type { Materials } from "./materials.ts";

/** The shortest ways that findings tell, while the moment is in their time. */
export interface WayModel {
  readonly object: Group;
  /** Dots at both ends: they tell of a way that is too short to be seen. */
  readonly ends: Dots;
  update(moment: Moment): void;
  /** Those that are drawn now. */
  shown(): readonly StageSegment[];
  dispose(): void;
}

export function createWayModel(findings: readonly StageFinding[], materials: Materials): WayModel {
  const told = findings.filter(({ segment }) => segment !== undefined);
  const place = new BufferAttribute(new Float32Array(6 * told.length), 3);
  const geometry = new BufferGeometry().setAttribute("position", place);
  const lines = new LineSegments(geometry, materials.way);
  lines.frustumCulled = false;
  lines.renderOrder = 30;
  lines.layers.set(STAGE_ONLY);
  const ends = createDots(2 * told.length, {
    shape: "disc",
    size: 8,
    colour: "share-over",
    chosen: "share-over",
    order: 31,
  });
  ends.object.geometry.setDrawRange(0, 0);
  const object = new Group().add(lines, ends.object);
  let shown: readonly StageSegment[] = [];
  geometry.setDrawRange(0, 0);
  return {
    object,
    ends,
    update({ t }) {
      const now = told.flatMap(({ time, segment }) => (segment && isIn(t, time) ? [segment] : []));
      if (now.length === shown.length && now.every((one, idx) => one === shown[idx])) return;
      shown = now;
      now.forEach(({ from, to }, idx) => place.array.set([...from, ...to], 6 * idx));
      place.needsUpdate = true;
      ends.places.set(place.array);
      ends.moved();
      for (const part of [geometry, ends.object.geometry]) part.setDrawRange(0, 2 * now.length);
    },
    shown: () => shown,
    dispose() {
      geometry.dispose();
      ends.dispose();
    },
  };
}

const isIn = (t: number, time: StageFinding["time"]): boolean =>
  time === undefined || (time.from - 1e-6 <= t && t <= time.to + 1e-6);
