import { WebGLRenderer } from "three";

/** More device px a CSS px than this show no better and cost a lot. */
const HIGHEST_RATIO = 2;

/** A part of the canvas [CSS px], from its top left. */
export interface Rectangle {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

export interface Surface {
  readonly renderer: WebGLRenderer;
  /** False between the loss of the context and its return. */
  readonly alive: () => boolean;
  /** Begins a picture on a canvas of this size: empty, shadows due once. */
  begin(size: { readonly width: number; readonly height: number }): void;
  /**
   * Begins a picture that is not for the page, on a canvas of this size [px]. The next `begin` gives the canvas its size back,
   * and must come before the browser shows it.
   */
  beginApart(width: number, height: number): void;
  /** What is drawn from now on goes into a part of the canvas, and stays there. */
  enter(box: Rectangle): void;
  /** Device px a CSS px of the picture that is being drawn. */
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
  // Asking each program how it was compiled waits for the graphics: a fifth of the time to the first picture.
  renderer.debug.checkShaderErrors = false;
  renderer.shadowMap.enabled = true;
  // One picture draws the scene twice, the shadows once.
  renderer.shadowMap.autoUpdate = false;
  renderer.info.autoReset = false;
  let alive = true;
  let size = "";
  let bottom = 0;
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
  let ratio = 1;
  const start = (width: number, height: number, wantedRatio: number): void => {
    const wanted = `${width} ${height} ${wantedRatio}`;
    if (wanted !== size) {
      size = wanted;
      bottom = height;
      ratio = wantedRatio;
      renderer.setPixelRatio(ratio);
      renderer.setSize(Math.max(1, width), Math.max(1, height), false);
    }
    renderer.info.reset();
    renderer.setScissorTest(false);
    renderer.clear();
    renderer.shadowMap.needsUpdate = true;
  };
  return {
    renderer,
    alive: () => alive,
    ratio: () => ratio,
    begin: ({ width, height }) => start(width, height, Math.min(window.devicePixelRatio || 1, HIGHEST_RATIO)),
    beginApart: (width, height) => start(width, height, 1),
    enter(box) {
      // WebGL counts from below.
      const low = bottom - box.top - box.height;
      renderer.setViewport(box.left, low, box.width, box.height);
      renderer.setScissor(box.left, low, box.width, box.height);
      renderer.setScissorTest(true);
    },
  };
}
