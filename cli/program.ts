import { Command, CommanderError } from "commander";
import { programVersion } from "../host/program-version.ts";
import type { Answer } from "./declare/answer.ts";
import { declareCheck } from "./declare/check.ts";
import { declareDiff } from "./declare/diff.ts";
import { declareFormat } from "./declare/format.ts";
import { declareMerge } from "./declare/merge.ts";
import { declarePicture } from "./declare/picture.ts";
import { declarePose } from "./declare/pose.ts";
import { declareReach } from "./declare/reach.ts";
import { declareReport } from "./declare/report.ts";
import { declareRetime } from "./declare/retime.ts";
import { declareServe } from "./declare/serve.ts";
import { declareSnapshot } from "./declare/snapshot.ts";
import { declareSolve } from "./declare/solve.ts";
import { declareStage } from "./declare/stage.ts";
import { isFailure, type Outcome } from "./failure.ts";

/** What declares each command with its options, in the order of the help. */
const COMMANDS: readonly ((program: Command, answer: Answer) => void)[] = [
  declareCheck,
  declareDiff,
  declareSolve,
  declareRetime,
  declareFormat,
  declareMerge,
  declarePose,
  declareReach,
  declareStage,
  declarePicture,
  declareSnapshot,
  declareReport,
  declareServe,
];

/** Runs the program with the arguments after its name. Gives what to print and the exit code; never rejects. */
export async function runProgram(args: readonly string[]): Promise<Outcome> {
  let outcome: Outcome = { output: "", exit: 0 };
  const written: string[] = [];
  const refused: string[] = [];
  const program = makeProgram((result) => (outcome = result));
  for (const command of [program, ...program.commands]) {
    command.exitOverride().configureOutput({
      writeOut: (text) => void written.push(text),
      writeErr: (text) => void refused.push(text),
    });
  }
  try {
    await program.parseAsync(args.length === 0 ? ["--help"] : args, { from: "user" });
    return outcome;
  } catch (error) {
    if (error instanceof CommanderError) {
      const isFine = error.exitCode === 0;
      return { output: written.join(""), exit: isFine ? 0 : 2, notes: isFine ? [] : [oneLine(refused.join(""))] };
    }
    if (isFailure(error)) return { output: "", exit: 2, notes: [`movewright: ${error.message}`] };
    const said = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
    return { output: "", exit: 2, notes: [oneLine(`a fault of the program, please report it: ${said}`)] };
  }
}

/** Commander's own words, its suggestion behind them. */
function oneLine(text: string): string {
  const words = text
    .split("\n")
    .map((part) => part.trim())
    .join(" ")
    .trim();
  return `movewright: ${words.replace(/^error: /, "")}`;
}

function makeProgram(answer: Answer): Command {
  const program = new Command("movewright")
    .description("Checks and solves camera moves of multi-axis rigs that are written as text. It drives no motor.")
    .version(programVersion(), "-V, --version", "print the version")
    .helpOption("-h, --help", "print this help")
    .helpCommand(false);
  for (const declare of COMMANDS) declare(program, answer);
  return program;
}
