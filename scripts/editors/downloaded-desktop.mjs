// A desktop editor that is downloaded once into .cache/ and then used again.
import path from "node:path";
import { step } from "../progress.mjs";

const RELEASES = "https://update.code.visualstudio.com/api/releases/stable";
const PROBE_TIMEOUT_MS = 4000;
const STALL_TIMEOUT_MS = 20_000;

/**
 * @param {string} root The project's folder.
 * @returns {Promise<string>} The path of the editor's program.
 * @throws Error within seconds when its publisher can't be reached, and when a download stalls.
 */
export async function downloadDesktopEditor(root) {
  const { downloadAndUnzipVSCode, SilentReporter } = await import("@vscode/test-electron");
  return step("Looking for a desktop editor to download (once, about 150 MB)", async () => {
    // The downloader waits long and tries often; a machine without access should learn so at once.
    const reply = await fetch(RELEASES, { signal: AbortSignal.timeout(PROBE_TIMEOUT_MS) }).catch((error) => {
      throw new Error(`no desktop editor can be downloaded here (${error.cause?.code ?? error.name})`, {
        cause: error,
      });
    });
    if (!reply.ok) throw new Error(`no desktop editor can be downloaded here (HTTP ${reply.status})`);
    return downloadAndUnzipVSCode({
      version: "stable",
      cachePath: path.join(root, ".cache", "desktop-editor"),
      timeout: STALL_TIMEOUT_MS,
      reporter: new SilentReporter(),
    });
  });
}
