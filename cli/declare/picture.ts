import { Option, type Command } from "commander";
import { PICTURE_VIEWS } from "../../core/draw/picture.ts";
import { pictureCommand, type PictureOptions } from "../commands/picture.ts";
import type { Answer } from "./answer.ts";

export function declarePicture(program: Command, answer: Answer): void {
  program
    .command("picture")
    .description(
      "draw a move at one instant: through the lens, or the rig in its set, with the camera's way and its keys",
    )
    .argument("<move>", "a move document")
    .addOption(new Option("--view <view>", "from where").choices(PICTURE_VIEWS).makeOptionMandatory())
    .requiredOption("--at <time>", "a played time: 2.4, 60f or a timecode label; or the name of a key")
    .requiredOption("--out <file>", "the picture, FILE.svg or FILE.png; one that this command made before is replaced")
    .option("--width <px>", "of a PNG, from 160 to 7680 (default: the delivered width through the lens, else 1600)")
    .option("--force", "replace a file that is something else too")
    .action(async (move: string, options: PictureOptions) => answer(await pictureCommand(move, options)));
}
