import assert from "node:assert/strict";
import { MOVE } from "../support/shipped-program.ts";
import { startAloneHost, type AloneHost } from "./alone-host.ts";

/** The kit's move, and itself before its slide began 0.1 m farther to the left. */
const BEFORE = MOVE.replace("slide: -0.2", "slide: -0.3");

describe("a page that stands alone with what is compared", function () {
  this.timeout(120_000);
  let host: AloneHost;
  before(async () => {
    host = await startAloneHost();
  });
  after(() => host.close());

  it("opens from the disk with the ghost, what differs, and nothing that needs an editor", async () => {
    const { path } = await host.make({ "now.move.yaml": MOVE, "before.move.yaml": BEFORE }, "before.move.yaml");
    const tab = await host.open(path, { webgl: true });
    const { ghost, time } = await tab.until(({ ghost, pictures }) => ghost !== undefined && pictures > 0);
    assert.equal(time, 0);
    assert.equal(ghost?.label, "before.move.yaml");
    // The slide is the rig's first link, goes along y and begins 0.1 m apart.
    assert.ok(Math.abs((ghost?.links[1] ?? 0) + 0.3) < 1e-6, String(ghost?.links));
    assert.match(ghost?.words ?? "", /Pupil \d+\.\d mm/);
    await tab.page.locator(".ghost-value .link").first().click();
    assert.equal((await tab.state()).time, 0, "they differ most at the beginning");
    for (const name of ["Compare", "Stop comparing"]) {
      assert.equal(await tab.page.getByText(name, { exact: true }).first().isVisible(), false, name);
    }
    assert.equal(await tab.page.getByLabel("Stop comparing").isVisible(), false);
    assert.deepEqual(tab.complaints, []);
    await tab.close();
  });
});
