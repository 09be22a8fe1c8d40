// The browser that tests run in: found, never downloaded.
import { existsSync } from "node:fs";
import { findOnPath } from "../run-command.mjs";

const NAMES = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"];
const PLACES = [
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe",
];

/** Flags for a browser without a window, network services or a graphics card: WebGL 2 is drawn in software. */
export const chromiumFlags = [
  "--no-sandbox",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  // Tests change the page of a local server; the browser would take such a page for one from outside.
  "--disable-features=LocalNetworkAccessChecks",
  "--use-gl=angle",
  "--use-angle=swiftshader",
  "--enable-unsafe-swiftshader",
];

/** The path of a Chromium, or undefined. MOVEWRIGHT_CHROMIUM comes before all others. */
export function findChromium() {
  const named = process.env.MOVEWRIGHT_CHROMIUM;
  if (named) return existsSync(named) ? named : undefined;
  for (const name of NAMES) {
    const program = findOnPath(name);
    if (program !== undefined) return program;
  }
  return PLACES.find((place) => existsSync(place));
}
