import assert from "node:assert/strict";
import { createRequire } from "node:module";
import { optics } from "../../test/support/lenses.ts";
import { seededRandom } from "../base/random.ts";
import { project } from "./project.ts";
import type { Distortion, ResolvedOptics } from "./resolved-optics.ts";

/** The little of OpenCV's JavaScript build that is used here. */
interface OpenCv {
  readonly Mat?: unknown;
  readonly CV_64F: number;
  matFromArray(rows: number, cols: number, type: number, values: readonly number[]): Mat;
  solvePnPRefineLM(points: Mat, pixels: Mat, k: Mat, d: Mat, rvec: Mat, tvec: Mat): void;
  onRuntimeInitialized: () => void;
}
interface Mat {
  readonly data64F: Float64Array;
  delete(): void;
}

const PIXELS = [6144, 3456] as const;

// This build of OpenCV has no projectPoints of its own, but its search for the pose of a camera projects with it: from
// points of a known pose and their pixels it must come back to that pose, which it does only when both project alike.
describe("project against OpenCV", function () {
  let cv: OpenCv;
  before(async function () {
    this.timeout(60_000);
    cv = createRequire(import.meta.url)("@techstark/opencv-js") as OpenCv;
    if (!cv.Mat) await new Promise<void>((resolve) => (cv.onRuntimeInitialized = resolve));
  });

  const strong: Distortion = { k1: -0.25, k2: 0.07, p1: 0.004, p2: -0.006, k3: -0.01 };
  const lenses: [string, ResolvedOptics][] = [
    ["plain", optics({})],
    ["distorted by all terms", optics({ distortion: strong })],
    ["pincushion", optics({ distortion: { k1: 0.12, k2: -0.03, p1: -0.002, p2: 0.001, k3: 0.02 } })],
    ["squeezed, off centre and distorted", optics({ squeeze: 1.33, centre: [0.02, -0.03], distortion: strong })],
  ];
  for (const [name, lens] of lenses) {
    it(`sees points where OpenCV does: ${name}`, () => {
      assert.ok(poseMiss(cv, lens, lens.distortion ?? null) < 1e-8);
    });
  }

  it("would notice coefficients in another order, or another sign", () => {
    const lens = lenses[1][1];
    assert.ok(1e-4 < poseMiss(cv, lens, { ...strong, p1: strong.p2, p2: strong.p1 }));
    assert.ok(1e-4 < poseMiss(cv, lens, { ...strong, k2: strong.k3, k3: strong.k2 }));
    assert.ok(1e-3 < poseMiss(cv, lens, { ...strong, p1: -strong.p1 }));
  });
});

/** How far OpenCV's pose of the camera [m, rad] ends from the true one, the camera at the origin looking along its view. */
function poseMiss(cv: OpenCv, lens: ResolvedOptics, d: Distortion | null): number {
  const random = seededRandom(11);
  const focal = lens.focal.low;
  const points: number[] = [];
  const pixels: number[] = [];
  for (let i = 0; i < 60; i++) {
    const x = 1 + 3 * random();
    const [y, z] = [(random() - 0.5) * 0.95 * x, (random() - 0.5) * 0.55 * x];
    const out = [0, 0];
    assert.ok(project(lens, focal, x, y, z, out));
    // OpenCV's camera looks along z with x to the right and y down.
    points.push(-y, -z, x);
    pixels.push(out[0] * PIXELS[0], out[1] * PIXELS[1]);
  }
  const fx = (focal * PIXELS[0]) / (lens.squeeze * lens.sensor[0]);
  const fy = (focal * PIXELS[1]) / lens.sensor[1];
  const [cx, cy] = [(0.5 + lens.centre[0]) * PIXELS[0], (0.5 + lens.centre[1]) * PIXELS[1]];
  const mats = {
    points: cv.matFromArray(60, 3, cv.CV_64F, points),
    pixels: cv.matFromArray(60, 2, cv.CV_64F, pixels),
    k: cv.matFromArray(3, 3, cv.CV_64F, [fx, 0, cx, 0, fy, cy, 0, 0, 1]),
    d: cv.matFromArray(1, 5, cv.CV_64F, d ? [d.k1, d.k2, d.p1, d.p2, d.k3] : [0, 0, 0, 0, 0]),
    rvec: cv.matFromArray(3, 1, cv.CV_64F, [0.01, -0.02, 0.015]),
    tvec: cv.matFromArray(3, 1, cv.CV_64F, [0.02, 0.03, -0.05]),
  };
  cv.solvePnPRefineLM(mats.points, mats.pixels, mats.k, mats.d, mats.rvec, mats.tvec);
  const miss = Math.hypot(...mats.rvec.data64F, ...mats.tvec.data64F);
  for (const mat of Object.values(mats)) mat.delete();
  return miss;
}
