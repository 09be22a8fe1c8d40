import type { Command } from "commander";
import { reachCommand, type ReachOptions } from "../commands/reach.ts";
import { formats } from "./format-option.ts";
import type { Answer } from "./answer.ts";

export function declareReach(program: Command, answer: Answer): void {
  program
    .command("reach")
    .description(
      "print the axes that bring the camera to a place and let it look as asked, or the nearest place in reach",
    )
    .argument("<document>", "a rig document (the base's frame), or a move document (the set's)")
    .option("--from <place>", "where the camera is to be: x,y,z in metres; without it, JSON lines on standard input")
    .option(
      "--aim <place>",
      "what it looks at: x,y,z in metres, or a target of the move; without it the place alone, the head left as --near says",
    )
    .option("--rotation <quaternion>", "in place of --aim: how the camera is turned, x,y,z,w")
    .option("--framing <shares>", "where the target is in the picture: across,down (default: its middle)")
    .option("--roll <angle>", "roll axis's value, or lean of the horizon for a rig without a head")
    .option("--near <values>", "name=value, separated by commas: the set-up, and the axes to stay near")
    .option("--camera <file>", "for a rig: a camera document; the place is then the entrance pupil's")
    .option("--lens <name>", "a lens of that camera")
    .option("--focus <distance>", "from the sensor plane, for a lens whose pupil goes with focus; else infinity")
    .addOption(formats("text", "json"))
    .action((document: string, options: ReachOptions) => answer(reachCommand(document, options)));
}
