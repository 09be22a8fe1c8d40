import { benchPairs } from "./clearance.ts";
import { benchKeystroke, benchOpening } from "./keystroke.ts";
import { benchKdl } from "./kdl.ts";
import { benchAim, benchRig } from "./kinematics.ts";
import { machineName, printed, type Figure } from "./measure.ts";
import { benchChecks, benchSamples, benchWorkspace } from "./moves.ts";
import { benchForwardOf, benchKit, benchRandomRigs, benchReach, COMPARED } from "./reach.ts";
import { benchFastest, benchStretch } from "./retiming.ts";

const rig = benchRig();
const work: readonly (() => Figure | Figure[] | string)[] = [
  ...COMPARED.map((one) => () => benchForwardOf(one)),
  () => benchAim(rig),
  ...COMPARED.flatMap((one) => [() => benchReach(one, "cold"), () => benchReach(one, "warm")]),
  () => benchKit(),
  () => benchRandomRigs(),
  () => benchKdl(),
  () => benchSamples("open"),
  () => benchSamples("full"),
  () => benchChecks("open"),
  () => benchChecks("full"),
  () => benchPairs(),
  () => benchKeystroke("bare", 20, "16"),
  () => benchKeystroke("bare", 200, "40"),
  () => benchKeystroke("bare", 1000, "100"),
  () => benchKeystroke("full", 20, "16"),
  () => benchKeystroke("full", 200, "40"),
  () => benchKeystroke("full", 1000, "100"),
  () => benchOpening(200),
  () => benchWorkspace(),
  () => benchStretch(),
  () => benchFastest(),
];

const machine = machineName();
process.stdout.write(`One core of: ${machine}\n\n`);
const figures: Figure[] = [];
for (const measure of work) {
  const result = measure();
  if (typeof result === "string") process.stdout.write(`${result}\n`);
  else
    for (const figure of [result].flat()) {
      figures.push(figure);
      process.stdout.write(printed(figure));
    }
}
process.stdout.write(`\n${JSON.stringify({ machine, figures })}\n`);
