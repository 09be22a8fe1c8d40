import { InvalidArgumentError, Option, type Command } from "commander";
import { declareShards, declareWork } from "../checking/checking-options.ts";
import { checkCommand, type CheckOptions } from "../commands/check.ts";
import { CHECK_FORMATS } from "../check/formats.ts";
import { paintFor } from "../paint.ts";
import { formats } from "./format-option.ts";
import type { Answer } from "./answer.ts";

export function declareCheck(program: Command, answer: Answer): void {
  const check = program
    .command("check")
    .description(
      "find what is wrong with documents; exit code 0 without errors, 1 with errors, 2 when it could not run",
    )
    .argument("[paths...]", "documents, or folders to look through (default: this folder)")
    .addOption(formats(...CHECK_FORMATS))
    .option("--out <format=file>", "an answer more, into a file; may be given several times", collect)
    .option("--force", "let --out and --write-baseline replace a file that is something else too")
    .option("--strict", "exit code 1 with warnings too")
    .option("--max-warnings <count>", "exit code 1 with more warnings than these", wholeNumber)
    .option("--since <revision>", "count only what is new since the last commit in common with this revision of git")
    .addOption(
      new Option("--baseline <file>", "do not count the findings that this file lists").conflicts("writeBaseline"),
    )
    .option("--write-baseline <file>", "list the errors and warnings of now in this file, and do not count them")
    .option("--help-page <address>", "where the findings are explained, for SARIF: ADDRESS#CODE");
  declareShards(declareWork(check)).action(async (paths: string[], options: Omit<CheckOptions, "paint">) =>
    answer(await checkCommand(paths, { ...options, paint: paintFor(process.stdout, process.env) })),
  );
}

const collect = (value: string, before: readonly string[] = []): string[] => [...before, value];

function wholeNumber(value: string): number {
  if (!/^\d{1,9}$/.test(value)) throw new InvalidArgumentError("Write a whole number from 0.");
  return Number(value);
}
