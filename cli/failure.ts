/** Why a command could not run: one line for the user, exit code 2. Not a fault of the program. */
export class Failure extends Error {
  override readonly name = "Failure";
}

/** True for a `Failure`, also of a part of the program that is bundled by itself and has a class of its own. */
export const isFailure = (error: unknown): error is Failure => error instanceof Error && error.name === "Failure";

/** What a command answers: text for stdout and the exit code. */
export interface Outcome {
  readonly output: string;
  readonly exit: 0 | 1 | 2;
  /** Lines for stderr. */
  readonly notes?: readonly string[];
}
