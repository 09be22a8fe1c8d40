import { Option } from "commander";

export type Format = "text" | "json" | "csv";

/** `--format`, of which the first choice is the default. */
export const formats = (...choices: readonly string[]): Option =>
  new Option("--format <format>", "how to answer").choices([...choices]).default(choices[0]);
