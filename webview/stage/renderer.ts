import { WebGLRenderer } from "three";

/** More device px a CSS px than this show no better and cost a lot. */
const HIGHEST_RATIO = 2;

export interface Surface {
  readonly renderer: WebGLRenderer;
  /** False between the loss of the context and its return. */
  readonly alive: () => boolean;
  /** Fits the drawing to the canvas's place in the page; true when it changed. */
  fit(width: number, height: number): boolean;
  readonly ratio: () => number;
}

/**
 * Opens WebGL 2 on a canvas; `undefined` where there is none.
 *
 * @param changed Called when the context is lost and when it is back.
 */
export function openSurface(canvas: HTMLCanvasElement, changed: () => void): Surface | undefined {
  const attributes: WebGLContextAttributes = { antialias: true, alpha: false, stencil: false };
  const context = canvas.getContext("webgl2", attributes);
  if (!(context instanceof WebGL2RenderingContext)) return undefined;
  const renderer = new WebGLRenderer({ canvas, context, ...attributes });
  renderer.shadowMap.enabled = true;
  // One picture draws the scene twice, the shadows once.
  renderer.shadowMap.autoUpdate = false;
  let alive = true;
  let size = "";
  canvas.addEventListener("webglcontextlost", (event) => {
    // Without this the browser never gives the context back.
    event.preventDefault();
    alive = false;
    changed();
  });
  canvas.addEventListener("webglcontextrestored", () => {
    alive = true;
    changed();
  });
  const ratio = (): number => Math.min(window.devicePixelRatio || 1, HIGHEST_RATIO);
  return {
    renderer,
    alive: () => alive,
    ratio,
    fit(width, height) {
      const wanted = `${width} ${height} ${ratio()}`;
      if (wanted === size) return false;
      size = wanted;
      renderer.setPixelRatio(ratio());
      renderer.setSize(Math.max(1, width), Math.max(1, height), false);
      return true;
    },
  };
}
