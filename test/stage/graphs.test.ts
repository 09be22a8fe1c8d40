import assert from "node:assert/strict";
import { runToEnd } from "../../core/base/task.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import type { Instant } from "../../core/motion/trajectory.ts";
import type { StageGraphs, StagePlot } from "../../protocol/stage.ts";
import { complaintsOf } from "./axe.ts";
import { topToFront } from "./moves.ts";
import type { StageTab } from "./stage-host.ts";
import { takeOf } from "./take-of.ts";
import { useStageHost } from "./use-stage-host.ts";

const DEG = 180 / Math.PI;
const trajectory = runToEnd(planTrajectory(topToFront));
const at = (time: number): Instant => {
  const instant = trajectory.createInstant();
  trajectory.at(time, instant);
  return instant;
};
const axisOf = (name: string): number => topToFront.axes.findIndex((axis) => axis.name === name);
/** The number that a reading begins with. */
const numberOf = (reading: string): number => Number(/^-?[\d.]+/.exec(reading)?.[0]);

describe("the graphs of the stage", function () {
  this.timeout(60_000);
  const host = useStageHost();
  let tab: StageTab;
  const take = takeOf(topToFront);
  const open = async (kept: object): Promise<void> => {
    tab = await host.open({ answer: { take }, kept: { strip: 0.7, ...kept }, webgl: false, width: 900, height: 900 });
  };
  const graphs = async (): Promise<StageGraphs> => {
    await tab.settle();
    const { graphs: shown } = await tab.state();
    assert.ok(shown);
    return shown;
  };
  const readings = (plot: StagePlot | undefined): Record<string, string> => {
    assert.ok(plot);
    return Object.fromEntries(plot.lines.map(({ name, reading }) => [name, reading]));
  };
  const place = async (time: number, plot = 0): Promise<{ x: number; y: number }> => {
    const { window, plots } = await graphs();
    const [left, top, width, height] = plots[plot].rectangle;
    return { x: left + ((time - window[0]) / (window[1] - window[0])) * width, y: top + height / 2 };
  };
  const nearTo = (value: number, expected: number, within: number, what = ""): void =>
    assert.ok(Math.abs(value - expected) <= within, `${what} ${value} is not ${expected}`);

  it("draw several axes at once, never rotary and linear ones on one scale, and read what core computes", async () => {
    await open({ graphs: ["position", "speed", "jerk"], axes: ["dolly", "lift", "pan"] });
    const first = await graphs();
    assert.deepEqual(
      first.plots.map(({ title, unit, lines }) => [title, unit, ...lines.map(({ name }) => name)]),
      [
        ["Position", "m", "dolly"],
        ["Position", "°", "lift", "pan"],
        ["Speed", "m/s", "dolly"],
        ["Speed", "°/s", "lift", "pan"],
        ["Jerk", "m/s³", "dolly"],
        ["Jerk", "°/s³", "lift", "pan"],
      ],
    );
    // Under the pointer, wherever it is; the playhead stands at 0 all the while.
    const { x, y } = await place(3.337, 3);
    await tab.page.mouse.move(Math.round(x), y);
    const read = await graphs();
    nearTo(read.at, 3.337, 0.01);
    const [position, degrees, speed, turning, , jerk] = read.plots.map(readings);
    const instant = at(read.at);
    // Positions are exact between samples, speeds straight between samples 1/60 s apart.
    nearTo(numberOf(position.dolly), instant.value[axisOf("dolly")], 0.0006, "dolly");
    nearTo(numberOf(degrees.lift), instant.value[axisOf("lift")] * DEG, 0.006, "lift");
    nearTo(numberOf(degrees.pan), instant.value[axisOf("pan")] * DEG, 0.006, "pan");
    nearTo(numberOf(speed.dolly), instant.speed[axisOf("dolly")], 0.0006, "dolly's speed");
    nearTo(numberOf(turning.pan), instant.speed[axisOf("pan")] * DEG, 0.02, "pan's speed");
    nearTo(numberOf(jerk.lift), instant.jerk[axisOf("lift")] * DEG, 0.2, "lift's jerk");
    assert.match(turning.pan, /°\/s$/);
    // By the keyboard values are read where the playhead stands.
    await tab.page.mouse.move(10, 10);
    await tab.page.keyboard.press("PageDown");
    await tab.page.keyboard.press(".");
    const stepped = await graphs();
    nearTo(stepped.at, 2.44, 1e-9);
    nearTo(numberOf(readings(stepped.plots[1]).lift), at(2.44).value[axisOf("lift")] * DEG, 0.006);
  });

  it("zoom by the wheel about the pointer, by a span that is marked, by keys, and show all again", async () => {
    await open({ graphs: ["speed"], axes: ["lift"] });
    const { x, y } = await place(3);
    await tab.page.mouse.move(x, y);
    await tab.page.mouse.wheel(0, -300);
    const near = (await graphs()).window;
    // A notch of 100 px shows 1.25 times less: three of them 1.953.
    nearTo(near[1] - near[0], 9 / 1.25 ** 3, 1e-6);
    nearTo((await place(3)).x, x, 1, "the time under the pointer");
    await tab.page.mouse.wheel(120, 0);
    const moved = (await graphs()).window;
    nearTo(moved[1] - moved[0], near[1] - near[0], 1e-9);
    assert.ok(moved[0] > near[0]);
    await tab.page.mouse.dblclick(x, y);
    assert.deepEqual((await graphs()).window, [0, 9]);

    const [from, to] = [await place(2), await place(5)];
    await tab.page.keyboard.down("Shift");
    await tab.page.mouse.move(from.x, from.y);
    await tab.page.mouse.down();
    await tab.page.mouse.move(to.x, to.y, { steps: 4 });
    assert.ok(await tab.page.locator(".marked").first().isVisible());
    await tab.page.mouse.up();
    await tab.page.keyboard.up("Shift");
    const marked = await graphs();
    nearTo(marked.window[0], 2, 0.02);
    nearTo(marked.window[1], 5, 0.02);
    assert.ok(await tab.page.locator(".overview").isVisible());
    assert.match(await tab.page.locator(".window-words").innerText(), /^(2|1\.\d+) s to [45](\.\d+)? s of 9 s$/);

    await tab.page.locator(".stack").focus();
    await tab.page.keyboard.press("ArrowRight");
    const right = (await graphs()).window;
    nearTo(right[0] - marked.window[0], 0.2 * 3, 0.02);
    await tab.page.keyboard.press("+");
    const closer = (await graphs()).window;
    nearTo(closer[1] - closer[0], (right[1] - right[0]) / 1.6, 1e-6);
    // What is kept comes back after a restart of the page.
    await tab.page.waitForTimeout(400);
    assert.deepEqual(((await tab.kept()) as { window: object }).window, { from: closer[0], to: closer[1] });
    await tab.page.keyboard.press("-");
    await tab.page.keyboard.press("0");
    assert.deepEqual((await graphs()).window, [0, 9]);
    assert.ok(!(await tab.page.locator(".overview").isVisible()));
  });

  it("zoom and move under two fingers, and by the bar that shows where one is", async () => {
    await open({ graphs: ["speed"], axes: ["lift"] });
    const { x, y } = await place(4.5);
    const session = await tab.page.context().newCDPSession(tab.page);
    const touch = (type: "touchStart" | "touchMove" | "touchEnd", ...xs: number[]): Promise<unknown> =>
      session.send("Input.dispatchTouchEvent", { type, touchPoints: xs.map((each, id) => ({ x: each, y, id })) });
    await touch("touchStart", x - 50);
    await touch("touchStart", x - 50, x + 50);
    for (const spread of [60, 80, 100]) await touch("touchMove", x - spread, x + spread);
    await touch("touchEnd");
    const { window } = await graphs();
    nearTo(window[1] - window[0], 4.5, 0.1, "twice as far apart shows half as much:");
    nearTo((window[0] + window[1]) / 2, 4.5, 0.1);
    const bar = await tab.page.locator(".overview").boundingBox();
    assert.ok(bar);
    await tab.page.mouse.move(bar.x + bar.width / 2, bar.y + 5);
    await tab.page.mouse.down();
    await tab.page.mouse.move(bar.x + bar.width * 0.6, bar.y + 5, { steps: 3 });
    await tab.page.mouse.up();
    nearTo((await graphs()).window[0] - window[0], 0.9, 0.05);
  });

  it("go to the worst place of what is shown, then to the next", async () => {
    await open({ graphs: ["shares"] });
    // The highest share of any limit, looked for in core at 2,000 instants.
    let worst = { time: 0, share: 0, name: "" };
    for (let i = 0; i <= 2000; i++) {
      const instant = at((9 * i) / 2000);
      topToFront.axes.forEach(({ name, limits }, axis) => {
        const parts = [
          [instant.speed[axis], limits.speed],
          [instant.accel[axis], limits.accel],
          [instant.jerk[axis], limits.jerk],
        ] as const;
        for (const [value, limit] of parts) {
          const share = limit ? Math.abs(value) / limit : 0;
          if (share > worst.share) worst = { time: instant.t, share, name };
        }
      });
    }
    await tab.page.keyboard.press("p");
    const first = await graphs();
    nearTo(first.at, worst.time, 0.02);
    assert.match(first.peak, new RegExp(`^Peak 1 of \\d+: .*, ${worst.name} ${Math.round(worst.share * 100)} %\\.$`));
    await tab.page.click(".graph-tools [aria-label='Next peak']");
    const second = await graphs();
    assert.match(second.peak, /^Peak 2 of/);
    assert.ok(Math.abs(second.at - first.at) > 9 / 200);
    await tab.page.keyboard.press("Shift+P");
    nearTo((await graphs()).at, first.at, 1e-9);
    // Zoomed in elsewhere the window comes along.
    await tab.page.locator(".stack").focus();
    for (const key of ["Home", "+", "+", "+", "+", "P"]) await tab.page.keyboard.press(key);
    const { window, at: peak } = await graphs();
    assert.ok(window[0] <= peak && peak <= window[1] && window[1] - window[0] < 3, JSON.stringify(window));
  });

  it("lead to the text: by a click on a key's line, by Enter and by the other button", async () => {
    await open({ graphs: ["speed"], axes: ["lift"] });
    const key = await place(4.4);
    await tab.page.mouse.click(key.x + 3, key.y);
    assert.deepEqual((await tab.messages()).at(-1), { type: "reveal-key", key: 2 });
    nearTo((await graphs()).at, 4.4, 0.05);
    // Beside it a press only seeks.
    const beside = await place(5.2);
    await tab.page.mouse.click(beside.x, beside.y);
    nearTo((await tab.state()).time, 5.2, 0.02);
    const count = (await tab.messages()).length;
    assert.equal((await tab.messages()).filter(({ type }) => type === "reveal-key").length, 1);
    await tab.page.locator(".stack").focus();
    await tab.page.keyboard.press("Enter");
    assert.deepEqual((await tab.messages()).slice(count), [{ type: "reveal-key", key: 2 }]);
    const late = await place(7.5);
    await tab.page.mouse.click(late.x, late.y, { button: "right" });
    assert.deepEqual((await tab.messages()).at(-1), { type: "reveal-key", key: 3 });
  });

  it("read the framing and the focus as core and the thin lens have them", async () => {
    await open({ graphs: ["framing", "focus"] });
    await tab.send({ type: "playhead", time: 5.5, key: 2 });
    const { plots } = await graphs();
    assert.deepEqual(
      plots.map(({ title }) => title),
      ["Framing, from the left and the top of the captured picture", "Framing error", "Focus, from the sensor plane"],
    );
    const instant = at(5.5);
    const framing = readings(plots[0]);
    nearTo(numberOf(framing["across wanted"]), instant.wanted[0], 6e-5);
    nearTo(numberOf(framing["across reached"]), instant.reached[0], 6e-5);
    nearTo(numberOf(framing["down reached"]), instant.reached[1], 6e-5);
    assert.deepEqual(plots[1].levels, ["allowed 4 px"]);
    nearTo(numberOf(readings(plots[1])["off by"]), 0, 0.01);
    // Thin lens, with c the circle of confusion: H = f²/(N c) + f, near s (H - f)/(H + s - 2f), far s (H - f)/(H - s).
    const { optics } = topToFront;
    const [f, s] = [instant.focal, instant.focus - instant.pupil - optics.flange];
    const hyperfocal = (f * f) / (instant.iris * optics.coc) + f;
    const offset = instant.pupil + optics.flange;
    const focus = readings(plots[2]);
    nearTo(numberOf(focus.focus), instant.focus, 0.006);
    nearTo(numberOf(focus.near), (s * (hyperfocal - f)) / (hyperfocal + s - 2 * f) + offset, 0.006);
    nearTo(numberOf(focus.far), (s * (hyperfocal - f)) / (hyperfocal - s) + offset, 0.006);
    nearTo(numberOf(focus.subject), instant.focus, 0.006, "focus is on the subject");
  });

  it("say aloud what is read while the plots have the focus, and pass axe zoomed in with all graphs", async () => {
    await open({ graphs: ["shares", "position", "framing", "focus"], axes: ["lift"] });
    await tab.page.locator(".stack").focus();
    await tab.page.keyboard.press("PageDown");
    const spoken = tab.page.locator(".unseen[role=status]");
    await spoken
      .filter({ hasText: /01:00:02:10, frame 90060\. .*Position: lift 30\.00 °\./ })
      .waitFor({ state: "attached" });
    await tab.page.keyboard.press("p");
    await spoken.filter({ hasText: /Peak 1 of \d+: / }).waitFor({ state: "attached" });
    await tab.page.keyboard.press("+");
    assert.deepEqual(await complaintsOf(tab.page, "graphs"), []);
    for (const label of await tab.page.locator(".plot").evaluateAll((all) => all.map((one) => one.ariaLabel))) {
      assert.match(label ?? "", /over the move/);
    }
  });
});
