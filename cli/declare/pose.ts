import { InvalidArgumentError, type Command } from "commander";
import { poseCommand, type PoseOptions } from "../commands/pose.ts";
import { formats } from "./format-option.ts";
import type { Answer } from "./answer.ts";

export function declarePose(program: Command, answer: Answer): void {
  program
    .command("pose")
    .description("print where a rig's camera mount, or a lens's entrance pupil, stands for given axis values")
    .argument("<rig>", "a rig document")
    .requiredOption("--axes <values>", "name=value, separated by commas; metres, degrees or with a unit", oneAxesList)
    .option("--camera <file>", "a camera document; the answer is then the entrance pupil")
    .option("--lens <name>", "a lens of that camera")
    .option("--focus <distance>", "from the sensor plane, for a lens whose pupil goes with focus; else infinity")
    .addOption(formats("text", "json"))
    .action((rig: string, options: PoseOptions) => answer(poseCommand(rig, options)));
}

function oneAxesList(value: string, previous: string | undefined): string {
  if (previous !== undefined) throw new InvalidArgumentError("Give one list, separated by commas.");
  return value;
}
