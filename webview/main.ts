import "./stage.css";
import { DATA_ID } from "../protocol/alone-page.ts";
import type { FromStage } from "../protocol/stage.ts";
import { startAlone } from "./alone/start-alone.ts";
import { openBridge } from "./bridge.ts";
import type { Clock } from "./player.ts";
import { startStage } from "./stage-app.ts";

const clock: Clock = {
  request: (tick) => requestAnimationFrame(tick),
  cancel: (handle) => cancelAnimationFrame(handle),
};

/** A fault of ours must not look like a stage that is merely slow: say so where somebody can see it. */
function tellFaults(tell: (message: Extract<FromStage, { type: "failed" }>) => void): void {
  window.addEventListener("error", (event) => {
    // Browsers say so when a change of size leads to another one in the same picture; the next picture has it right.
    if (event.message.startsWith("ResizeObserver loop")) return;
    tell({ type: "failed", message: event.message });
  });
  window.addEventListener("unhandledrejection", (event) => tell({ type: "failed", message: String(event.reason) }));
}

const page = document.getElementById(DATA_ID);
if (page) void startAlone(page.textContent, clock, tellFaults);
else {
  const bridge = openBridge();
  tellFaults((message) => bridge.send(message));
  startStage(document.body, bridge, clock);
}
