import type { StageTake } from "../../protocol/stage.ts";
import { slideBy } from "./moves.ts";
import type { StageTab } from "./stage-host.ts";
import { takeOf } from "./take-of.ts";

/** Samples of a long move. */
export const COUNT = 100_000;

/** Twenty lines in nine plots. */
export const NINE_PLOTS = { graphs: ["shares", "position", "speed", "acceleration", "jerk"], axes: [], strip: 0.8 };

export const longTake = (): StageTake => takeOf(slideBy, {}, COUNT);

export interface Turn {
  /** Script of what a turn of the wheel asks for, drawing calls included [ms]. */
  readonly spent: number;
  /** Places that lines were drawn to. */
  readonly places: number;
}

/** Turns the wheel over the first plot, in and out. The pictures that a turn asks for are drawn at once, one after the other. */
export async function turnWheel(tab: StageTab): Promise<readonly Turn[]> {
  const { graphs } = await tab.state();
  const [left, top, width] = graphs?.plots[0]?.rectangle ?? [];
  return tab.page.evaluate(
    ({ x, y }) => {
      const asked: FrameRequestCallback[] = [];
      const { requestAnimationFrame: own } = window;
      window.requestAnimationFrame = (tick) => asked.push(tick);
      let places = 0;
      const { moveTo, lineTo } = Path2D.prototype;
      Path2D.prototype.moveTo = function (...at) {
        places += 1;
        moveTo.apply(this, at);
      };
      Path2D.prototype.lineTo = function (...at) {
        places += 1;
        lineTo.apply(this, at);
      };
      const over = document.elementFromPoint(x, y);
      const turns: Turn[] = [];
      for (let i = 0; i < 32; i++) {
        places = 0;
        const deltaY = i % 8 < 4 ? -100 : 100;
        const before = performance.now();
        over?.dispatchEvent(new WheelEvent("wheel", { deltaY, clientX: x, clientY: y, bubbles: true, cancelable: true })); // prettier-ignore
        for (const tick of asked.splice(0)) tick(performance.now());
        turns.push({ spent: performance.now() - before, places });
      }
      window.requestAnimationFrame = own;
      Object.assign(Path2D.prototype, { moveTo, lineTo });
      return turns;
    },
    { x: left + width * 0.4, y: top + 10 },
  );
}
