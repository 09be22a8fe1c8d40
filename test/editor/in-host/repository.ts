import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { demoUri } from "./extension.ts";

/** The demo's folder on the disk. */
export const demoFolder = (): string => demoUri(".").fsPath.replace(/[/\\]$/, "");

/** Runs git in the demo's folder as nobody in particular; gives what it printed. */
export function git(...args: string[]): string {
  const who = ["-c", "user.name=Potter", "-c", "user.email=potter@example.invalid", "-c", "commit.gpgsign=false"];
  const { status, stderr, stdout } = spawnSync("git", [...who, ...args], { cwd: demoFolder(), encoding: "utf8" });
  assert.equal(status, 0, stderr);
  return stdout.trim();
}
