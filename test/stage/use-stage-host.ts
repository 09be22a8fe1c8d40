import assert from "node:assert/strict";
import { startStageHost, type StageHost, type StageTab } from "./stage-host.ts";

/**
 * One browser for the tests of the `describe` that it is called in. Each page that a test opened is closed behind it, and must
 * have had nothing to complain of.
 */
export function useStageHost(): Pick<StageHost, "open"> {
  let host: StageHost;
  const tabs: StageTab[] = [];
  before(async () => {
    host = await startStageHost();
  });
  after(() => host.close());
  afterEach(async () => {
    const opened = tabs.splice(0);
    const complaints = opened.flatMap((tab) => tab.complaints);
    for (const tab of opened) await tab.close();
    assert.deepEqual(complaints, []);
  });
  return {
    async open(options) {
      const tab = await host.open(options);
      tabs.push(tab);
      return tab;
    },
  };
}
