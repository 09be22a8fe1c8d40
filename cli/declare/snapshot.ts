import type { Command } from "commander";
import type { SnapshotOptions } from "../commands/snapshot.ts";
import type { Answer } from "./answer.ts";
import { formats } from "./format-option.ts";

export function declareSnapshot(program: Command, answer: Answer): void {
  program
    .command("snapshot")
    .description(
      "keep a picture and a table of each move beside it, NAME.snapshot.svg and NAME.snapshot.md, for looking at changes; exit code 0 when done, 1 when a move cannot be solved or with --validate when one is stale or missing, 2 when it could not be done",
    )
    .argument("[paths...]", "moves, or folders to look through (default: this folder)")
    .option("--validate", "write nothing; exit code 1 when a snapshot is stale, missing or without its move")
    .option("--out <dir>", "keep them in a folder of their own")
    .option("--force", "replace files of these names that are no snapshots too")
    .addOption(formats("text", "json"))
    .action(async (paths: string[], options: SnapshotOptions) => {
      const { snapshotCommand } = await import("../commands/snapshot.ts");
      answer(snapshotCommand(paths, options));
    });
}
