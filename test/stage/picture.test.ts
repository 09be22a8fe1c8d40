import assert from "node:assert/strict";
import { PerspectiveCamera, Vector3 } from "three";
import { runToEnd } from "../../core/base/task.ts";
import type { Vec3 } from "../../core/base/vec3.ts";
import { outsideEye } from "../../core/draw/outside-eye.ts";
import { drawPicture, type PictureView } from "../../core/draw/picture.ts";
import { fromEye, inPlane } from "../../core/draw/eye.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import type { Body } from "../../core/rig/resolved-rig.ts";
import { inCamera } from "./independent.ts";
import { slideBy, topToFront } from "./moves.ts";
import { openCvLens } from "./opencv-lens.ts";

/** Side of a body that is as good as a point [m]. */
const SPECK = 0.002;

const speck = (at: Vec3): Body => ({
  name: "speck",
  link: -1,
  pose: { at, turn: [0, 0, 0, 1] },
  solid: { shape: "box", size: [SPECK, SPECK, SPECK] },
  origin: 0,
});

const draw = (move: ResolvedMove, view: PictureView, t: number): string =>
  runToEnd(drawPicture(runToEnd(planTrajectory(move)), view, t));

/** Middles of the outlines of a kind of body, in the order of their x and then y [px]. */
function middles(svg: string, part: string): [number, number][] {
  return [...svg.matchAll(new RegExp(`<g class="body ${part}"><path d="([^"]*)"`, "g"))].map(([, d]) => {
    const points = d.match(/-?[\d.]+ -?[\d.]+/g)?.map((pair) => pair.split(" ").map(Number)) ?? [];
    return [0, 1].map((k) => {
      const values = points.map((point) => point[k]);
      return (Math.min(...values) + Math.max(...values)) / 2;
    }) as [number, number];
  });
}

const nearest = (places: readonly (readonly number[])[], x: number, y: number): number =>
  Math.min(...places.map((place) => Math.hypot(place[0] - x, place[1] - y)));

/** The frame of a lens picture [px]: left, top, width, height. */
const frameOf = (svg: string): number[] => {
  const found = /class="line frame" x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)"/.exec(svg);
  assert.ok(found);
  return found.slice(1).map(Number);
};

describe("pictures without a browser", function () {
  this.timeout(60_000);

  it("show through a distorted, squeezed lens off its centre what OpenCV sees", async () => {
    const trajectory = runToEnd(planTrajectory(slideBy));
    const instant = trajectory.createInstant();
    trajectory.at(1.3, instant);
    const lens = await openCvLens(slideBy.optics);
    const places: { at: Vec3; framing: readonly [number, number] }[] = [];
    // Directions all over the frame, each at another depth.
    for (const [i, x] of [-0.9, -0.55, -0.2, 0.2, 0.55, 0.9].entries()) {
      for (const [j, y] of [-0.4, -0.2, 0, 0.2, 0.4].entries()) {
        const seen = lens.see(x, y, instant.focal);
        if (!seen) continue;
        const depth = 0.8 + 0.1 * i + 0.07 * j;
        const own = new Vector3(depth, -x * depth, -y * depth);
        const [qx, qy, qz, qw] = instant.rotation;
        own.applyQuaternion({ x: qx, y: qy, z: qz, w: qw } as never).add(new Vector3().fromArray(instant.position));
        const back = inCamera(instant, own);
        assert.ok(Math.abs(back.x - depth) < 1e-9);
        places.push({ at: [own.x, own.y, own.z], framing: seen });
      }
    }
    lens.close();
    assert.ok(places.length >= 12, `${places.length} places are in the frame`);
    const obstacles = places.map(({ at }) => speck(at));
    const svg = draw({ ...slideBy, obstacles, people: [] }, "lens", 1.3);
    const [left, top, width, height] = frameOf(svg);
    // The captured picture with its squeeze undone: 36 mm by 1.33 on 20.25 mm, unless the test's lens is another one.
    const { sensor, squeeze } = slideBy.optics;
    assert.ok(Math.abs(width / height - (sensor[0] * squeeze) / sensor[1]) < 0.01);
    const found = middles(svg, "obstacle");
    assert.equal(found.length, places.length);
    for (const { framing } of places) {
      const off = nearest(found, left + framing[0] * width, top + framing[1] * height);
      assert.ok(off < 0.35, `${framing.join(", ")} is ${off} px off`);
    }
  });

  it("mark targets and the framing that is asked for where OpenCV sees them", async () => {
    const trajectory = runToEnd(planTrajectory(slideBy));
    const instant = trajectory.createInstant();
    trajectory.at(2, instant);
    const lens = await openCvLens(slideBy.optics);
    const svg = draw(slideBy, "lens", 2);
    const [left, top, width, height] = frameOf(svg);
    let looked = 0;
    slideBy.targets.forEach(({ name }, k) => {
      const own = inCamera(instant, new Vector3().fromArray(instant.targets, 3 * k));
      const seen = own.x > 0 ? lens.see(-own.y / own.x, -own.z / own.x, instant.focal) : null;
      const drawn = new RegExp(`data-name="${name}" transform="translate\\(([\\d.]+) ([\\d.]+)\\)"`).exec(svg);
      if (!seen) return;
      assert.ok(drawn, `${name} is not drawn`);
      const off = Math.hypot(Number(drawn[1]) - left - seen[0] * width, Number(drawn[2]) - top - seen[1] * height);
      assert.ok(off < 0.2, `${name} is ${off} px off`);
      looked += 1;
    });
    lens.close();
    assert.ok(looked > 0);
    // At the key the framing asked for is reached: 0.6, 0.45.
    const wanted = /class="line wanted" transform="translate\(([\d.]+) ([\d.]+)\)"/.exec(svg);
    assert.ok(wanted);
    assert.ok(Math.hypot(Number(wanted[1]) - left - 0.6 * width, Number(wanted[2]) - top - 0.45 * height) < 0.02);
  });

  for (const [view, right, up] of [
    ["top", [1, 0, 0], [0, 1, 0]],
    ["side", [1, 0, 0], [0, 0, 1]],
    ["front", [0, -1, 0], [0, 0, 1]],
  ] as const) {
    it(`look from the ${view} with the set's directions as they are meant to go, to scale`, () => {
      const at: Vec3[] = [[0.9, -0.4, 0.3], [1.3, 0.1, 0.3], [0.6, 0.2, 1.1]]; // prettier-ignore
      const svg = draw({ ...topToFront, obstacles: at.map(speck), people: [] }, view, 3);
      const bar = /M([\d.]+) [\d.]+V[\d.]+M[\d.]+ [\d.]+H([\d.]+)M[\s\S]*?>([\d.]+) m<\/text>/.exec(svg);
      assert.ok(bar);
      const scale = (Number(bar[2]) - Number(bar[1])) / Number(bar[3]);
      const along = (point: Vec3, direction: readonly number[]): number =>
        point.reduce((sum, part, k) => sum + part * direction[k], 0);
      const found = middles(svg, "obstacle");
      assert.equal(found.length, at.length);
      const origin = found.find((one) =>
        at.every(
          (point) =>
            nearest(
              found,
              one[0] + scale * (along(point, right) - along(at[0], right)),
              one[1] - scale * (along(point, up) - along(at[0], up)),
            ) < 0.3,
        ),
      );
      assert.ok(origin, `no such triangle in ${JSON.stringify(found)} at ${scale} px a metre`);
    });
  }

  it("look from beside the rig as three's camera does from there", () => {
    const points: Vec3[] = [[0, 0, 0], [2, -1, 0.2], [1, 1, 1.7], [0.4, -0.3, 0.9]]; // prettier-ignore
    const eye = outsideEye("free", points, { left: 0, right: 1200, top: 0, bottom: 700 });
    const camera = new PerspectiveCamera(90, 1, 0.01, 100);
    camera.up.set(0, 0, 1);
    camera.position.set(...eye.position);
    camera.lookAt(new Vector3(...eye.position).add(new Vector3(...eye.ahead)));
    camera.updateMatrixWorld(true);
    for (const point of points) {
      const seen = new Vector3(...point).project(camera);
      const [x, y] = inPlane(eye, fromEye(eye, point));
      assert.ok(Math.abs(seen.x - x) < 1e-9 && Math.abs(-seen.y - y) < 1e-9);
      const [px, py] = eye.page(x, y);
      assert.ok(0 <= px && px <= 1200 && 0 <= py && py <= 700, "all of it is on the page");
    }
  });
});
