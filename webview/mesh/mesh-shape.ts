import {
  BufferAttribute,
  BufferGeometry,
  Color,
  EdgesGeometry,
  Mesh,
  type InterleavedBufferAttribute,
  type Object3D,
} from "three";
import { mergeGeometries } from "three/examples/jsm/utils/BufferGeometryUtils.js";

/** A mesh as the stage draws it, in its own units and axes, z up. Owned by the store of meshes. */
export interface MeshShape {
  /** Triangles without an index, with normals. */
  readonly faces: BufferGeometry;
  readonly edges: BufferGeometry;
  /** Base colours of the corners of `faces`, linear RGB, shape (corners, 3); absent for a mesh that states none. */
  readonly colours?: Float32Array;
}

/** Most triangles of one mesh: what the largest file that is taken can hold, and some more. */
const MOST_TRIANGLES = 2_000_000;
/** Finer meshes have no edges worth a line, and looking for them takes long. */
const MOST_WITH_EDGES = 50_000;
/** Edges sharper than this are drawn as lines [deg]. */
const EDGE_ANGLE = 30;

/** All triangles under an object in one shape. Throws a sentence where there is nothing to draw. */
export function shapeOfObject(root: Object3D): MeshShape {
  root.updateMatrixWorld(true);
  const parts: BufferGeometry[] = [];
  const colours: Color[] = [];
  root.traverse((object) => {
    if (!(object instanceof Mesh)) return;
    parts.push(plain(object.geometry as BufferGeometry).applyMatrix4(object.matrixWorld));
    const { color } = object.material as { readonly color?: Color };
    colours.push(color ?? WHITE);
  });
  const corners = parts.map((part) => part.getAttribute("position").count);
  const shape = shapeOfParts(parts);
  return colours.some((colour) => !colour.equals(WHITE)) ? { ...shape, colours: coloursOf(colours, corners) } : shape;
}

const WHITE = new Color(1, 1, 1);

function coloursOf(colours: readonly Color[], corners: readonly number[]): Float32Array {
  const out = new Float32Array(3 * corners.reduce((sum, count) => sum + count, 0));
  let at = 0;
  colours.forEach((colour, part) => {
    for (let i = 0; i < corners[part]; i++, at += 3) colour.toArray(out, at);
  });
  return out;
}

export const shapeOfGeometry = (geometry: BufferGeometry): MeshShape => shapeOfParts([plain(geometry)]);

function shapeOfParts(parts: readonly BufferGeometry[]): MeshShape {
  const triangles = parts.reduce((sum, part) => sum + part.getAttribute("position").count / 3, 0);
  if (triangles < 1) throw new Error("It holds no triangles.");
  if (triangles > MOST_TRIANGLES) throw new Error(`It holds ${triangles} triangles, too many to draw.`);
  const faces = mergeGeometries([...parts]);
  for (const part of parts) part.dispose();
  if (!faces.getAttribute("position").array.every(Number.isFinite))
    throw new Error("It holds places that are no numbers.");
  const edges = triangles > MOST_WITH_EDGES ? noLines() : new EdgesGeometry(faces, EDGE_ANGLE);
  return { faces, edges };
}

/** Places and normals alone, in single precision, three corners a triangle: what parts of every origin have in common. */
function plain(geometry: BufferGeometry): BufferGeometry {
  const corners = geometry.index?.count ?? geometry.getAttribute("position")?.count ?? 0;
  const count = corners - (corners % 3);
  const out = new BufferGeometry();
  const copy = (name: "position" | "normal"): void => {
    const from = geometry.getAttribute(name) as BufferAttribute | InterleavedBufferAttribute;
    const array = new Float32Array(3 * count);
    for (let i = 0; i < count; i++) {
      const at = geometry.index ? geometry.index.getX(i) : i;
      array[3 * i] = from.getX(at);
      array[3 * i + 1] = from.getY(at);
      array[3 * i + 2] = from.getZ(at);
    }
    out.setAttribute(name, new BufferAttribute(array, 3));
  };
  if (count === 0) return out.setAttribute("position", new BufferAttribute(new Float32Array(0), 3));
  copy("position");
  if (geometry.hasAttribute("normal")) copy("normal");
  else out.computeVertexNormals();
  return out;
}

export function noLines(): BufferGeometry {
  return new BufferGeometry().setAttribute("position", new BufferAttribute(new Float32Array(0), 3));
}
