import { Option, type Command } from "commander";
import { solveCommand } from "../commands/solve.ts";
import { formats, type Format } from "./format-option.ts";
import type { Answer } from "./answer.ts";

export function declareSolve(program: Command, answer: Answer): void {
  program
    .command("solve")
    .description("print the axes, the camera and the framing of a move, at every frame and at its end")
    .argument("<move>", "a move document")
    .addOption(
      new Option("--at <time>", "one played time: 2.4, 60f or a timecode label; or the name of a key").conflicts(
        "frames",
      ),
    )
    .option("--frames", "every frame and the end (the default)")
    .option("--pass <name>", "with the target shifts of this pass")
    .addOption(formats("text", "json", "csv"))
    .action((move: string, options: { at?: string; pass?: string; format: Format }) =>
      answer(solveCommand(move, options)),
    );
}
