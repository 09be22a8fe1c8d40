import { BufferAttribute, BufferGeometry, DynamicDrawUsage, Group, LineSegments, Mesh } from "three";
import { unproject } from "../../core/lens/project.ts";
import type { ResolvedOptics } from "../../core/lens/resolved-optics.ts";
import type { Solid } from "../../core/rig/resolved-rig.ts";
import type { Moment } from "../take/moment.ts";
import { STAGE_ONLY } from "./eye.ts";
import type { Materials } from "./materials.ts";
import { poseGroup } from "./pose-group.ts";
import { mergeSolids } from "./solids.ts";

/** A camera body's outline when nothing says how big it is: a sign, not a measure [m]. */
const BODY_SIGN = [0.1, 0.1, 0.1] as const;
/** Steps an edge of the frame is drawn in: enough to show a lens's distortion. */
const EDGE_STEPS = 8;
/** How far the frustum reaches when the focus is nearer, farther or unknown [m]. */
const REACH = [0.12, 6] as const;
const UP_SIGN = 0.12;

export interface CameraModel {
  readonly object: Group;
  update(moment: Moment): void;
  dispose(): void;
}

/**
 * Lens barrel and attachments on the mount, and the frustum from the entrance pupil to the plane in focus: what the
 * camera records, with the delivered crop inside it. None of it shows through the lens.
 */
export function createCameraModel(
  optics: ResolvedOptics,
  deliver: readonly [number, number],
  materials: Materials,
): CameraModel {
  const object = new Group();
  const mount = mountedParts(optics, materials);
  const captured = lines(4 * EDGE_STEPS + 4 + 2, materials.view);
  const delivered = lines(4 * EDGE_STEPS, materials.viewFaint);
  object.add(mount.group, captured, delivered);
  object.traverse((child) => child.layers.set(STAGE_ONLY));
  const direction = [0, 0, 0];
  const corner = new Float64Array(3);

  const write = (
    line: LineSegments,
    vertex: number,
    moment: Moment,
    framing: readonly number[],
    depth: number,
  ): void => {
    const found = unproject(optics, moment.focal, framing[0], framing[1], direction);
    const place = line.geometry.getAttribute("position") as BufferAttribute;
    const r = moment.pose.mountRotation;
    for (let c = 0; c < 3; c++) {
      const along = r[3 * c] + r[3 * c + 1] * direction[1] + r[3 * c + 2] * direction[2];
      corner[c] = moment.pupil[c] + (found ? depth * along : 0);
    }
    place.setXYZ(vertex, corner[0], corner[1], corner[2]);
  };
  const rectangle = (line: LineSegments, moment: Moment, half: readonly [number, number], depth: number): void => {
    const corners = [[-1, -1], [1, -1], [1, 1], [-1, 1]]; // prettier-ignore
    for (let side = 0; side < 4; side++) {
      const [a, b] = [corners[side], corners[(side + 1) % 4]];
      for (let step = 0; step < EDGE_STEPS; step++) {
        for (const end of [0, 1]) {
          const s = (step + end) / EDGE_STEPS;
          const framing = [0, 1].map((k) => 0.5 + half[k] * (a[k] + (b[k] - a[k]) * s));
          write(line, 2 * (side * EDGE_STEPS + step) + end, moment, framing, depth);
        }
      }
    }
  };

  return {
    object,
    update(moment) {
      poseGroup(mount.group, moment.pose.mountRotation, 0, moment.pose.mountPosition, 0);
      const pupilAhead = Math.hypot(...[0, 1, 2].map((k) => moment.pupil[k] - moment.pose.mountPosition[k]));
      const inFocus = moment.focus - optics.flange - pupilAhead;
      const depth = Number.isFinite(inFocus) ? Math.min(Math.max(inFocus, REACH[0]), REACH[1]) : REACH[1] / 3;
      rectangle(captured, moment, [0.5, 0.5], depth);
      rectangle(
        delivered,
        moment,
        [(0.5 * deliver[0]) / optics.resolution[0], (0.5 * deliver[1]) / optics.resolution[1]],
        depth,
      );
      // Four rays from the pupil, and a roof over the upper edge that says which way is up.
      let vertex = 8 * EDGE_STEPS;
      for (const framing of [
        [0, 0],
        [1, 0],
        [1, 1],
        [0, 1],
      ]) {
        write(captured, vertex++, moment, framing, 0);
        write(captured, vertex++, moment, framing, depth);
      }
      for (const framing of [
        [0.4, 0],
        [0.5, -UP_SIGN],
        [0.5, -UP_SIGN],
        [0.6, 0],
      ]) {
        write(captured, vertex++, moment, framing, depth);
      }
      for (const line of [captured, delivered]) line.geometry.getAttribute("position").needsUpdate = true;
    },
    dispose() {
      mount.dispose();
      captured.geometry.dispose();
      delivered.geometry.dispose();
    },
  };
}

function lines(segments: number, material: Materials["view"]): LineSegments {
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(new Float32Array(6 * segments), 3).setUsage(DynamicDrawUsage));
  const made = new LineSegments(geometry, material);
  made.frustumCulled = false;
  return made;
}

/** What is screwed to the flange, in its frame: x along the view. */
function mountedParts(optics: ResolvedOptics, materials: Materials): { group: Group; dispose(): void } {
  const group = new Group();
  group.matrixAutoUpdate = false;
  const parts: { solid: Solid; pose: { at: [number, number, number]; turn: [number, number, number, number] } }[] = [];
  if (optics.front && optics.front.length > 0 && optics.front.diameter > 0) {
    const half = Math.SQRT1_2;
    parts.push({
      solid: { shape: "cylinder", radius: optics.front.diameter / 2, height: optics.front.length },
      pose: { at: [optics.front.length / 2, 0, 0], turn: [0, half, 0, half] },
    });
  }
  for (const attachment of optics.attachments) {
    parts.push({
      solid: { shape: "box", size: attachment.box },
      pose: { at: [...attachment.at], turn: [0, 0, 0, 1] },
    });
  }
  const solids = mergeSolids(parts);
  const sign = mergeSolids([
    { solid: { shape: "box", size: BODY_SIGN }, pose: { at: [-BODY_SIGN[0] / 2, 0, 0], turn: [0, 0, 0, 1] } },
  ]);
  if (solids) {
    const faces = new Mesh(solids.faces, materials.camera);
    faces.castShadow = true;
    group.add(faces, new LineSegments(solids.edges, materials.cameraEdge));
  }
  if (sign) group.add(new LineSegments(sign.edges, materials.cameraEdge));
  return {
    group,
    dispose() {
      for (const made of [solids, sign]) {
        made?.faces.dispose();
        made?.edges.dispose();
      }
    },
  };
}
