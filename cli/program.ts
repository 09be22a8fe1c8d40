import { Command, CommanderError, InvalidArgumentError, Option } from "commander";
import { PICTURE_VIEWS } from "../core/draw/picture.ts";
import { FITS } from "../core/motion/retime-fit.ts";
import { programVersion } from "../host/program-version.ts";
import { checkCommand } from "./commands/check.ts";
import { formatCommand, type FormatOptions } from "./commands/format.ts";
import { pictureCommand, type PictureOptions } from "./commands/picture.ts";
import { poseCommand, type PoseOptions } from "./commands/pose.ts";
import { reachCommand, type ReachOptions } from "./commands/reach.ts";
import { retimeCommand, type RetimeOptions } from "./commands/retime.ts";
import { serveCommand, type ServeOptions } from "./commands/serve.ts";
import { solveCommand } from "./commands/solve.ts";
import { stageCommand, type StageOptions } from "./commands/stage.ts";
import { Failure, type Outcome } from "./failure.ts";
import { paintFor } from "./paint.ts";

type Format = "text" | "json" | "csv";

const formats = (...choices: Format[]): Option =>
  new Option("--format <format>", "how to answer").choices(choices).default(choices[0]);

const RETIME_JSON = `
JSON: { version, fit, factor?, iterated?, duration: { before, after },
  keys: [{ name, before, after, text: [{ field, before, after }] }],
  binding: [{ axis, limit, share, time, key }], lowerBound?, pathTime?,
  untouched?, reason?, remaining: [finding], written }. Times are played seconds.`;

/** Runs the program with the arguments after its name. Gives what to print and the exit code; never rejects. */
export async function runProgram(args: readonly string[]): Promise<Outcome> {
  let outcome: Outcome = { output: "", exit: 0 };
  const written: string[] = [];
  const refused: string[] = [];
  const program = makeProgram((result) => (outcome = result));
  for (const command of [program, ...program.commands]) {
    command.exitOverride().configureOutput({
      writeOut: (text) => void written.push(text),
      writeErr: (text) => void refused.push(text),
    });
  }
  try {
    await program.parseAsync(args.length === 0 ? ["--help"] : args, { from: "user" });
    return outcome;
  } catch (error) {
    if (error instanceof CommanderError) {
      const isFine = error.exitCode === 0;
      return { output: written.join(""), exit: isFine ? 0 : 2, notes: isFine ? [] : [oneLine(refused.join(""))] };
    }
    if (error instanceof Failure) return { output: "", exit: 2, notes: [`movewright: ${error.message}`] };
    const said = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
    return { output: "", exit: 2, notes: [oneLine(`a fault of the program, please report it: ${said}`)] };
  }
}

/** Commander's own words, its suggestion behind them. */
function oneLine(text: string): string {
  const words = text
    .split("\n")
    .map((part) => part.trim())
    .join(" ")
    .trim();
  return `movewright: ${words.replace(/^error: /, "")}`;
}

function makeProgram(answer: (outcome: Outcome) => void): Command {
  const program = new Command("movewright")
    .description("Checks and solves camera moves of multi-axis rigs that are written as text. It drives no motor.")
    .version(programVersion(), "-V, --version", "print the version")
    .helpOption("-h, --help", "print this help")
    .helpCommand(false);
  program
    .command("check")
    .description(
      "find what is wrong with documents; exit code 0 without errors, 1 with errors, 2 when it could not run",
    )
    .argument("[paths...]", "documents, or folders to look through (default: this folder)")
    .addOption(formats("text", "json"))
    .option("--strict", "exit code 1 with warnings too")
    .action((paths: string[], options: { format: "text" | "json"; strict?: boolean }) =>
      answer(checkCommand(paths, { ...options, paint: paintFor(process.stdout, process.env) })),
    );
  program
    .command("solve")
    .description("print the axes, the camera and the framing of a move, at every frame and at its end")
    .argument("<move>", "a move document")
    .addOption(
      new Option("--at <time>", "one played time: 2.4, 60f or a timecode label; or the name of a key").conflicts(
        "frames",
      ),
    )
    .option("--frames", "every frame and the end (the default)")
    .option("--pass <name>", "with the target shifts of this pass")
    .addOption(formats("text", "json", "csv"))
    .action((move: string, options: { at?: string; pass?: string; format: Format }) =>
      answer(solveCommand(move, options)),
    );
  program
    .command("retime")
    .description(
      "fit a move's times to the limits of its axes; exit code 0 when done, 1 when errors are left, 2 when it could not run",
    )
    .argument("<move>", "a move document")
    .addOption(
      new Option(
        "--fit <way>",
        "whole: one factor for all times; segments: each way as short as its neighbours let it; fastest: the least time found",
      )
        .choices(FITS)
        .makeOptionMandatory(),
    )
    .option("--write", "change the times in the document, and nothing else of it")
    .addOption(formats("text", "json"))
    .addHelpText("after", RETIME_JSON)
    .action((move: string, options: RetimeOptions) => answer(retimeCommand(move, options)));
  program
    .command("format")
    .description(
      "lay documents out, changing blanks and line ends alone; exit code 0 when done, 1 when one has faults, 2 when one could not be written",
    )
    .argument("[paths...]", "documents, or folders to look through (default: this folder)")
    .option("--check", "write nothing; exit code 1 when a document differs from its layout")
    .option("--no-align-keys", "leave the columns of key tables as they come")
    .addOption(formats("text", "json"))
    .action((paths: string[], options: FormatOptions) => answer(formatCommand(paths, options)));
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
  program
    .command("stage")
    .description(
      "write a move as one page to hand round: the stage, the findings and the texts; exit code 0 without errors, 1 with errors, 2 when it could not run",
    )
    .argument("<move>", "a move document")
    .requiredOption("--out <file>", "the page, FILE.html; one that this command made before is replaced")
    .option("--against <move>", "another move document, drawn behind it with what differs")
    .option("--force", "replace a file that is something else too")
    .action((move: string, options: StageOptions) => answer(stageCommand(move, options)));
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
  program
    .command("serve")
    .description("run the language server for an editor; it ends with its client")
    .option("--stdio", "talk on standard input and output, which carries nothing else")
    .option("--pipe <name>", "talk over a socket file (on Windows a named pipe) at which the client waits")
    .option("--socket <port>", "talk over a port of this machine at which the client waits", onePort)
    .option("--node-ipc", "talk over the channel of the Node program that starts this one")
    .option("--clientProcessId <id>", "end when this process does")
    .action((options: ServeOptions) => answer(serveCommand(options)));
  return program;
}

function onePort(value: string): number {
  const port = Number(value);
  if (Number.isInteger(port) && 1 <= port && port <= 65535) return port;
  throw new InvalidArgumentError("A port is a whole number from 1 to 65535.");
}

function oneAxesList(value: string, previous: string | undefined): string {
  if (previous !== undefined) throw new InvalidArgumentError("Give one list, separated by commas.");
  return value;
}
