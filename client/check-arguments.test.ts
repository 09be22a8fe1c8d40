import assert from "node:assert/strict";
import { checkArguments, type CheckDefinition } from "./check-arguments.ts";

const ROWS: readonly (readonly [definition: Record<string, unknown>, args: readonly string[] | undefined])[] = [
  [{ command: "check" }, ["check", "--"]],
  [{ command: "check", strict: true }, ["check", "--strict", "--"]],
  [{ command: "check", paths: ["-x", "a b", "c'\"$(d)"] }, ["check", "--", "-x", "a b", "c'\"$(d)"]],
  [{ command: "solve" }, undefined],
  [{ command: "check", paths: "moves" }, undefined],
  [{ command: "check", paths: [""] }, undefined],
  [{ command: "check", paths: [7] }, undefined],
  [{ command: "check", strict: "yes" }, undefined],
];

describe("the task's command line", () => {
  for (const [definition, args] of ROWS) {
    it(`${args ? "of" : "refuses"} ${JSON.stringify(definition)}`, () =>
      assert.deepEqual(checkArguments({ type: "movewright", ...definition } as CheckDefinition), args));
  }
});
