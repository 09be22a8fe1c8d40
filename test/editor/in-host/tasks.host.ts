import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import * as vscode from "vscode";
import { activated, demoUri, EXTENSION_ID } from "./extension.ts";

interface Matcher {
  readonly pattern: { readonly regexp: string; readonly file: number; readonly code: number };
}

describe("tasks of the editor", () => {
  before(async () => (await activated()).ready);

  it("offer the check of a folder, run without a shell by the editor's own Node, in lines that the matcher reads", async () => {
    const tasks = await vscode.tasks.fetchTasks({ type: "movewright" });
    const [task] = tasks;
    assert.deepEqual(
      tasks.map(({ name, source }) => `${source}: ${name}`),
      ["Movewright: check"],
    );
    const execution = task.execution as vscode.ProcessExecution;
    assert.ok(execution.process === process.execPath && Array.isArray(execution.args));
    assert.equal(execution.options?.cwd, demoUri(".").fsPath.replace(/[/\\]$/, ""));
    // By hand: this editor may have no terminal to run it in.
    const env = { ...process.env, ...execution.options?.env };
    const run = spawnSync(execution.process, execution.args, { cwd: execution.options?.cwd, env, encoding: "utf8" });
    assert.equal(run.status, 1, run.stderr);
    const extension = vscode.extensions.getExtension(EXTENSION_ID);
    assert.ok(extension);
    const { contributes } = extension.packageJSON as { contributes: { problemMatchers: readonly Matcher[] } };
    const { regexp, file, code } = contributes.problemMatchers[0].pattern;
    const found = run.stdout.split("\n").flatMap((line) => {
      const match = new RegExp(regexp).exec(line);
      return match ? [`${match[file]} ${match[code]}`] : [];
    });
    assert.ok(found.includes("broken/bad-number.camera.yaml bad-number"), run.stdout.slice(0, 2000));
    assert.ok(found.includes("broken/too-fast.move.yaml axis-speed"));
  });
});
