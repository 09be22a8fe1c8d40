import { PerspectiveCamera, type Scene, type WebGLRenderer } from "three";
import type { ResolvedOptics } from "../../core/lens/resolved-optics.ts";
import type { Moment } from "../take/moment.ts";
import { plainSlopes, reachedSlopes } from "../../core/lens/seen-slopes.ts";
import { createLensBackdrop, type Backdrop } from "./lens-backdrop.ts";
import { setSlopes, standInPupil } from "./lens-camera.ts";
import { createLensWarp } from "./lens-warp.ts";

export interface LensPicture {
  /**
   * Draws what the lens sees into the viewport and scissor that are set.
   *
   * @param size     The viewport in device px.
   * @param backdrop What lies behind the scene.
   */
  draw(
    renderer: WebGLRenderer,
    scene: Scene,
    optics: ResolvedOptics,
    moment: Moment,
    size: readonly [number, number],
    backdrop?: Backdrop,
  ): void;
  dispose(): void;
}

/** The picture through the lens: an off-axis frustum for a plain lens, bent by its own formula for a distorted one. */
export function createLensPicture(): LensPicture {
  const camera = new PerspectiveCamera();
  const warp = createLensWarp();
  const behind = createLensBackdrop();
  /** Draws over the backdrop, where there is one, else over nothing. */
  const over = (renderer: WebGLRenderer, backdrop: Backdrop | undefined, draw: () => void): void => {
    if (backdrop) behind.draw(renderer, backdrop);
    renderer.autoClear = backdrop === undefined;
    draw();
    renderer.autoClear = true;
  };
  return {
    draw(renderer, scene, optics, moment, size, backdrop) {
      standInPupil(camera, moment);
      if (optics.distortion === undefined) {
        setSlopes(camera, plainSlopes(optics, moment.focal));
        over(renderer, backdrop, () => renderer.render(scene, camera));
        return;
      }
      const slopes = reachedSlopes(optics, moment.focal);
      setSlopes(camera, slopes);
      const target = warp.target(size[0], size[1]);
      renderer.setRenderTarget(target);
      // Where the scene is empty the backdrop shows.
      if (backdrop) renderer.setClearAlpha(0);
      renderer.render(scene, camera);
      if (backdrop) renderer.setClearAlpha(1);
      renderer.setRenderTarget(null);
      over(renderer, backdrop, () => warp.draw(renderer, optics, moment.focal, slopes, backdrop !== undefined));
    },
    dispose() {
      warp.dispose();
      behind.dispose();
    },
  };
}
