import {
  BufferAttribute,
  BufferGeometry,
  DoubleSide,
  Group,
  Mesh,
  MeshBasicMaterial,
  MeshLambertMaterial,
} from "three";
import type { ColourName, Palette } from "../../palette.ts";
import { STAGE_ONLY } from "../eye.ts";
import { paintWith } from "../materials.ts";

/** A translucent surface of which only what is nearest to the eye shows, however many pieces lie behind. */
export interface Shell {
  readonly object: Group;
  /** Shape (n, 3, 3) in the set [m]. */
  fill(triangles: Float32Array): void;
  triangles(): number;
  paint(palette: Palette): void;
  dispose(): void;
}

export function createShell(colour: ColourName, opacity: number): Shell {
  // Its depth is drawn first, then its colour where that is the nearest.
  const depth = new MeshBasicMaterial({ colorWrite: false, side: DoubleSide });
  const face = new MeshLambertMaterial({
    transparent: true,
    opacity,
    side: DoubleSide,
    flatShading: true,
    depthWrite: false,
  });
  const object = new Group();
  let geometry = new BufferGeometry();
  const meshes = [depth, face].map((material, i) => {
    const mesh = new Mesh(geometry, material);
    mesh.frustumCulled = false;
    // After all that is solid, before marks and lines over everything.
    mesh.renderOrder = 4 + i;
    mesh.layers.set(STAGE_ONLY);
    object.add(mesh);
    return mesh;
  });
  return {
    object,
    fill(triangles) {
      geometry.dispose();
      geometry = new BufferGeometry();
      geometry.setAttribute("position", new BufferAttribute(triangles, 3));
      for (const mesh of meshes) mesh.geometry = geometry;
    },
    triangles: () => (geometry.getAttribute("position")?.count ?? 0) / 3,
    paint: (palette) => paintWith(face.color, palette.colour[colour]),
    dispose() {
      geometry.dispose();
      depth.dispose();
      face.dispose();
    },
  };
}
