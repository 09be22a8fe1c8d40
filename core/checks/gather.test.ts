import assert from "node:assert/strict";
import type { Finding } from "./finding.ts";
import { gatherFindings, MOST_SPANS } from "./gather.ts";

const finding = (from: number, measured: number, key = "key 2"): Finding => ({
  code: "axis-jerk",
  severity: "error",
  origin: 7,
  related: [],
  key,
  axis: "pan",
  time: { from, to: from + 1 },
  peak: from,
  measured,
  limit: 10,
  evidence: "exact",
  facts: {},
});

describe("findings of one segment", () => {
  it("are told one by one while they are few, and those of other segments beside them", () => {
    const few = Array.from({ length: MOST_SPANS }, (_, i) => finding(i, 11 + i));
    assert.deepEqual(gatherFindings([...few, finding(50, 12, "key 3")]), [...few, finding(50, 12, "key 3")]);
  });

  it("become the worst one, over the time of all, when they are many", () => {
    const many = Array.from({ length: 100 }, (_, i) => finding(i, i === 40 ? 99 : 11));
    const [one, ...rest] = gatherFindings(many);
    assert.equal(rest.length, 0);
    assert.deepEqual([one.measured, one.peak, one.time, one.facts.spans], [99, 40, { from: 0, to: 100 }, 100]);
  });
});
