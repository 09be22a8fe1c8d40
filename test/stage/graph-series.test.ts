import assert from "node:assert/strict";
import { runToEnd } from "../../core/base/task.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import type { StageGraphs, StagePlot } from "../../protocol/stage.ts";
import type { SeriesName, StageSeries } from "../../protocol/stage-series.ts";
import { stageSeries } from "../../server/service/stage/stage-series.ts";
import { topToFront } from "./moves.ts";
import type { StageTab } from "./stage-host.ts";
import { takeOf } from "./take-of.ts";
import { useStageHost } from "./use-stage-host.ts";

const move: ResolvedMove = {
  ...topToFront,
  passes: [
    { name: "hero", times: 1, targets: {}, origin: 0, timesOrigin: 0 },
    { name: "smoke", times: 3, targets: {}, origin: 0, timesOrigin: 0 },
  ],
  axes: topToFront.axes.map((axis) =>
    axis.name === "pan" ? { ...axis, repeat: { sigma: 2e-4, slip: 1e-4, backlash: 0, origin: 0 } } : axis,
  ),
};
const seriesOf = (name: SeriesName, of: ResolvedMove = move): StageSeries => {
  const trajectory = runToEnd(planTrajectory(of));
  const solved = { move: of, trajectory, origins: { place: () => undefined }, findings: [], stale: false };
  return runToEnd(stageSeries("file:///pottery/test.move.yaml", 1, solved, name));
};

describe("the graphs that are computed on demand, and those of another move", function () {
  this.timeout(60_000);
  const host = useStageHost();
  let tab: StageTab;
  const take = takeOf(move);
  const plots = async (): Promise<readonly StagePlot[]> => {
    await tab.settle();
    const { graphs } = await tab.state();
    assert.ok(graphs);
    return (graphs satisfies StageGraphs).plots;
  };
  const wished = async (): Promise<readonly string[]> =>
    (await tab.messages()).flatMap((message) => (message.type === "series" ? [message.name] : []));
  const options = { webgl: false, width: 900, height: 900 };

  it("are asked for when they are shown, and drawn with what the move asks for as a level", async () => {
    tab = await host.open({ ...options, answer: { take }, kept: { graphs: ["shares"], strip: 0.7 } });
    await tab.page.waitForTimeout(400);
    assert.deepEqual(await wished(), []);
    for (const graph of ["Clearance", "Passes", "Shares"]) {
      await tab.page.locator(".which").getByText(graph, { exact: true }).click();
    }
    assert.deepEqual(
      (await plots()).map(({ note }) => note),
      ["Being computed …", "Being computed …"],
    );
    await tab.page.waitForTimeout(400);
    assert.deepEqual([...(await wished())].sort(), ["clearance", "passes"]);
    const clearance = seriesOf("clearance");
    assert.ok("lines" in clearance);
    // Of another version: not of what is shown.
    await tab.send({ type: "series", series: { ...clearance, version: 7 } });
    assert.equal((await plots())[0].note, "Being computed …");
    for (const series of [clearance, seriesOf("passes")]) await tab.send({ type: "series", series });
    const [near, passes] = await plots();
    assert.deepEqual(
      near.lines.map(({ name }) => name),
      clearance.lines.map(({ name }) => name),
    );
    assert.deepEqual(near.levels, ["least 60 mm", "least 10 mm"].slice(0, new Set(clearance.lines.map(({ limit }) => limit)).size)); // prettier-ignore
    // What is far off would make what is near unreadable: the scale ends, and says so.
    assert.equal(near.title, "Clearance, drawn up to 400 mm");
    assert.ok(near.scale[1] < 0.5, `${near.scale[1]}`);
    const set = near.lines.find(({ name }) => name === "set");
    assert.match(set?.reading ?? "", /^\d.* m?m \(.+ to .+\)$/);
    assert.deepEqual(
      passes.lines.map(({ name }) => name),
      ["smoke, pass 4"],
    );
    assert.deepEqual(passes.levels, ["allowed 1.50 px"]);
    // The worst place of clearance is the lowest of all lines against its limit, told with what is near what.
    await tab.page.locator(".which").getByText("Passes", { exact: true }).click();
    await tab.page.keyboard.press("p");
    await tab.settle();
    const { graphs, time } = await tab.state();
    assert.match(graphs?.peak ?? "", /^Peak 1 of \d+: Clearance, .* m?m, .* to .*\.$/);
    assert.ok(time >= 0);
    // A take that changed is asked for again, and what was stays until it is here.
    await tab.send({ type: "take", answer: { take: { ...take, version: 2 } } });
    assert.ok((await plots())[0].lines.length > 0);
    await tab.page.waitForTimeout(400);
    assert.equal((await wished()).length, 3);
  });

  it("say in a sentence why there is nothing to draw", async () => {
    tab = await host.open({ ...options, answer: { take }, kept: { graphs: ["passes", "focus"], strip: 0.7 } });
    await tab.send({ type: "series", series: seriesOf("passes", topToFront) });
    const [focus, passes] = await plots();
    assert.equal(passes.note, "The move is taken once: there is no second pass that could differ.");
    assert.equal(focus.note, undefined);
    assert.equal(await tab.page.locator(".curve .none").innerText(), passes.note);
  });

  it("draw the lines of a move that is compared with beside each line, and leave out what it does not have", async () => {
    const keys = move.keys.map((key, i) =>
      i === 2 ? { ...key, axes: key.axes.map((one) => (one.axis === 3 ? { ...one, value: 0.05 } : one)) } : key,
    );
    const other = { ...move, keys };
    tab = await host.open({ ...options, answer: { take }, kept: { graphs: ["position"], axes: ["lift"], strip: 0.7 } });
    await tab.send({ type: "ghost", ghost: { label: "other", take: takeOf(other), notes: [] } });
    await tab.send({ type: "playhead", time: 4.4, key: 2 });
    const [{ lines }] = await plots();
    assert.deepEqual(
      lines.map(({ name }) => name),
      ["lift", "lift, compared"],
    );
    const lift = (of: ResolvedMove): string => {
      const trajectory = runToEnd(planTrajectory(of));
      const instant = trajectory.createInstant();
      trajectory.at(4.4, instant);
      return `${((instant.value[3] * 180) / Math.PI).toFixed(2)} °`;
    };
    assert.deepEqual(
      lines.map(({ reading }) => reading),
      [lift(move), lift(other)],
    );
    await tab.send({ type: "ghost", ghost: null });
    assert.equal((await plots())[0].lines.length, 1);
  });
});
