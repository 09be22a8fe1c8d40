import {
  BufferGeometry,
  CanvasTexture,
  Color,
  DoubleSide,
  Float32BufferAttribute,
  Group,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshBasicMaterial,
  PlaneGeometry,
  SRGBColorSpace,
} from "three";
import type { Palette } from "../palette.ts";
import { STAGE_ONLY } from "./eye.ts";
import { paintWith, type Materials } from "./materials.ts";
import type { Bounds } from "./viewpoint.ts";

/** Numerals along an edge at most; beyond, only each 2nd, 5th, 10th … metre is named. */
const MOST_NUMERALS = 12;
const LARGEST = 60;
const CELL = 128;
const LETTERS = "0123456789-m";

export interface Floor {
  readonly object: Group;
  paint(palette: Palette): void;
  dispose(): void;
}

/** A grid of metres with the metres written on it along two edges, like paint on a studio floor, and the shadows on it. */
export function createFloor(bounds: Bounds, height: number, materials: Materials): Floor {
  const object = new Group();
  const low = [0, 1].map((k) => Math.max(Math.floor(bounds.low[k] - 0.5), -LARGEST));
  const high = [0, 1].map((k) => Math.min(Math.ceil(bounds.high[k] + 0.5), LARGEST));
  const fine = new LineBasicMaterial();
  const strong = new LineBasicMaterial();
  const numerals = new MeshBasicMaterial({ transparent: true, depthWrite: false, side: DoubleSide });
  const thin: number[] = [];
  const thick: number[] = [];
  for (let x = low[0]; x <= high[0]; x++) (x === 0 ? thick : thin).push(x, low[1], height, x, high[1], height);
  for (let y = low[1]; y <= high[1]; y++) (y === 0 ? thick : thin).push(low[0], y, height, high[0], y, height);
  const [thinGrid, thickGrid] = [lineGeometry(thin), lineGeometry(thick)];
  const writing = numeralGeometry(low, high, height + 0.002);
  const plane = new PlaneGeometry(high[0] - low[0] + 8, high[1] - low[1] + 8);
  const ground = new Mesh(plane, materials.shadow);
  ground.position.set((low[0] + high[0]) / 2, (low[1] + high[1]) / 2, height - 0.001);
  ground.receiveShadow = true;
  const written = new Mesh(writing, numerals);
  written.layers.set(STAGE_ONLY);
  object.add(ground, new LineSegments(thinGrid, fine), new LineSegments(thickGrid, strong), written);
  return {
    object,
    paint(palette) {
      paintWith(fine.color, palette.colour.grid);
      paintWith(strong.color, palette.colour["grid-strong"]);
      paintWith((numerals.color = new Color()), palette.colour.quiet);
      numerals.map?.dispose();
      numerals.map = letterTexture(palette.font);
      numerals.needsUpdate = true;
    },
    dispose() {
      numerals.map?.dispose();
      for (const geometry of [thinGrid, thickGrid, writing, plane]) geometry.dispose();
      for (const material of [fine, strong, numerals]) material.dispose();
    },
  };
}

function lineGeometry(points: readonly number[]): BufferGeometry {
  return new BufferGeometry().setAttribute("position", new Float32BufferAttribute(points, 3));
}

/** Quads with the letters of the metres: along x before the near edge, along y left of the left edge. */
function numeralGeometry(low: readonly number[], high: readonly number[], z: number): BufferGeometry {
  const position: number[] = [];
  const uv: number[] = [];
  const size = 0.28;
  const write = (text: string, x: number, y: number): void => {
    const step = size * 0.56;
    const begin = x - (step * text.length) / 2;
    [...text].forEach((letter, i) => {
      const cell = LETTERS.indexOf(letter);
      const [x0, x1, y0, y1] = [begin + step * i - size * 0.22, begin + step * i - size * 0.22 + size, y - size / 2, y + size / 2]; // prettier-ignore
      const [u0, u1] = [cell / LETTERS.length, (cell + 1) / LETTERS.length];
      position.push(x0, y0, z, x1, y0, z, x1, y1, z, x0, y0, z, x1, y1, z, x0, y1, z);
      uv.push(u0, 0, u1, 0, u1, 1, u0, 0, u1, 1, u0, 1);
    });
  };
  const strideOf = (span: number): number => [1, 2, 5, 10, 20].find((by) => span / by <= MOST_NUMERALS) ?? 20;
  const [strideX, strideY] = [strideOf(high[0] - low[0]), strideOf(high[1] - low[1])];
  for (let x = low[0]; x <= high[0]; x++)
    if (x % strideX === 0) write(x === high[0] ? `${x}m` : `${x}`, x, low[1] - 0.22);
  for (let y = low[1]; y <= high[1]; y++)
    if (y % strideY === 0) write(y === high[1] ? `${y}m` : `${y}`, low[0] - 0.3, y);
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new Float32BufferAttribute(position, 3));
  geometry.setAttribute("uv", new Float32BufferAttribute(uv, 2));
  return geometry;
}

/** The letters side by side, white on nothing: the material gives the colour. */
function letterTexture(font: string): CanvasTexture {
  const canvas = document.createElement("canvas");
  canvas.width = CELL * LETTERS.length;
  canvas.height = CELL;
  const pen = canvas.getContext("2d");
  if (pen) {
    pen.fillStyle = "#fff";
    pen.font = `${CELL * 0.82}px ${font || "sans-serif"}`;
    pen.textAlign = "center";
    pen.textBaseline = "middle";
    [...LETTERS].forEach((letter, i) => pen.fillText(letter, CELL * (i + 0.5), CELL / 2));
  }
  const texture = new CanvasTexture(canvas);
  texture.colorSpace = SRGBColorSpace;
  texture.anisotropy = 8;
  return texture;
}
