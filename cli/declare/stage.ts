import type { Command } from "commander";
import { stageCommand, type StageOptions } from "../commands/stage.ts";
import type { Answer } from "./answer.ts";

export function declareStage(program: Command, answer: Answer): void {
  program
    .command("stage")
    .description(
      "write a move as one page to hand round: the stage, the findings and the texts; exit code 0 without errors, 1 with errors, 2 when it could not run",
    )
    .argument("<move>", "a move document")
    .requiredOption("--out <file>", "the page, FILE.html; one that this command made before is replaced")
    .option("--against <move>", "another move document, drawn behind it with what differs")
    .option("--force", "replace a file that is something else too")
    .action((move: string, options: StageOptions) => answer(stageCommand(move, options)));
}
