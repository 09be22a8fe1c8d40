import type { Outcome } from "./failure.ts";
import { runProgram } from "./program.ts";

/** Prints an outcome; a reader that has gone away (`| head`) ends the program quietly. */
function print(outcome: Outcome): void {
  process.exitCode = outcome.exit;
  for (const stream of [process.stdout, process.stderr]) {
    stream.on("error", (error: NodeJS.ErrnoException) => {
      if (error.code !== "EPIPE") throw error;
      process.exit(outcome.exit);
    });
  }
  for (const note of outcome.notes ?? []) process.stderr.write(`${note}\n`);
  if (outcome.output !== "") process.stdout.write(outcome.output);
}

void runProgram(process.argv.slice(2)).then(print);
