import { Option, type Command } from "commander";
import { declareWork } from "../checking/checking-options.ts";
import type { DiffOptions } from "../commands/diff.ts";
import { paintFor } from "../paint.ts";
import { formats } from "./format-option.ts";
import type { Answer } from "./answer.ts";

export function declareDiff(program: Command, answer: Answer): void {
  const diff = program
    .command("diff")
    .description(
      "tell what a change does to moves: keys, times, axes, camera path, framing, findings; exit code 0 when done, 2 when it could not run",
    )
    .argument("[paths...]", "OLD and NEW, two documents of one kind or two folders; with --git what is looked at")
    .option(
      "--git <range>",
      "revisions of git: BASE..HEAD, BASE...HEAD from their last common commit, or BASE against the files on the disk",
    )
    .addOption(
      new Option(
        "--driver",
        "called by git for one file: git config diff.movewright.command 'movewright diff --driver --'",
      ).conflicts("git"),
    )
    .option("--exit-code", "exit code 1 when a motion changed or a finding is new")
    .addOption(formats("text", "markdown", "json", "html"));
  declareWork(diff).action(async (paths: string[], options: Omit<DiffOptions, "paint">) => {
    const { diffCommand } = await import("../commands/diff.ts");
    answer(await diffCommand(paths, { ...options, paint: paintFor(shownIn(process.env), process.env) }));
  });
}

/** Git's pager shows colours as a terminal does. */
const shownIn = (env: NodeJS.ProcessEnv): { readonly isTTY?: boolean } =>
  env.GIT_PAGER_IN_USE === "true" ? { isTTY: true } : process.stdout;
