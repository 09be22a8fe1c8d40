// A desktop editor that is already installed.
import { findOnPath, runCommand } from "../run-command.mjs";

const NAMES = ["code", "codium", "code-insiders", "code-oss"];
const VERSION_TIMEOUT_MS = 10_000;

/** Whether a window can be shown on this machine. */
export function hasDisplay() {
  if (process.platform === "win32" || process.platform === "darwin") return true;
  return Boolean(process.env.DISPLAY || process.env.WAYLAND_DISPLAY);
}

/**
 * Looks for a desktop editor that is new enough to run the extension.
 *
 * @param {[number, number]} minimum Major and minor version.
 * @returns {Promise<{ program?: string, notes: string[] }>} `notes` say what was found and why it won't do.
 */
export async function findDesktopEditor(minimum) {
  const notes = [];
  for (const name of NAMES) {
    const program = findOnPath(name);
    if (program === undefined) continue;
    const { code, output } = await runCommand(program, ["--version"], {
      timeoutMs: VERSION_TIMEOUT_MS,
      shell: process.platform === "win32",
    });
    const version = output.match(/^(\d+)\.(\d+)\.\d+/m);
    if (code !== 0 || version === null) notes.push(`${name} doesn't tell its version`);
    else if (isOlder(version, minimum)) notes.push(`${name} is ${version[0]}; ${minimum.join(".")} or newer is needed`);
    else return { program, notes };
  }
  if (notes.length === 0) notes.push(`none of ${NAMES.join(", ")} is on the path`);
  return { notes };
}

function isOlder([, major, minor], [wantedMajor, wantedMinor]) {
  return Number(major) < wantedMajor || (Number(major) === wantedMajor && Number(minor) < wantedMinor);
}
