import type { Command } from "commander";
import { declareWork } from "../checking/checking-options.ts";
import type { ReportOptions } from "../commands/report.ts";
import type { Answer } from "./answer.ts";

export function declareReport(program: Command, answer: Answer): void {
  const report = program
    .command("report")
    .description(
      "write a page for each move and an index of them into a folder; exit code 0 without errors, 1 with errors, 2 when it could not run",
    )
    .argument("[paths...]", "documents, or folders to look through (default: this folder)")
    .requiredOption("--out <folder>", "the folder of the report; an older report in it is replaced as a whole")
    .option("--against <revision>", "show what changed since this revision of git")
    .option("--force", "replace a folder that holds something else too, with all that is in it");
  declareWork(report).action(async (paths: string[], options: ReportOptions) => {
    const { reportCommand } = await import("../commands/report.ts");
    answer(await reportCommand(paths, options));
  });
}
