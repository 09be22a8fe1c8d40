import "./stage.css";
import { openBridge } from "./bridge.ts";
import { startStage } from "./stage-app.ts";

const bridge = openBridge();
// A fault of ours must not look like a stage that is merely slow: say so where the extension can show it.
window.addEventListener("error", (event) => {
  // Browsers say so when a change of size leads to another one in the same picture; the next picture has it right.
  if (event.message.startsWith("ResizeObserver loop")) return;
  bridge.send({ type: "failed", message: event.message });
});
window.addEventListener("unhandledrejection", (event) =>
  bridge.send({ type: "failed", message: String(event.reason) }),
);
startStage(document.body, bridge, {
  request: (tick) => requestAnimationFrame(tick),
  cancel: (handle) => cancelAnimationFrame(handle),
});
