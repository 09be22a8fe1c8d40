import { frameAt, frameTime, nearestFrame } from "../../core/base/rate.ts";
import { element } from "../element.ts";
import type { Palette } from "../palette.ts";
import type { OpenTake } from "../take/open-take.ts";
import { bandOf, type Band } from "../take/share.ts";
import { ribbonShares } from "./ribbon-shares.ts";
import { lastFrame } from "../take/timeline.ts";

/** How near a click must be to a key to mean it [px]. */
const SNAP = 7;
const HEIGHT = 30;
/** Height of the ribbon at which a limit is reached; what is over shows above it [CSS px]. */
const LIMIT_HEIGHT = 20;
const KEY_SIZE = 4.5;
/** How far a key is pulled before it follows [px]: a click strays a little. */
const SLACK = 4;

/** A key that is held: where and when it was, and how wide a second is [px]. */
interface KeyDrag {
  readonly key: number;
  readonly x: number;
  readonly time: number;
  readonly perSecond: number;
  moved: boolean;
}

export interface ScrubEvents {
  seek(time: number): void;
  keyClicked(key: number): void;
  /** A key is dragged to a time [s], on a frame unless it is dragged finely; let go of; put back. */
  keyDragged(key: number, time: number): void;
  keyDropped(): void;
  dragCancelled(): void;
}

export interface Scrub {
  readonly object: HTMLElement;
  load(open: OpenTake | undefined): void;
  update(time: number, key: number, words: string): void;
  paint(palette: Palette): void;
}

/**
 * The slider of time over a ribbon that shows, by height and colour, the highest share of any limit along the move, with
 * the keys as diamonds on it.
 */
export function createScrub(events: ScrubEvents): Scrub {
  const canvas = element("canvas", { "aria-hidden": "true" });
  const slider = element("input", {
    type: "range",
    min: 0,
    max: 0,
    step: 1,
    value: 0,
    "aria-label": "Time",
    disabled: true,
  });
  const head = element("div", { class: "head", "aria-hidden": "true" });
  const object = element("div", { class: "scrub" }, canvas, slider, head);
  let open: OpenTake | undefined;
  let palette: Palette | undefined;
  let shownKey = -1;
  let shownTime = 0;

  const last = (): number => (open ? lastFrame(open.stage.duration, open.stage.rate) : 0);
  // When the move does not end on a frame, one more step of the slider is its end.
  const odd = (): boolean => open !== undefined && open.stage.duration - frameTime(open.stage.rate, last()) > 1e-6;
  slider.addEventListener("input", () => {
    if (open === undefined) return;
    const frame = Number(slider.value);
    events.seek(
      frame > last() ? open.stage.duration : Math.min(frameTime(open.stage.rate, frame), open.stage.duration),
    );
  });
  const timeAt = (event: PointerEvent): number => {
    const box = canvas.getBoundingClientRect();
    const duration = open?.stage.duration ?? 0;
    return box.width > 0 ? Math.min(Math.max((event.clientX - box.left) / box.width, 0), 1) * duration : 0;
  };
  const keyNear = (event: PointerEvent): number => {
    const box = canvas.getBoundingClientRect();
    if (open === undefined || event.clientY - box.top < HEIGHT - 2 * KEY_SIZE - 4) return -1;
    const perSecond = box.width / (open.stage.duration || 1);
    return open.keyTimes.findIndex((time) => Math.abs(box.left + time * perSecond - event.clientX) <= SNAP);
  };
  let drag: KeyDrag | undefined;
  slider.addEventListener("pointerdown", (event) => {
    if (open === undefined) return;
    event.preventDefault();
    slider.focus();
    slider.setPointerCapture(event.pointerId);
    const key = keyNear(event);
    if (key >= 0) {
      // Seconds stay as wide as they are while the move gets longer or shorter.
      const perSecond = canvas.getBoundingClientRect().width / (open.stage.duration || 1);
      drag = { key, x: event.clientX, time: open.keyTimes[key], perSecond, moved: false };
    } else events.seek(timeAt(event));
  });
  slider.addEventListener("pointermove", (event) => {
    if (drag && open) {
      const away = event.clientX - drag.x;
      drag.moved ||= Math.abs(away) > SLACK;
      const time = drag.time + away / drag.perSecond;
      const { rate } = open.stage;
      if (drag.moved) events.keyDragged(drag.key, event.shiftKey ? time : frameTime(rate, nearestFrame(rate, time)));
    } else if (slider.hasPointerCapture(event.pointerId)) events.seek(timeAt(event));
    slider.title = titleOf(open, keyNear(event));
  });
  const letGo = (event: PointerEvent): void => {
    const was = drag;
    drag = undefined;
    if (was === undefined) return;
    if (event.type === "pointercancel") events.dragCancelled();
    else if (was.moved) events.keyDropped();
    else events.keyClicked(was.key);
  };
  slider.addEventListener("pointerup", letGo);
  slider.addEventListener("pointercancel", letGo);
  slider.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || drag === undefined) return;
    drag = undefined;
    events.dragCancelled();
  });
  const draw = (): void => {
    if (palette) drawRibbon(canvas, open, palette, shownKey);
  };
  // Asked for once a change of size: while playing it would make the browser lay out the page in the middle of a picture.
  let width = 0;
  new ResizeObserver(() => {
    width = object.clientWidth;
    draw();
    place();
  }).observe(object);
  const place = (): void => {
    const duration = open?.stage.duration ?? 0;
    const share = duration > 0 ? shownTime / duration : 0;
    head.style.transform = `translateX(${share * width}px)`;
    head.hidden = open === undefined;
  };
  return {
    object,
    load(next) {
      open = next;
      slider.disabled = next === undefined;
      slider.max = String(last() + (odd() ? 1 : 0));
      draw();
      place();
    },
    update(time, key, words) {
      shownTime = time;
      if (open) {
        const atEnd = odd() && time >= open.stage.duration;
        slider.value = String(atEnd ? last() + 1 : frameAt(open.stage.rate, time));
        slider.setAttribute("aria-valuetext", words);
      }
      if (key !== shownKey) {
        shownKey = key;
        draw();
      }
      place();
    },
    paint(next) {
      palette = next;
      draw();
    },
  };
}

function titleOf(open: OpenTake | undefined, key: number): string {
  return open && key >= 0 ? open.stage.keys[key].label : "";
}

const COLOURS: Readonly<Record<Band, "share-calm" | "share-busy" | "share-near" | "share-over">> = {
  calm: "share-calm",
  busy: "share-busy",
  near: "share-near",
  over: "share-over",
};

function drawRibbon(canvas: HTMLCanvasElement, open: OpenTake | undefined, palette: Palette, chosen: number): void {
  const width = canvas.clientWidth;
  const ratio = Math.min(window.devicePixelRatio || 1, 2);
  canvas.width = Math.round(width * ratio);
  canvas.height = Math.round(HEIGHT * ratio);
  const pen = canvas.getContext("2d");
  if (pen === null || open === undefined || width === 0) return;
  pen.scale(ratio, ratio);
  const base = HEIGHT - 2 * KEY_SIZE - 1;
  const { take, stage } = open;
  ribbonShares(take.t, take.share, stage.duration, Math.ceil(width)).forEach((share, x) => {
    const tall = Math.max(1, Math.min(share * (LIMIT_HEIGHT - 4), base));
    pen.fillStyle = palette.css[COLOURS[bandOf(share)]];
    pen.fillRect(x, base - tall, 1, tall);
  });
  pen.strokeStyle = palette.css.quiet;
  pen.setLineDash([2, 3]);
  pen.beginPath();
  pen.moveTo(0, base - (LIMIT_HEIGHT - 4) - 0.5);
  pen.lineTo(width, base - (LIMIT_HEIGHT - 4) - 0.5);
  pen.stroke();
  open.keyTimes.forEach((time, key) => {
    const x = Math.min(Math.max((time / (stage.duration || 1)) * width, KEY_SIZE), width - KEY_SIZE);
    const y = HEIGHT - KEY_SIZE - 0.5;
    pen.beginPath();
    pen.moveTo(x, y - KEY_SIZE);
    pen.lineTo(x + KEY_SIZE, y);
    pen.lineTo(x, y + KEY_SIZE);
    pen.lineTo(x - KEY_SIZE, y);
    pen.closePath();
    pen.fillStyle = palette.css[key === chosen ? "key-chosen" : "key"];
    pen.fill();
  });
}
