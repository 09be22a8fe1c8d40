import assert from "node:assert/strict";
import { Vector3 } from "three";
import { runToEnd } from "../../core/base/task.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import type { StagePicturedOverlays } from "../../protocol/stage-overlays.ts";
import type { StageState } from "../../protocol/stage.ts";
import { DEG } from "../support/rigs.ts";
import { linkPlaces, pixelsOf, stageCamera } from "./independent.ts";
import { topToFront } from "./moves.ts";
import { changedPixels, photograph } from "./screen.ts";
import type { StageTab } from "./stage-host.ts";
import { takeOf } from "./take-of.ts";
import { useStageHost } from "./use-stage-host.ts";

/** The boom with ranges of every kind: half turns, more than a turn, none, of a follower and of what is set up. */
const RANGES: Readonly<Record<string, readonly [number, number] | undefined>> = {
  dolly: [-1, 3.4],
  swing: [-90 * DEG, 90 * DEG],
  lift: [-70 * DEG, 100 * DEG],
  pan: [-400 * DEG, 400 * DEG],
  tilt: undefined,
};
const move: ResolvedMove = ((): ResolvedMove => {
  const ranged = <T extends { readonly name: string }>(one: T): T =>
    one.name in RANGES
      ? { ...one, range: RANGES[one.name] && { low: RANGES[one.name]![0], high: RANGES[one.name]![1] } }
      : one;
  const rig = { ...topToFront.rig, joints: topToFront.rig.joints.map(ranged) };
  return { ...topToFront, rig, axes: topToFront.axes.map(ranged) };
})();

/** Where a point `at` of a link is in the set with the axis that carries it at `value`: three multiplies it. */
function pointOfLink(values: Float64Array, axis: number, value: number, at: Vector3): Vector3 {
  const { joint } = move.axes[axis];
  const moved = Float64Array.from(values);
  moved[axis] = value;
  const joints = move.rig.joints.slice(0, joint + 1);
  const marker = { ...joints[joint], name: "marker", type: "fixed" as const, role: "none" as const, origin: { at: at.toArray() as [number, number, number], turn: [0, 0, 0, 1] as const } }; // prettier-ignore
  const places = linkPlaces({ ...move, rig: { ...move.rig, joints: [...joints, marker] } }, moved);
  return places[joint + 1];
}

describe("ranges of axes", function () {
  this.timeout(120_000);
  const host = useStageHost();
  let tab: StageTab;
  const trajectory = runToEnd(planTrajectory(move));
  const instant = trajectory.createInstant();

  beforeEach(async () => {
    tab = await host.open({ answer: { take: takeOf(move) }, width: 900, height: 800 });
  });

  const goTo = async (time: number): Promise<StageState> => {
    await tab.send({ type: "playhead", time, key: -1 });
    await tab.settle();
    return tab.state();
  };
  const overlaysOf = ({ picture }: StageState): StagePicturedOverlays => picture?.stage?.overlays ?? {};

  it("end where the links point at the ends of their travel, and tick where they point now", async () => {
    for (const t of [0.7, 2.9, 6.1]) {
      const state = await goTo(t);
      trajectory.at(t, instant);
      const { ranges } = overlaysOf(state);
      const stage = state.picture?.stage;
      assert.ok(ranges && stage);
      const camera = stageCamera(stage);
      const [, , width, height] = stage.rectangle;
      let checked = 0;
      for (const [name, range] of Object.entries(RANGES)) {
        if (!range) continue;
        const axis = move.axes.findIndex((one) => one.name === name);
        const joint = move.axes[axis].joint;
        const along = new Vector3(...move.rig.joints[joint].along);
        const next = new Vector3(...(move.rig.joints[joint + 1]?.origin.at ?? move.rig.mount.at));
        const zero = next.clone().addScaledVector(along, -next.dot(along));
        if (zero.length() < 0.02) zero.set(1, 0, 0);
        zero.normalize();
        const drawn = (k: number): [number, number] => [ranges[8 * axis + 2 * k], ranges[8 * axis + 2 * k + 1]];
        const isNear = (k: number, place: Vector3, what: string): void => {
          const wanted = pixelsOf(camera, place, width, height);
          const [x, y] = drawn(k);
          assert.ok(wanted && Math.hypot(x - wanted[0], y - wanted[1]) < 1, `${what} of ${name} at ${t} s: ${x} ${y}, three says ${String(wanted)}`); // prettier-ignore
          checked += 1;
        };
        const value = instant.value[axis];
        if (move.axes[axis].type === "linear") {
          const origin = new Vector3();
          [range[0], range[1], value].forEach((at, k) => isNear(k + 1, pointOfLink(instant.value, axis, at, origin), "a place")); // prettier-ignore
          continue;
        }
        // The radius is the drawing's own: it is taken from the tick, along the ray from the joint through where the link points.
        const middle = pointOfLink(instant.value, axis, value, new Vector3());
        isNear(0, middle, "the middle");
        const radii = [0.05, 0.6].map((radius) => pixelsOf(camera, pointOfLink(instant.value, axis, value, zero.clone().multiplyScalar(radius)), width, height)!); // prettier-ignore
        const [x, y] = drawn(3);
        const ray = [radii[1][0] - radii[0][0], radii[1][1] - radii[0][1]];
        const off = Math.abs((x - radii[0][0]) * ray[1] - (y - radii[0][1]) * ray[0]) / Math.hypot(...ray);
        assert.ok(off < 1, `the tick of ${name} at ${t} s is ${off} px off the link's direction`);
        for (const end of [0, 1]) {
          const [ex, ey] = drawn(end + 1);
          const along = [0.05, 0.6].map((radius) => pixelsOf(camera, pointOfLink(instant.value, axis, range[end], zero.clone().multiplyScalar(radius)), width, height)!); // prettier-ignore
          const way = [along[1][0] - along[0][0], along[1][1] - along[0][1]];
          const miss = Math.abs((ex - along[0][0]) * way[1] - (ey - along[0][1]) * way[0]) / Math.hypot(...way);
          assert.ok(miss < 1, `end ${end} of ${name} at ${t} s is ${miss} px off where the link would point`);
          checked += 1;
        }
      }
      assert.ok(checked >= 12, `${checked} places were checked`);
    }
  });

  it("of more than a turn have their ends apart", async () => {
    const { ranges } = overlaysOf(await goTo(1));
    const pan = move.axes.findIndex(({ name }) => name === "pan");
    const [low, high] = [1, 2].map((k) => [ranges![8 * pan + 2 * k], ranges![8 * pan + 2 * k + 1]]);
    assert.ok(Math.hypot(low[0] - high[0], low[1] - high[1]) > 3);
  });

  it("say the ends and the value of the axis that a mouse points at", async () => {
    const state = await goTo(1);
    const lift = move.axes.findIndex(({ name }) => name === "lift");
    const [left, top] = state.picture?.stage?.rectangle ?? [];
    const { ranges } = overlaysOf(state);
    await tab.page.mouse.move(left + ranges![8 * lift + 6], top + ranges![8 * lift + 7]);
    await tab.settle();
    trajectory.at(1, instant);
    const text = await tab.page.locator(".labels .range-pointed:not([hidden])").textContent();
    assert.equal(text, `lift ${(instant.value[lift] / DEG).toFixed(1)}°, range -70° to 100°`);
    await tab.page.mouse.move(left + 5, top + 5);
    await tab.settle();
    assert.equal(await tab.page.locator(".labels .range-pointed:not([hidden])").count(), 0);
  });

  it("have the one nearest to a limit named at every moment, by an independent look at the motion", async () => {
    const named = new Set<string>();
    for (let t = 0; t <= trajectory.duration; t += trajectory.duration / 12) {
      const { nearest, ranges } = overlaysOf(await goTo(t));
      trajectory.at(t, instant);
      const shares = move.axes.flatMap(({ name, role, range, limits }, axis) => [
        ...(range && role !== "setup"
          ? [[`${name} range`, Math.abs((2 * instant.value[axis] - range.low - range.high) / (range.high - range.low)), axis] as const] // prettier-ignore
          : []),
        ...(["speed", "accel", "jerk"] as const).flatMap((order, k) => {
          const limit = limits[order];
          return limit === undefined ? [] : [[`${name} ${["speed", "acceleration", "jerk"][k]}`, Math.abs(instant[order][axis]) / limit, axis] as const]; // prettier-ignore
        }),
      ]);
      const [, words, percent] = /^(\S+ \S+) (?:over )?(\d+) %$/.exec(nearest?.words ?? "") ?? [];
      const told = shares.find(([what]) => what === words);
      assert.ok(told, `${nearest?.words} at ${t} s`);
      const most = Math.max(...shares.map(([, share]) => share));
      // Half a percent of rounding, and what another one may be nearer by; jerk steps at keys.
      assert.ok(Number(percent) / 100 > most - 0.021, `${nearest?.words} at ${t} s, most is ${most}`);
      assert.ok(Math.abs(told[1] - Number(percent) / 100) < 0.02, `${nearest?.words} at ${t} s is ${told[1]}`);
      const at = [ranges![8 * told[2]], ranges![8 * told[2] + 1]];
      assert.ok(Math.hypot(nearest!.at[0] - at[0], nearest!.at[1] - at[1]) < 1e-3, "the ring is at its joint");
      named.add(words);
    }
    assert.ok(named.size >= 3, [...named].join());
  });

  it("go away with their entry of the menu, and so does the axis nearest its limit", async () => {
    const state = await goTo(4.5);
    const [left, top, width, height] = state.picture?.stage?.rectangle ?? [];
    const { nearest } = overlaysOf(state);
    assert.ok(nearest);
    const shown = await photograph(tab.page, process.env.STAGE_PICTURE);
    await tab.page.locator("summary", { hasText: "Show" }).click();
    for (const name of ["Ranges of the axes", "Axis nearest its limit"])
      await tab.page.getByRole("checkbox", { name }).click();
    await tab.page.keyboard.press("Escape");
    await tab.settle();
    const hidden = await tab.state();
    assert.deepEqual(overlaysOf(hidden), {});
    assert.ok(changedPixels(shown, await photograph(tab.page), [left, top, width, height]) > 300);
    assert.ok((state.picture?.calls ?? 99) - (hidden.picture?.calls ?? 0) <= 2);
  });
});
