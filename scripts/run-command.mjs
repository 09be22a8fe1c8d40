// Runs other programs: with their output kept for the case of failure, and with a clean end on Ctrl-C.
import { spawn } from "node:child_process";
import { accessSync, constants } from "node:fs";
import path from "node:path";

const running = new Set();

/** Ends every program that `runCommand` or `startCommand` still has running, children included. */
export function stopAll(signal = "SIGTERM") {
  for (const child of running) stopCommand(child, signal);
}

/** Ends one started program together with the programs that it started. */
export function stopCommand(child, signal = "SIGTERM") {
  if (child.exitCode !== null || child.signalCode !== null) return;
  // A program started here leads its own process group, except on Windows, which has none.
  if (process.platform === "win32") child.kill(signal);
  else {
    try {
      process.kill(-child.pid, signal);
    } catch (error) {
      if (error.code !== "ESRCH") throw error;
    }
  }
}

/** Starts a program in a process group of its own, so that it can be ended with all that it starts. */
export function startCommand(command, args, options = {}) {
  const child = spawn(command, args, { detached: process.platform !== "win32", ...options });
  running.add(child);
  child.once("close", () => running.delete(child));
  child.once("error", () => running.delete(child));
  return child;
}

/**
 * Runs a program to its end.
 *
 * @param {{ cwd?: string, env?: NodeJS.ProcessEnv, show?: boolean, timeoutMs?: number }} options
 *   `show` passes output through; without it the output is kept and returned.
 * @returns {Promise<{ code: number, output: string }>} `code` is 127 when the program isn't there and 124 at a time-out.
 */
export function runCommand(command, args, options = {}) {
  const { show = false, timeoutMs, ...spawnOptions } = options;
  return new Promise((resolve) => {
    const child = startCommand(command, args, {
      ...spawnOptions,
      stdio: ["ignore", show ? "inherit" : "pipe", show ? "inherit" : "pipe"],
    });
    const chunks = [];
    let timedOut = false;
    const timer =
      timeoutMs === undefined
        ? undefined
        : setTimeout(() => {
            timedOut = true;
            stopCommand(child, "SIGKILL");
          }, timeoutMs);
    child.stdout?.on("data", (chunk) => chunks.push(chunk));
    child.stderr?.on("data", (chunk) => chunks.push(chunk));
    child.once("error", (error) => {
      clearTimeout(timer);
      resolve({ code: 127, output: String(error.message) });
    });
    child.once("close", (code) => {
      clearTimeout(timer);
      resolve({ code: timedOut ? 124 : (code ?? 1), output: Buffer.concat(chunks).toString("utf8") });
    });
  });
}

/** Runs npm, the one that runs this script when there is one. */
export function runNpm(args, options = {}) {
  const npm = process.env.npm_execpath;
  if (npm?.endsWith(".js")) return runCommand(process.execPath, [npm, ...args], options);
  const windows = process.platform === "win32";
  return runCommand(windows ? "npm.cmd" : "npm", args, { shell: windows, ...options });
}

/** The path of a program, looked up as a shell would, or undefined. */
export function findOnPath(name) {
  const endings = process.platform === "win32" ? [".cmd", ".exe", ".bat"] : [""];
  for (const folder of (process.env.PATH ?? "").split(path.delimiter)) {
    for (const ending of endings) {
      const file = path.join(folder, name + ending);
      try {
        accessSync(file, constants.X_OK);
        return file;
      } catch {
        continue; // Not in this folder: the next one may have it.
      }
    }
  }
  return undefined;
}
