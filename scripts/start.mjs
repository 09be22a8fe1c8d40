// npm start [-- FOLDER]: builds, checks the folder in the terminal and opens an editor on it with the extension running.
import { readFile, stat } from "node:fs/promises";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { buildAll } from "./build.mjs";
import { prepareHost } from "./editor-host/prepare.mjs";
import { hostAddress, serveHost } from "./editor-host/serve.mjs";
import { findDesktopEditor, hasDisplay } from "./editors/desktop-on-path.mjs";
import { downloadDesktopEditor } from "./editors/downloaded-desktop.mjs";
import { runCommand, stopAll } from "./run-command.mjs";

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..");
const demo = path.join(root, "examples");
/** The same address every time, so that a page left open finds the editor again. */
const USUAL_PORT = 8477;

for (const signal of ["SIGINT", "SIGTERM"]) {
  process.once(signal, () => {
    stopAll();
    process.stderr.write("\nStopped.\n");
    process.exit(0);
  });
}

try {
  const folder = await chosenFolder(process.argv[2]);
  await buildAll({ ifStale: true });
  await checkInTerminal(folder);
  await openEditor(folder);
} catch (error) {
  process.stderr.write(`${error.message}\n`);
  stopAll();
  process.exit(1);
}

async function chosenFolder(argument) {
  // npm runs this in the project's folder; a path is meant from where the user typed it.
  const from = process.env.INIT_CWD ?? process.cwd();
  const folder = argument === undefined ? demo : path.resolve(from, argument);
  const info = await stat(folder).catch(() => undefined);
  if (!info?.isDirectory()) throw new Error(`${folder} is not a folder.`);
  return folder;
}

async function checkInTerminal(folder) {
  process.stderr.write(`Checking ${folder}\n`);
  const cli = path.join(root, "dist", "cli", "main.cjs");
  const { code } = await runCommand(process.execPath, [cli, "check", path.basename(folder) || "."], {
    cwd: path.dirname(folder),
    show: true,
  });
  // Findings are the user's to read, not a reason to stop here; a check that can't run is.
  if (code > 1) throw new Error("The check could not run.");
  if (folder === demo)
    process.stderr.write("What lies in examples/broken is broken on purpose; the moves in examples/moves pass.\n");
}

async function openEditor(folder) {
  if (hasDisplay() && (await openDesktop(folder))) return;
  if (!hasDisplay())
    process.stderr.write("No display here for a desktop editor: using one that is served to a browser.\n");
  if (await openHosted(folder)) return;
  process.stderr.write(
    'Checked in the terminal only. For the editor, install Visual Studio Code 1.100 or newer with "code" on the path, then run this again.\n',
  );
}

/** A desktop editor from the path, else a downloaded one. False when neither can be had. */
async function openDesktop(folder) {
  const found = await findDesktopEditor(await oldestEditor());
  if (found.program !== undefined) {
    const args = ["--new-window", `--extensionDevelopmentPath=${root}`, folder];
    const { code, output } = await runCommand(found.program, args, { shell: process.platform === "win32" });
    if (code === 0) {
      process.stderr.write(`Opened in ${found.program}.\n`);
      return true;
    }
    found.notes.push(`${found.program} failed: ${output.trim().slice(-300)}`);
  }
  process.stderr.write(`No desktop editor to use: ${found.notes.join("; ")}.\n`);
  let program;
  try {
    program = await downloadDesktopEditor(root);
  } catch (error) {
    process.stderr.write(`  ${error.message}\n`);
    return false;
  }
  process.stderr.write("Opened. Close its window or press Ctrl-C to end.\n");
  const state = path.join(root, ".cache", "desktop-state");
  const args = [`--extensionDevelopmentPath=${root}`, `--user-data-dir=${state}`, "--disable-workspace-trust", folder];
  const { code, output } = await runCommand(program, args);
  if (code !== 0) process.stderr.write(`The downloaded editor failed: ${output.trim().slice(-300)}\n`);
  return code === 0;
}

/** The editor that is served on 127.0.0.1; returns when it ends. False when it can't be had. */
async function openHosted(folder) {
  let host;
  try {
    await prepareHost();
    const data = path.join(root, ".cache", "editor-state");
    host = await serveHost({ data, preferredPort: USUAL_PORT });
  } catch (error) {
    process.stderr.write(`${error.message}\n`);
    return false;
  }
  process.stderr.write("The editor runs on this machine only. Open this address in a browser; Ctrl-C ends it:\n");
  process.stdout.write(`${hostAddress({ port: host.port, folder, extension: root })}\n`);
  const code = await host.exited;
  process.stderr.write(`The editor ended (${code}).\n${host.log().slice(-2000)}`);
  return true;
}

async function oldestEditor() {
  const { engines } = JSON.parse(await readFile(path.join(root, "package.json"), "utf8"));
  const [, major, minor] = engines.vscode.match(/(\d+)\.(\d+)/);
  return [Number(major), Number(minor)];
}
