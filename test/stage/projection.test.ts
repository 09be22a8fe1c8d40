import assert from "node:assert/strict";
import { readdirSync } from "node:fs";
import path from "node:path";
import { Vector3 } from "three";
import { runToEnd } from "../../core/base/task.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import { demoMove } from "./demo-move.ts";
import { inCamera, linkPlaces, pixelsOf, plainLensCamera, stageCamera } from "./independent.ts";
import { slideBy, topToFront } from "./moves.ts";
import { openCvLens, type OpenCvLens } from "./opencv-lens.ts";
import { startStageHost, type StageHost } from "./stage-host.ts";
import { takeOf } from "./take-of.ts";

const MOVES = path.resolve(import.meta.dirname, "../../examples/moves");
const INSTANTS = 20;
/** What the drawing may differ from the independent projection [CSS px]. */
const ALLOWED = 1;

const demos = readdirSync(MOVES).filter((name) => name.endsWith(".move.yaml"));
const moves: [string, () => ResolvedMove][] = [
  ["a boom with a plain lens", () => topToFront],
  ["a slider with a lens distorted, squeezed and off centre", () => slideBy],
  ...demos.map((name): [string, () => ResolvedMove] => [name, () => demoMove(path.join(MOVES, name))]),
];

describe("what the stage draws is where an independent projection puts it", function () {
  this.timeout(300_000);
  let host: StageHost;

  before(async () => {
    assert.ok(demos.length >= 5, `the demo has ${demos.length} moves`);
    host = await startStageHost();
  });
  after(() => host.close());

  for (const [name, make] of moves) {
    it(`at ${INSTANTS} instants of ${name}`, async () => {
      const move = make();
      const trajectory = runToEnd(planTrajectory(move));
      const instant = trajectory.createInstant();
      const distorted = move.optics.distortion ? await openCvLens(move.optics) : undefined;
      const tab = await host.open({ answer: { take: takeOf(move) }, width: 760, height: 720 });
      const checked = { links: 0, targets: 0, aimed: 0 };
      for (let i = 0; i < INSTANTS; i++) {
        // Neither at samples nor at frames: what lies between is drawn too.
        const t = trajectory.duration * Math.min((i + 0.37) / (INSTANTS - 0.63), 1);
        trajectory.at(t, instant);
        await tab.page.keyboard.press(String(1 + (i % 4)));
        await tab.send({ type: "playhead", time: t, key: -1 });
        await tab.settle();
        const { picture } = await tab.state();
        assert.ok(picture?.stage && picture.lens, "the stage reports both pictures");
        assert.ok(Math.abs(picture.time - t) < 1e-9);
        checked.links += checkLinks(move, instant.value, picture.stage, `${name} at ${t} s`);
        const seen = checkTargets(move, instant, picture.lens, distorted, `${name} at ${t} s`);
        checked.targets += seen.targets;
        checked.aimed += seen.aimed;
      }
      assert.ok(checked.links >= INSTANTS * move.rig.joints.length * 0.9, `${checked.links} links were checked`);
      assert.ok(checked.targets >= INSTANTS, `${checked.targets} targets were checked`);
      assert.ok(checked.aimed >= INSTANTS * 0.9, `${checked.aimed} wanted framings were checked`);
      assert.deepEqual(tab.complaints, []);
      distorted?.close();
      await tab.close();
    });
  }
});

type Picture = NonNullable<Awaited<ReturnType<Awaited<ReturnType<StageHost["open"]>>["state"]>>["picture"]>;

function checkLinks(
  move: ResolvedMove,
  values: Float64Array,
  stage: NonNullable<Picture["stage"]>,
  where: string,
): number {
  const camera = stageCamera(stage);
  const [, , width, height] = stage.rectangle;
  let checked = 0;
  linkPlaces(move, values).forEach((place, link) => {
    const expected = pixelsOf(camera, place, width, height);
    const drawn = stage.links.slice(2 * link, 2 * link + 2);
    if (expected === null) return;
    const off = Math.hypot(expected[0] - drawn[0], expected[1] - drawn[1]);
    assert.ok(off < ALLOWED, `${where}: link ${move.rig.joints[link].name} is ${off} px off`);
    checked += 1;
  });
  return checked;
}

function checkTargets(
  move: ResolvedMove,
  instant: ReturnType<
    ReturnType<
      typeof runToEnd<ReturnType<typeof planTrajectory> extends Generator<void, infer T> ? T : never>
    >["createInstant"]
  >,
  lens: NonNullable<Picture["lens"]>,
  distorted: OpenCvLens | undefined,
  where: string,
): { targets: number; aimed: number } {
  const [, , width, height] = lens.rectangle;
  const camera = plainLensCamera(move.optics, instant);
  let targets = 0;
  move.targets.forEach((target, k) => {
    const place = new Vector3(...instant.targets.subarray(3 * k, 3 * k + 3));
    const from = inCamera(instant, place);
    if (from.x <= 0) {
      assert.equal(lens.targets[k], null, `${where}: ${target.name} is behind the camera`);
      return;
    }
    const share = distorted?.see(-from.y / from.x, -from.z / from.x, instant.focal);
    if (distorted && !share) return;
    const expected = share ? [share[0] * width, share[1] * height] : pixelsOf(camera, place, width, height);
    const drawn = lens.targets[k];
    assert.ok(expected && drawn, `${where}: ${target.name} is drawn`);
    const off = Math.hypot(expected[0] - drawn[0], expected[1] - drawn[1]);
    // Far out of the frame a px is a thousandth of a degree: judged by what the frame shows.
    const outside = Math.max(Math.abs(expected[0] / width - 0.5), Math.abs(expected[1] / height - 0.5), 0.5) * 2;
    assert.ok(off < ALLOWED * outside, `${where}: ${target.name} is ${off} px off`);
    targets += 1;
  });
  if (Number.isNaN(instant.wanted[0])) return { targets, aimed: 0 };
  assert.ok(lens.wanted, `${where}: the wanted framing is drawn`);
  const off = Math.hypot(lens.wanted[0] - instant.wanted[0] * width, lens.wanted[1] - instant.wanted[1] * height);
  assert.ok(off < ALLOWED, `${where}: the wanted framing is ${off} px off`);
  return { targets, aimed: 1 };
}
