// Makes ready what some suites need beside Node, and says plainly what can't be had.
import { readFile } from "node:fs/promises";
import { prepareHost } from "../editor-host/prepare.mjs";
import { step } from "../progress.mjs";
import { runCommand } from "../run-command.mjs";
import { findChromium } from "./chromium.mjs";

/** A font too: without one the browser draws every letter as a box. */
const DEBIAN_PACKAGES = ["chromium", "fonts-dejavu-core"];

/**
 * @param {Set<string>} needs Of "browser" and "host".
 * @returns {Promise<Map<string, string>>} What is missing, each with what to do about it. Empty when all is there.
 */
export async function prepareMachine(needs) {
  const missing = new Map();
  if (needs.has("browser") && findChromium() === undefined) {
    const reason = await installChromium();
    if (findChromium() === undefined) missing.set("browser", reason);
  }
  if (needs.has("host")) {
    await prepareHost().catch((error) => missing.set("host", error.message));
  }
  return missing;
}

async function installChromium() {
  const advice = "Chromium is needed: install it, or name its program in MOVEWRIGHT_CHROMIUM.";
  const osRelease = await readFile("/etc/os-release", "utf8").catch(() => "");
  if (!/^ID="?debian"?$/m.test(osRelease)) return advice;
  const command = `apt-get install ${DEBIAN_PACKAGES.join(" ")}`;
  if (process.getuid?.() !== 0) return `${advice} As root: ${command}`;
  return step("Installing Chromium with apt-get", async () => {
    const env = { ...process.env, DEBIAN_FRONTEND: "noninteractive" };
    const update = await runCommand("apt-get", ["update", "-q"], { env });
    const args = ["install", "-qy", "--no-install-recommends", ...DEBIAN_PACKAGES];
    const install = await runCommand("apt-get", args, { env });
    return `"${command}" failed:\n${(update.code === 0 ? "" : update.output) + install.output.slice(-1500)}`;
  });
}
