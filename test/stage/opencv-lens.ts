import { createRequire } from "node:module";
import type { ResolvedOptics } from "../../core/lens/resolved-optics.ts";

/** The little of OpenCV's JavaScript build that is used here. */
interface OpenCv {
  readonly Mat: new (rows?: number, columns?: number, type?: number) => Mat;
  readonly CV_64F: number;
  readonly CV_32FC2: number;
  matFromArray(rows: number, columns: number, type: number, values: readonly number[]): Mat;
  undistort(source: Mat, target: Mat, k: Mat, d: Mat, newK: Mat): void;
  onRuntimeInitialized: () => void;
}
interface Mat {
  readonly data32F: Float32Array;
  delete(): void;
}

/** Where OpenCV sees a direction (x right, y down, at 1 m) through a lens: shares of the picture, or null outside of it. */
export interface OpenCvLens {
  see(x: number, y: number, focal: number): readonly [number, number] | null;
  close(): void;
}

const WIDTH = 1536;
const HEIGHT = 864;
/** The px of the undistorted picture that is read, and its scale: any will do. */
const READ = [700, 400] as const;
const SCALE = 1000;

/**
 * This build of OpenCV has no projectPoints, but its `undistort` projects as that does: each px of the undistorted picture
 * takes its colour from where the lens puts that px's direction. So a picture whose colours are its own coordinates answers
 * with the projection, to 1/32 px of its 1536.
 */
export async function openCvLens(optics: ResolvedOptics): Promise<OpenCvLens> {
  const cv = createRequire(import.meta.url)("@techstark/opencv-js") as OpenCv;
  if (!(cv as { Mat?: unknown }).Mat) await new Promise<void>((resolve) => (cv.onRuntimeInitialized = resolve));
  const coordinates = new cv.Mat(HEIGHT, WIDTH, cv.CV_32FC2);
  for (let v = 0; v < HEIGHT; v++) {
    // Counted from 1, since 0 is what OpenCV gives for places outside.
    for (let u = 0; u < WIDTH; u++) coordinates.data32F.set([u + 1, v + 1], 2 * (v * WIDTH + u));
  }
  const d = optics.distortion ?? { k1: 0, k2: 0, p1: 0, p2: 0, k3: 0 };
  const distortion = cv.matFromArray(1, 5, cv.CV_64F, [d.k1, d.k2, d.p1, d.p2, d.k3]);
  const seen = new cv.Mat();
  return {
    see(x, y, focal) {
      const fx = (focal * WIDTH) / (optics.squeeze * optics.sensor[0]);
      const fy = (focal * HEIGHT) / optics.sensor[1];
      const [cx, cy] = [(0.5 + optics.centre[0]) * WIDTH, (0.5 + optics.centre[1]) * HEIGHT];
      const k = cv.matFromArray(3, 3, cv.CV_64F, [fx, 0, cx, 0, fy, cy, 0, 0, 1]);
      const [u, v] = [READ[0] - SCALE * x, READ[1] - SCALE * y];
      const plain = cv.matFromArray(3, 3, cv.CV_64F, [SCALE, 0, u, 0, SCALE, v, 0, 0, 1]);
      cv.undistort(coordinates, seen, k, distortion, plain);
      const at = 2 * (READ[1] * WIDTH + READ[0]);
      const [across, down] = [seen.data32F[at] - 1, seen.data32F[at + 1] - 1];
      k.delete();
      plain.delete();
      const inside = 1 < across && across < WIDTH - 2 && 1 < down && down < HEIGHT - 2;
      return inside ? [across / WIDTH, down / HEIGHT] : null;
    },
    close() {
      for (const mat of [coordinates, distortion, seen]) mat.delete();
    },
  };
}
