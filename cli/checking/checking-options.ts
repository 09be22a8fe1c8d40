import { InvalidArgumentError, type Command } from "commander";

/** Threads at most: more would only take memory from each other. */
const MOST_JOBS = 256;

/** Declares how much is worked at once and what is kept from run to run, the same for each command that does much. */
export function declareWork(command: Command): Command {
  return command
    .option("--jobs <count>", "how many cores are used at most (default: all)", readJobs)
    .option("--cache <folder>", "where answers are kept for the next run (default: in the folder of your caches)")
    .option("--no-cache", "keep nothing, and look at all documents anew");
}

/** Declares how a run is split between machines and put together. */
export function declareShards(command: Command): Command {
  return command
    .option("--shard <number/count>", "check a part only: 1/3, 2/3 and 3/3 on three machines")
    .option("--result <file>", "write what was found to a file, for --merge")
    .option("--merge <files...>", "answer from the results of all shards, as one run would have");
}

function readJobs(value: string): number {
  const count = Number(value);
  if (!/^\d{1,4}$/.test(value) || count < 1 || MOST_JOBS < count) {
    throw new InvalidArgumentError(`Write a whole number from 1 to ${MOST_JOBS}.`);
  }
  return count;
}
