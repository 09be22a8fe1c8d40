import { machineName, printed } from "./measure.ts";
import { benchShaping } from "./shaping.ts";

const run = async (): Promise<void> => {
  process.stdout.write(`One core of: ${machineName()}\n\n`);
  for (const figure of await benchShaping()) process.stdout.write(printed(figure));
};
void run();
