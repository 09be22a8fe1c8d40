import type { Command } from "commander";
import { checkCommand } from "../commands/check.ts";
import { paintFor } from "../paint.ts";
import { formats } from "./format-option.ts";
import type { Answer } from "./answer.ts";

export function declareCheck(program: Command, answer: Answer): void {
  program
    .command("check")
    .description(
      "find what is wrong with documents; exit code 0 without errors, 1 with errors, 2 when it could not run",
    )
    .argument("[paths...]", "documents, or folders to look through (default: this folder)")
    .addOption(formats("text", "json"))
    .option("--strict", "exit code 1 with warnings too")
    .action((paths: string[], options: { format: "text" | "json"; strict?: boolean }) =>
      answer(checkCommand(paths, { ...options, paint: paintFor(process.stdout, process.env) })),
    );
}
