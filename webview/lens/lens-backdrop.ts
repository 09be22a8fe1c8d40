import {
  CanvasTexture,
  Mesh,
  MeshBasicMaterial,
  OrthographicCamera,
  PlaneGeometry,
  Scene,
  SRGBColorSpace,
} from "three";
import type { WebGLRenderer } from "three";

/** A picture behind a scene: how much it covers what is behind it, and its share of the width and the height, about the middle. */
export interface Backdrop {
  readonly picture: HTMLCanvasElement;
  /** Another one when the picture changes. */
  readonly revision: number;
  readonly opacity: number;
  readonly part: readonly [number, number];
}

export interface LensBackdrop {
  /** Clears the renderer's current viewport and draws the picture into it. */
  draw(renderer: WebGLRenderer, backdrop: Backdrop): void;
  dispose(): void;
}

export function createLensBackdrop(): LensBackdrop {
  const plane = new PlaneGeometry(2, 2);
  const material = new MeshBasicMaterial({ transparent: true, depthTest: false, depthWrite: false, toneMapped: false });
  const mesh = new Mesh(plane, material);
  mesh.frustumCulled = false;
  const scene = new Scene();
  scene.add(mesh);
  const camera = new OrthographicCamera(-1, 1, 1, -1, 0, 1);
  let shown = -1;
  return {
    draw(renderer, { picture, revision, opacity, part }) {
      if (revision !== shown) {
        shown = revision;
        material.map?.dispose();
        material.map = new CanvasTexture(picture);
        material.map.colorSpace = SRGBColorSpace;
        material.needsUpdate = true;
      }
      material.opacity = opacity;
      mesh.scale.set(part[0], part[1], 1);
      renderer.render(scene, camera);
    },
    dispose() {
      plane.dispose();
      material.map?.dispose();
      material.dispose();
    },
  };
}
