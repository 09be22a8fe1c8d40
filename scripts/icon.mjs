// Draws images/icon.png: three places on a swept path, each with its line of sight to one target.
import { mkdir, writeFile } from "node:fs/promises";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { PNG } from "pngjs";

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..");
const SIZE = 256;
/** Each pixel is the mean of this many by this many points, for smooth edges. */
const SUBDIVISIONS = 4;

const GROUND = [24, 42, 51];
const SIGHT = [70, 116, 128];
const PATH = [242, 236, 222];
const PLACE = [247, 178, 76];
const TARGET = [229, 94, 78];

// The picture's own unit square: x to the right, y down.
const target = [0.7, 0.72];
const circle = { centre: [0.84, 0.84], radius: 0.64 };
const places = [190, 228, 268].map((deg) => onCircle(deg));
const pathFrom = 178;
const pathTo = 276;

/** From the top layer down: the first that covers a point gives its colour. */
const layers = [
  { colour: TARGET, covers: (p) => distance(p, target) < 0.075 },
  { colour: GROUND, covers: (p) => distance(p, target) < 0.11 },
  { colour: PLACE, covers: (p) => places.some((place) => distance(p, place) < 0.06) },
  { colour: PATH, covers: onPath },
  { colour: SIGHT, covers: (p) => places.some((place) => distanceToLine(p, place, target) < 0.011) },
  { colour: GROUND, covers: insideRoundedSquare },
];

const png = new PNG({ width: SIZE, height: SIZE });
for (let row = 0; row < SIZE; row += 1) {
  for (let column = 0; column < SIZE; column += 1) png.data.set(pixel(column, row), 4 * (row * SIZE + column));
}
await mkdir(path.join(root, "images"), { recursive: true });
await writeFile(path.join(root, "images", "icon.png"), PNG.sync.write(png));

function pixel(column, row) {
  const sum = [0, 0, 0];
  let covered = 0;
  for (let i = 0; i < SUBDIVISIONS ** 2; i += 1) {
    const x = (column + ((i % SUBDIVISIONS) + 0.5) / SUBDIVISIONS) / SIZE;
    const y = (row + (Math.floor(i / SUBDIVISIONS) + 0.5) / SUBDIVISIONS) / SIZE;
    const layer = layers.find(({ covers }) => covers([x, y]));
    if (layer === undefined) continue;
    covered += 1;
    layer.colour.forEach((part, index) => (sum[index] += part));
  }
  return [
    ...sum.map((part) => Math.round(part / Math.max(covered, 1))),
    Math.round((255 * covered) / SUBDIVISIONS ** 2),
  ];
}

function onCircle(deg) {
  const angle = (deg * Math.PI) / 180;
  return [circle.centre[0] + circle.radius * Math.cos(angle), circle.centre[1] + circle.radius * Math.sin(angle)];
}

function onPath(p) {
  const angle = (Math.atan2(p[1] - circle.centre[1], p[0] - circle.centre[0]) * 180) / Math.PI;
  const deg = (angle + 360) % 360;
  const near = Math.abs(distance(p, circle.centre) - circle.radius) < 0.02;
  const ends = distance(p, onCircle(pathFrom)) < 0.02 || distance(p, onCircle(pathTo)) < 0.02;
  return (near && pathFrom < deg && deg < pathTo) || ends;
}

function insideRoundedSquare([x, y]) {
  const corner = 0.18;
  const dx = Math.max(Math.abs(x - 0.5) - (0.5 - corner), 0);
  const dy = Math.max(Math.abs(y - 0.5) - (0.5 - corner), 0);
  return Math.hypot(dx, dy) <= corner;
}

function distance(a, b) {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

function distanceToLine(p, a, b) {
  const along = [b[0] - a[0], b[1] - a[1]];
  const share = ((p[0] - a[0]) * along[0] + (p[1] - a[1]) * along[1]) / (along[0] ** 2 + along[1] ** 2);
  const s = Math.min(Math.max(share, 0), 1);
  return distance(p, [a[0] + s * along[0], a[1] + s * along[1]]);
}
