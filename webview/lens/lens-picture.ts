import { PerspectiveCamera, type Scene, type WebGLRenderer } from "three";
import type { ResolvedOptics } from "../../core/lens/resolved-optics.ts";
import type { Moment } from "../take/moment.ts";
import { plainSlopes, reachedSlopes } from "../../core/lens/seen-slopes.ts";
import { setSlopes, standInPupil } from "./lens-camera.ts";
import { createLensWarp } from "./lens-warp.ts";

export interface LensPicture {
  /**
   * Draws what the lens sees into the viewport and scissor that are set.
   *
   * @param width, height The viewport in device px.
   */
  draw(
    renderer: WebGLRenderer,
    scene: Scene,
    optics: ResolvedOptics,
    moment: Moment,
    size: readonly [number, number],
  ): void;
  dispose(): void;
}

/** The picture through the lens: an off-axis frustum for a plain lens, bent by its own formula for a distorted one. */
export function createLensPicture(): LensPicture {
  const camera = new PerspectiveCamera();
  const warp = createLensWarp();
  return {
    draw(renderer, scene, optics, moment, size) {
      standInPupil(camera, moment);
      if (optics.distortion === undefined) {
        setSlopes(camera, plainSlopes(optics, moment.focal));
        renderer.render(scene, camera);
        return;
      }
      const slopes = reachedSlopes(optics, moment.focal);
      setSlopes(camera, slopes);
      const target = warp.target(size[0], size[1]);
      renderer.setRenderTarget(target);
      renderer.render(scene, camera);
      renderer.setRenderTarget(null);
      warp.draw(renderer, optics, moment.focal, slopes);
    },
    dispose: () => warp.dispose(),
  };
}
