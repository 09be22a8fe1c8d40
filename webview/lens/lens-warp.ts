import {
  BufferGeometry,
  Float32BufferAttribute,
  HalfFloatType,
  Mesh,
  MeshBasicMaterial,
  OrthographicCamera,
  Scene,
  WebGLRenderTarget,
  type WebGLRenderer,
} from "three";
import { unproject } from "../../core/lens/project.ts";
import type { ResolvedOptics } from "../../core/lens/resolved-optics.ts";
import type { Slopes } from "../../core/lens/seen-slopes.ts";

const COLUMNS = 64;
const ROWS = 36;
/** The plain picture is drawn this much larger, since distortion magnifies parts of it. */
const OVERSIZE = 1.25;
/** Most px of the plain picture: with its four samples a px it would else take more memory than many graphics cards have. */
const MOST = 12e6;

/** Bends a plain picture as the lens does. */
export interface LensWarp {
  /** Where the plain picture goes: as large as a lens picture of these device px needs. */
  target(width: number, height: number): WebGLRenderTarget;
  /** Draws the bent picture into the renderer's current viewport; `seeThrough`: over what is there, where it is empty. */
  draw(renderer: WebGLRenderer, optics: ResolvedOptics, focal: number, slopes: Slopes, seeThrough: boolean): void;
  dispose(): void;
}

/**
 * A sheet of 64 by 36 cells over the lens picture; each corner takes its colour from where the lens looks there. Exact at
 * the corners, straight between them.
 */
export function createLensWarp(): LensWarp {
  const sheet = new BufferGeometry();
  const material = new MeshBasicMaterial({ depthTest: false, depthWrite: false, toneMapped: false });
  const scene = new Scene();
  const camera = new OrthographicCamera(-1, 1, 1, -1, 0, 1);
  const mesh = new Mesh(sheet, material);
  mesh.frustumCulled = false;
  scene.add(mesh);
  let target: WebGLRenderTarget | undefined;
  let shape = "";
  return {
    target(width, height) {
      const scale = Math.min(OVERSIZE, Math.sqrt(MOST / (width * height)));
      const [w, h] = [Math.max(1, Math.round(width * scale)), Math.max(1, Math.round(height * scale))];
      target ??= new WebGLRenderTarget(w, h, { samples: 4, type: HalfFloatType });
      if (target.width !== w || target.height !== h) target.setSize(w, h);
      if (material.map !== target.texture) {
        material.map = target.texture;
        material.needsUpdate = true;
      }
      return target;
    },
    draw(renderer, optics, focal, slopes, seeThrough) {
      if (material.transparent !== seeThrough) {
        material.transparent = seeThrough;
        material.needsUpdate = true;
      }
      const wanted = JSON.stringify([optics.distortion, optics.centre, optics.squeeze, optics.sensor, focal]);
      if (wanted !== shape) fillSheet(sheet, optics, focal, slopes);
      shape = wanted;
      renderer.render(scene, camera);
    },
    dispose() {
      sheet.dispose();
      material.dispose();
      target?.dispose();
    },
  };
}

function fillSheet(sheet: BufferGeometry, optics: ResolvedOptics, focal: number, slopes: Slopes): void {
  const count = (COLUMNS + 1) * (ROWS + 1);
  const position = new Float32Array(3 * count);
  const uv = new Float32Array(2 * count);
  const seen = new Uint8Array(count);
  const direction = [0, 0, 0];
  for (let j = 0; j <= ROWS; j++) {
    for (let i = 0; i <= COLUMNS; i++) {
      const k = j * (COLUMNS + 1) + i;
      const [across, down] = [i / COLUMNS, j / ROWS];
      seen[k] = unproject(optics, focal, across, down, direction) ? 1 : 0;
      position.set([2 * across - 1, 1 - 2 * down, 0], 3 * k);
      uv[2 * k] = (-direction[1] - slopes.left) / (slopes.right - slopes.left);
      uv[2 * k + 1] = 1 - (-direction[2] - slopes.top) / (slopes.bottom - slopes.top);
    }
  }
  // Cells with a corner that the lens forms no picture of stay empty.
  const index: number[] = [];
  for (let j = 0; j < ROWS; j++) {
    for (let i = 0; i < COLUMNS; i++) {
      const a = j * (COLUMNS + 1) + i;
      const [b, c, d] = [a + 1, a + COLUMNS + 1, a + COLUMNS + 2];
      if (seen[a] && seen[b] && seen[c] && seen[d]) index.push(a, c, b, b, c, d);
    }
  }
  for (let k = 0; k < count; k++) if (!seen[k]) uv.set([0, 0], 2 * k);
  sheet.setAttribute("position", new Float32BufferAttribute(position, 3));
  sheet.setAttribute("uv", new Float32BufferAttribute(uv, 2));
  sheet.setIndex(index);
}
