// A mocha reporter: prints failures in full, and writes the counts that the whole test run adds up.
import Mocha from "mocha";
import { writeFileSync } from "node:fs";

const { Base } = Mocha.reporters;
const { EVENT_RUN_END, EVENT_TEST_FAIL, EVENT_TEST_PASS } = Mocha.Runner.constants;

/** Reads `output`, the file for the counts, from mocha's reporter options. */
export default class CountReporter extends Base {
  constructor(runner, options) {
    super(runner, options);
    const output = options.reporterOption?.output ?? options.reporterOptions?.output;
    const slowest = [];
    runner.on(EVENT_TEST_PASS, (test) => slowest.push({ title: test.fullTitle(), ms: test.duration }));
    runner.on(EVENT_TEST_FAIL, (test) => process.stderr.write(`    failed: ${test.fullTitle()}\n`));
    runner.once(EVENT_RUN_END, () => {
      const { passes, failures, pending } = this.stats;
      slowest.sort((a, b) => b.ms - a.ms);
      if (output)
        writeFileSync(
          output,
          JSON.stringify({ passed: passes, failed: failures, pending, slowest: slowest.slice(0, 3) }),
        );
      if (failures > 0) Base.list(this.failures);
    });
  }
}
