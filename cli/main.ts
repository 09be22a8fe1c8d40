import { isPoolThread, serveJobs } from "../host/pool/serve-jobs.ts";
import type { Outcome } from "./failure.ts";
import { JOBS } from "./jobs/job-table.ts";
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

// The program is one file, which it starts again as a thread.
if (isPoolThread()) serveJobs(JOBS);
else void runProgram(process.argv.slice(2)).then(print);
