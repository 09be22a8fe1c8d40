import { BufferGeometry, Float32BufferAttribute, Group, LineSegments, Mesh, Quaternion, Vector3 } from "three";
import type { Body } from "../../core/rig/resolved-rig.ts";
import type { StageTake } from "../../protocol/stage.ts";
import type { Moment } from "../take/moment.ts";
import { STAGE_ONLY } from "./eye.ts";
import type { Materials } from "./materials.ts";
import { mergeBodies, type ShapeOf } from "./solids.ts";

/** Radius of a turntable's ring when nothing stands on it [m]. */
const TABLE_RADIUS = 0.15;
const TABLE_MARGIN = 0.03;
const RING_STEPS = 72;
/** Arm of a surveyed mark's cross [m]. */
const MARK_ARM = 0.06;

export interface SetModel {
  readonly object: Group;
  update(moment: Moment): void;
  dispose(): void;
}

/** What stands on the floor: obstacles, people, turntables that turn, surveyed marks. */
export function createSetModel(stage: StageTake, materials: Materials, shapeOf: ShapeOf): SetModel {
  const object = new Group();
  const owned: BufferGeometry[] = [];
  const addBodies = (to: Group, bodies: readonly Body[], face: Materials["set"], edge: Materials["setEdge"]): void => {
    const merged = mergeBodies(bodies, shapeOf);
    if (merged === undefined) return;
    const faces = new Mesh(merged.faces, face);
    faces.castShadow = true;
    faces.receiveShadow = true;
    to.add(faces, new LineSegments(merged.edges, edge));
    owned.push(merged.faces, merged.edges);
  };
  /** What stands on a turntable by its index, or with `undefined` on none. */
  const addStanding = (to: Group, table: number | undefined): void => {
    const on = (bodies: readonly Body[]): readonly Body[] => bodies.filter((body) => body.table === table);
    addBodies(to, on(stage.obstacles), materials.set, materials.setEdge);
    addBodies(to, on(stage.people), materials.person, materials.personEdge);
  };
  addStanding(object, undefined);

  const tables = stage.turntables.map((table, index) => {
    const riders = stage.targets.filter((target) => target.on === index);
    const reach = Math.max(0, ...riders.map((target) => awayFrom(target.at, table.along)));
    const ring = new LineSegments(ringGeometry(reach > 0 ? reach + TABLE_MARGIN : TABLE_RADIUS), materials.mark);
    owned.push(ring.geometry);
    object.add(ring);
    const stand = new Quaternion().setFromUnitVectors(new Vector3(0, 0, 1), new Vector3(...table.along));
    const axis = stage.axes.findIndex((candidate) => candidate.turntable === index);
    ring.position.set(...table.at);
    const load = new Group();
    load.position.set(...table.at);
    addStanding(load, index);
    object.add(load);
    return { ring, load, stand, along: new Vector3(...table.along), axis };
  });
  const marks = new LineSegments(markGeometry(stage.marks.map((mark) => mark.at)), materials.mark);
  marks.layers.set(STAGE_ONLY);
  owned.push(marks.geometry);
  object.add(marks);

  return {
    object,
    update(moment) {
      for (const table of tables) {
        const angle = table.axis < 0 ? 0 : moment.values[table.axis];
        table.load.quaternion.setFromAxisAngle(table.along, angle);
        table.ring.quaternion.copy(table.load.quaternion).multiply(table.stand);
      }
    },
    dispose() {
      for (const geometry of owned) geometry.dispose();
    },
  };
}

/** Distance of a point from the turning axis through the origin [m]. */
function awayFrom(at: readonly [number, number, number], along: readonly [number, number, number]): number {
  const point = new Vector3(...at);
  return point.addScaledVector(new Vector3(...along), -point.dot(new Vector3(...along))).length();
}

/** A ring with ticks each 30 degrees and a pointer along its x, so that one sees it turn. */
function ringGeometry(radius: number): BufferGeometry {
  const points: number[] = [];
  const on = (step: number, r: number): [number, number, number] => {
    const angle = (step / RING_STEPS) * 2 * Math.PI;
    return [r * Math.cos(angle), r * Math.sin(angle), 0.001];
  };
  for (let step = 0; step < RING_STEPS; step++) {
    points.push(...on(step, radius), ...on(step + 1, radius));
    if (step % 6 === 0) points.push(...on(step, radius), ...on(step, radius * (step === 0 ? 0.2 : 0.9)));
  }
  points.push(...on(0, radius), ...on(2, radius * 0.8), ...on(0, radius), ...on(-2, radius * 0.8));
  return new BufferGeometry().setAttribute("position", new Float32BufferAttribute(points, 3));
}

function markGeometry(places: readonly (readonly [number, number, number])[]): BufferGeometry {
  const points = places.flatMap(([x, y, z]) => [
    ...[x - MARK_ARM, y - MARK_ARM, z, x + MARK_ARM, y + MARK_ARM, z],
    ...[x - MARK_ARM, y + MARK_ARM, z, x + MARK_ARM, y - MARK_ARM, z],
  ]);
  return new BufferGeometry().setAttribute("position", new Float32BufferAttribute(points, 3));
}
