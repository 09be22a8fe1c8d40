import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import path from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import * as vscode from "vscode";
import { activated, codesOf, demoUri, hoverText, placeOf, until } from "./extension.ts";

const MOVE = "moves/over-the-lid.move.yaml";
/** How long the server may be away [ms]: far more than the two seconds that it takes where nothing else runs. */
const BACK_MS = 25_000;

/** Processes that this extension host started as our server. */
function servers(): number[] {
  const all = execFileSync("ps", ["-A", "-o", "pid=,ppid=,args="], { encoding: "utf8" });
  return all
    .split("\n")
    .map((line) => /^\s*(\d+)\s+(\d+)\s+(.*)$/.exec(line))
    .filter((found) => found !== null)
    .filter(([, , parent, args]) => Number(parent) === process.pid && /dist\/cli\/main\.cjs\b.*\bserve\b/.test(args))
    .map(([, pid]) => Number(pid));
}

/** All that is shown of a document, in words that compare. */
const shown = (uri: vscode.Uri): string =>
  JSON.stringify(
    vscode.languages.getDiagnostics(uri).map(({ range, message, severity }) => [range, message, severity]),
  );

/** When the dead server's diagnostics went, the same came back, and the motion was known again [ms after the kill]. */
interface Away {
  readonly cleared: number;
  readonly diagnostics: number;
  readonly hover: number;
}

/** Waits until a document shows exactly `found`, or anything else; the time is that of the event, whoever is busy after it. */
function showing(uri: vscode.Uri, found: string): (same: boolean, time: () => number) => Promise<number> {
  return (same, time) => {
    let came: number | undefined;
    const look = (): void => {
      if ((shown(uri) === found) === same) came ??= time();
    };
    const listening = vscode.languages.onDidChangeDiagnostics(look);
    look();
    return until(same ? "the same diagnostics" : "diagnostics to go", () => came).finally(() => listening.dispose());
  };
}

describe("a server that is killed", function () {
  this.timeout(120_000);
  const uri = demoUri(MOVE);
  let found = "";

  before(async () => {
    await (
      await activated()
    ).ready;
    const editor = await vscode.window.showTextDocument(uri);
    const at = editor.document.getText().indexOf("- at: 13 s");
    const [from, to] = [editor.document.positionAt(at), editor.document.positionAt(at + "- at: 13 s".length)];
    await editor.edit((edit) => edit.replace(new vscode.Range(from, to), "- at: 9.6 s"));
    await until("findings", () => (codesOf(uri).includes("axis-speed") ? true : undefined));
    found = shown(uri);
  });

  after(async () => {
    await vscode.commands.executeCommand("undo");
    await vscode.commands.executeCommand("workbench.action.closeAllEditors");
  });

  /** Ends the server for good; gives how long it took until another one shows the same and knows the motion. */
  const kill = async (): Promise<Away> => {
    const [pid, ...more] = servers();
    assert.ok(pid !== undefined && more.length === 0, "there is one server");
    const begun = Date.now();
    const since = (): number => Date.now() - begun;
    const shows = showing(uri, found);
    process.kill(pid, "SIGKILL");
    // What the dead server said is taken away; the same comes back from the next one.
    const cleared = await shows(false, since);
    const diagnostics = await shows(true, since);
    // The hover of a key has its table once the next server has solved the move: nothing here is left over from the dead one.
    const document = await vscode.workspace.openTextDocument(uri);
    const hover = () => hoverText(uri, placeOf(document, "name:"));
    await until("the move to be solved again", async () => ((await hover()).includes("%") ? true : undefined));
    const hovered = since();
    const now = servers();
    assert.ok(now.length === 1 && now[0] !== pid, "another server");
    return { cleared, diagnostics, hover: hovered };
  };

  it("is back with the same diagnostics of a text that was never saved", async () => {
    const away = await kill();
    const begun = Date.now();
    execFileSync(process.execPath, ["-e", "0"], { env: { ...process.env, ELECTRON_RUN_AS_NODE: "1" } });
    const told = JSON.stringify({ ...away, "an empty program at this time": Date.now() - begun });
    writeFileSync(path.join(__dirname, "..", "server-restart.json"), `${told}\n`);
    assert.ok(away.hover < BACK_MS, told);
  });

  it("again and again is not started a fifth time by itself, but by a command", async () => {
    for (let end = 2; end <= 4; end++) await kill();
    const [pid] = servers();
    process.kill(pid, "SIGKILL");
    await until("the server to end", () => (servers().includes(pid) ? undefined : true));
    await sleep(4000);
    assert.deepEqual(servers(), [], "nobody starts it");
    await vscode.commands.executeCommand("movewright.restartServer");
    await until("the same diagnostics", () => (shown(uri) === found ? true : undefined));
    assert.equal(servers().length, 1);
  });
});
