// Serves the hosted editor on 127.0.0.1 and builds the addresses that open a folder in it.
import { mkdir, writeFile } from "node:fs/promises";
import path from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { runCommand, startCommand, stopCommand } from "../run-command.mjs";
import { freePort } from "./free-port.mjs";
import { recipe } from "./recipe.mjs";

const ADDRESS = "127.0.0.1";
const START_TIMEOUT_MS = 60_000;

/** Settings that keep the editor quiet: no welcome, no tips, no questions about telemetry or accounts. */
const QUIET_SETTINGS = {
  "workbench.startupEditor": "none",
  "workbench.tips.enabled": false,
  "workbench.welcomePage.walkthroughs.openOnInstall": false,
  "extensions.ignoreRecommendations": true,
  "telemetry.telemetryLevel": "off",
  "update.mode": "none",
  "chat.commandCenter.enabled": false,
  "window.commandCenter": false,
  "workbench.layoutControl.enabled": false,
  "remote.autoForwardPorts": false,
};

/**
 * Starts the editor's server.
 *
 * @param {{ data: string, preferredPort?: number, settings?: object, env?: Record<string, string> }} options
 *   `data` is the folder for the editor's own state, made when missing; `settings` hold for a new
 *   state only; any free port is taken when the preferred one isn't.
 * @returns {Promise<{ port: number, log: () => string, exited: Promise<number | null>, stop: () => Promise<void> }>}
 * @throws Error with the server's output when it ends early or doesn't answer within a minute.
 */
export async function serveHost({ data, preferredPort, settings = {}, env = {} }) {
  const chosenPort = await freePort(preferredPort);
  await writeSettings(data, settings);
  const args = [...serverArguments(data), "--host", ADDRESS, "--port", String(chosenPort)];
  const child = startCommand(recipe.node, args, {
    cwd: recipe.server,
    env: { ...process.env, ...env },
    stdio: ["ignore", "pipe", "pipe"],
  });
  let output = "";
  child.stdout.on("data", (chunk) => (output += chunk));
  child.stderr.on("data", (chunk) => (output += chunk));
  const exited = new Promise((resolve) => child.once("close", resolve));
  const stop = async () => {
    stopCommand(child);
    await Promise.race([exited, sleep(3000, undefined, { ref: false })]);
    stopCommand(child, "SIGKILL");
  };
  try {
    await answering(chosenPort, child);
  } catch (error) {
    await stop();
    throw new Error(`The hosted editor didn't start: ${error.message}\n${output.slice(-3000)}`, { cause: error });
  }
  return { port: chosenPort, log: () => output, exited, stop };
}

/** Writes the user's settings of a new editor; those of one that has been used are the user's own. */
async function writeSettings(data, settings) {
  const folder = path.join(data, "data", "User");
  await mkdir(folder, { recursive: true });
  const text = JSON.stringify({ ...QUIET_SETTINGS, ...settings }, null, 2);
  await writeFile(path.join(folder, "settings.json"), text, { flag: "wx" }).catch((error) => {
    if (error.code !== "EEXIST") throw error;
  });
}

/** Installs a .vsix into the state folder `data` of a hosted editor. */
export async function installIntoHost(data, vsix) {
  return runCommand(recipe.node, [...serverArguments(data), "--install-extension", vsix], { cwd: recipe.server });
}

/**
 * The address that opens `folder` in a served editor.
 *
 * @param {{ port: number, folder: string, extension?: string, tests?: string, file?: string }} options
 *   `extension` is the folder of an extension to load as it is; `tests` a module whose `run()` the extension host calls.
 */
export function hostAddress({ port, folder, extension, tests, file }) {
  const remote = (target) => `vscode-remote://${ADDRESS}:${port}${encodeURI(slashes(target))}`;
  const payload = [["skipWelcome", "true"]];
  if (extension) payload.push(["extensionDevelopmentPath", remote(extension)]);
  if (tests) payload.push(["extensionTestsPath", remote(tests)]);
  if (file) payload.push(["openFile", remote(file)]);
  const query = new URLSearchParams({ folder: slashes(folder), payload: JSON.stringify(payload) });
  return `http://${ADDRESS}:${port}/?${query}`;
}

function serverArguments(data) {
  return [
    path.join(recipe.server, "out", "server-main.js"),
    "--accept-server-license-terms",
    "--without-connection-token",
    "--disable-telemetry",
    "--disable-workspace-trust",
    ...["--server-data-dir", data],
    ...["--extensions-dir", path.join(data, "extensions")],
  ];
}

/** The part of a URL's path that names a file: forward slashes, with one in front. */
function slashes(file) {
  const forward = path.resolve(file).split(path.sep).join("/");
  return forward.startsWith("/") ? forward : `/${forward}`;
}

async function answering(port, child) {
  const end = Date.now() + START_TIMEOUT_MS;
  while (Date.now() < end) {
    if (child.exitCode !== null) throw new Error(`it ended with exit code ${child.exitCode}`);
    try {
      const reply = await fetch(`http://${ADDRESS}:${port}/`, { signal: AbortSignal.timeout(5000) });
      if (reply.ok) return;
    } catch {
      // Not listening yet.
    }
    await sleep(100);
  }
  throw new Error("no answer within a minute");
}
