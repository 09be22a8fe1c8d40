import { BufferAttribute, Group, LineSegments, Mesh, Vector3 } from "three";
import type { Body } from "../../core/rig/resolved-rig.ts";
import type { StageTake } from "../../protocol/stage.ts";
import type { Moment } from "../take/moment.ts";
import type { Materials } from "./materials.ts";
import type { OverlayPart } from "./overlays/overlay-part.ts";
import { mergeBodies, type Merged, type ShapeOf } from "./solids.ts";
import type { MeshShape } from "../mesh/mesh-shape.ts";

export interface DressingModel extends OverlayPart {
  update(moment: Moment): void;
  dispose(): void;
}

/** What dresses the set: see-through and without a shadow, so that nobody takes it for what is checked. */
export function createDressingModel(stage: StageTake, materials: Materials, shapeOf: ShapeOf): DressingModel {
  const object = new Group();
  const owned: Merged[] = [];
  const bodies = stage.dressing ?? [];
  const add = (to: Group, merged: Merged | undefined, face: Materials["dressing"]): void => {
    if (merged === undefined) return;
    owned.push(merged);
    to.add(new Mesh(merged.faces, face), new LineSegments(merged.edges, materials.dressingEdge));
  };
  const addStanding = (to: Group, table: number | undefined): void => {
    const standing = bodies.filter((body) => body.table === table);
    const own = standing.filter((body) => shapeWithColours(body, shapeOf));
    add(to, mergeBodies(standing.filter((body) => !own.includes(body)), shapeOf), materials.dressing); // prettier-ignore
    for (const body of own) add(to, colouredBody(body, shapeOf), materials.dressingOwn);
  };
  addStanding(object, undefined);
  const tables = stage.turntables.flatMap(({ at, along }, index) => {
    if (!bodies.some(({ table }) => table === index)) return [];
    const load = new Group();
    load.position.set(...at);
    addStanding(load, index);
    object.add(load);
    return [{ load, along: new Vector3(...along), axis: stage.axes.findIndex(({ turntable }) => turntable === index) }];
  });
  return {
    object,
    update(moment) {
      for (const { load, along, axis } of tables) load.quaternion.setFromAxisAngle(along, axis < 0 ? 0 : moment.values[axis]); // prettier-ignore
    },
    dispose() {
      for (const { faces, edges } of owned) {
        faces.dispose();
        edges.dispose();
      }
    },
  };
}

function shapeWithColours({ solid }: Body, shapeOf: ShapeOf): MeshShape | undefined {
  const shape = solid.shape === "mesh" ? shapeOf(solid.file) : undefined;
  return shape?.colours ? shape : undefined;
}

/** Corners of a mesh stay in their order where it is placed, but for mirrored triangles, which are of one colour. */
function colouredBody(body: Body, shapeOf: ShapeOf): Merged | undefined {
  const merged = mergeBodies([body], shapeOf);
  const { colours } = shapeWithColours(body, shapeOf) ?? {};
  if (merged && colours) merged.faces.setAttribute("color", new BufferAttribute(colours, 3));
  return merged;
}
