import type { StageAnswer } from "../protocol/stage.ts";

/** What the scripts of a measured page leave to be read. */
export interface StageMeter {
  /** Script time of each picture so far [ms]. */
  readonly pictures: number[];
  /** Since the page was opened [ms]: the stage asked for a take, and the first picture was drawn. */
  readonly ready?: number;
  readonly first?: number;
  /** Buffers, textures and programs of WebGL that are alive. */
  readonly alive: number;
}

declare global {
  interface Window {
    stageMeter: StageMeter;
  }
}

/** Calls that only the graphics card works for: in software rendering they would block the script that makes them. */
const DRAWING = ["drawArrays", "drawElements", "drawArraysInstanced", "drawElementsInstanced", "clear", "blitFramebuffer"]; // prettier-ignore
const MADE = ["Buffer", "Texture", "Program", "Framebuffer", "Renderbuffer", "VertexArray"];

/**
 * A script for before the page's own. It counts the script time of each picture: of whatever the page does when the browser
 * asks for one, three's walk through the scene and its calls of WebGL included, the drawing itself left out.
 *
 * @param answer Given to the page as soon as it asks.
 */
export function meterScript(answer?: StageAnswer): string {
  return `{
    const meter = window.stageMeter = { pictures: [], alive: 0 };
    const answer = ${JSON.stringify(answer ?? null)};
    const gl = WebGL2RenderingContext.prototype;
    for (const name of ${JSON.stringify(DRAWING)}) gl[name] = () => undefined;
    for (const name of ${JSON.stringify(MADE)}) for (const [verb, by] of [["create", 1], ["delete", -1]]) {
      const call = gl[verb + name];
      gl[verb + name] = function (...all) { if (by > 0 || all[0]) meter.alive += by; return call.apply(this, all); };
    }
    const request = window.requestAnimationFrame;
    window.requestAnimationFrame = (tick) => request.call(window, function drawStage(now) {
      const begin = performance.now();
      tick(now);
      const end = performance.now();
      meter.pictures.push(end - begin);
      if (meter.asked && meter.first === undefined) meter.first = end;
    });
    let channel;
    if (answer) Object.defineProperty(window, "editorChannel", {
      get: () => channel,
      set(made) {
        channel = made;
        const push = made.sent.push;
        made.sent.push = (message) => {
          if (message.type === "ready") {
            meter.ready = performance.now();
            setTimeout(() => {
              meter.asked = true;
              dispatchEvent(new MessageEvent("message", { data: { type: "take", answer } }));
            });
          }
          return push.call(made.sent, message);
        };
      },
    });
  }`;
}
