import type { Command } from "commander";
import { formatCommand, type FormatOptions } from "../commands/format.ts";
import { formats } from "./format-option.ts";
import type { Answer } from "./answer.ts";

export function declareFormat(program: Command, answer: Answer): void {
  program
    .command("format")
    .description(
      "lay documents out, changing blanks and line ends alone; exit code 0 when done, 1 when one has faults, 2 when one could not be written",
    )
    .argument("[paths...]", "documents, or folders to look through (default: this folder)")
    .option("--check", "write nothing; exit code 1 when a document differs from its layout")
    .option("--no-align-keys", "leave the columns of key tables as they come")
    .addOption(formats("text", "json"))
    .action((paths: string[], options: FormatOptions) => answer(formatCommand(paths, options)));
}
