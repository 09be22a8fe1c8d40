import assert from "node:assert/strict";
import { gzipSync } from "node:zlib";
import { finding, moveDocument, report } from "../../test/fixtures/check-report.ts";
import { renderSarif } from "../../core/exchange/sarif.ts";
import { fittingSarif } from "./fit-sarif.ts";

describe("a log of SARIF that fits", () => {
  const many = Array.from({ length: 400 }, (_, i) =>
    finding({ element: `keys[${i}]`, message: `${i * 7919}`.repeat(9) }),
  );
  const told = report([moveDocument([...many.map((one) => ({ ...one, severity: "warning" as const })), finding()])]);

  it("is whole where there is room", () => {
    assert.equal(fittingSarif(told, undefined), renderSarif(told));
  });

  it("keeps the worst where there is not, and says how many are left out", () => {
    const room = 12_000;
    assert.ok(gzipSync(renderSarif(told)).length > room);
    const text = fittingSarif(told, undefined, room);
    assert.ok(gzipSync(text).length <= room);
    const [{ results, invocations }] = (
      JSON.parse(text) as {
        runs: {
          results: { level: string }[];
          invocations: { toolExecutionNotifications: { message: { text: string } }[] }[];
        }[];
      }
    ).runs;
    assert.ok(results.length > 10);
    assert.equal(results[0].level, "error");
    const left = Number(/^(\d+) more results/.exec(invocations[0].toolExecutionNotifications[0].message.text)?.[1]);
    assert.equal(results.length + left, 401);
  });
});
