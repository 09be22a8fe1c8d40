/** Why git could not give what was asked for: one line for the user, with the cure. Not a fault of the program. */
export class GitFailure extends Error {
  override readonly name = "GitFailure";
}
