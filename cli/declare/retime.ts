import { Option, type Command } from "commander";
import { FITS } from "../../core/motion/retime-fit.ts";
import { retimeCommand, type RetimeOptions } from "../commands/retime.ts";
import { formats } from "./format-option.ts";
import type { Answer } from "./answer.ts";

const RETIME_JSON = `
JSON: { version, fit, factor?, iterated?, duration: { before, after },
  keys: [{ name, before, after, text: [{ field, before, after }] }],
  binding: [{ axis, limit, share, time, key }], lowerBound?, pathTime?,
  untouched?, reason?, remaining: [finding], written }. Times are played seconds.`;

export function declareRetime(program: Command, answer: Answer): void {
  program
    .command("retime")
    .description(
      "fit a move's times to the limits of its axes; exit code 0 when done, 1 when errors are left, 2 when it could not run",
    )
    .argument("<move>", "a move document")
    .addOption(
      new Option(
        "--fit <way>",
        "whole: one factor for all times; segments: each way as short as its neighbours let it; fastest: the least time found",
      )
        .choices(FITS)
        .makeOptionMandatory(),
    )
    .option("--write", "change the times in the document, and nothing else of it")
    .addOption(formats("text", "json"))
    .addHelpText("after", RETIME_JSON)
    .action((move: string, options: RetimeOptions) => answer(retimeCommand(move, options)));
}
