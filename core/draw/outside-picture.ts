import { applyPose } from "../base/pose.ts";
import type { Task } from "../base/task.ts";
import type { Vec2, Vec3 } from "../base/vec3.ts";
import { sampleTake } from "../motion/sample.ts";
import type { Take } from "../motion/take.ts";
import type { Trajectory } from "../motion/trajectory.ts";
import { aimedAt, solveFacts } from "./aimed.ts";
import { drawBodies } from "./draw-bodies.ts";
import { drawCameraView, drawChain, drawSight, drawWay } from "./draw-move.ts";
import { drawRulers } from "./draw-rulers.ts";
import { drawGrid, drawTables } from "./draw-set.ts";
import { placeOn, type Rectangle } from "./eye.ts";
import { placeLabels, type WantedLabel } from "./labels.ts";
import { outsideEye, type OutsideView } from "./outside-eye.ts";
import { HEAD, PAGE_WIDTH, renderPicture, SIDE } from "./picture-page.ts";
import type { Shot } from "./shot.ts";
import { KEY_REACH, keySign, LEGEND, markSign, roomOf, TARGET_REACH, targetSign } from "./signs.ts";
import { drawnSolid } from "./solid-corners.ts";

const AREA: Rectangle = { left: SIDE, right: PAGE_WIDTH - SIDE, top: HEAD, bottom: HEAD + 700 };
/** Places of the camera's way: enough for a smooth line. */
const SAMPLES = 600;
/** How much of what stands round the action is shown with it [m]. */
const ROUND = 0.4;
/** What is farther off than this widens no picture [m]. */
const FAR = 100;

const NAMES: Readonly<Record<OutsideView, string>> = {
  top: "Top view",
  side: "Side view",
  front: "Front view",
  free: "View from beside the rig",
};

/** The rig in its set, with the camera's way, its keys and what it sees. */
export function* drawOutsidePicture(trajectory: Trajectory, shot: Shot, view: OutsideView): Task<string> {
  const { move, instant } = shot;
  const times = Array.from({ length: SAMPLES + 1 }, (_, i) => (trajectory.duration * i) / SAMPLES);
  const take = yield* sampleTake(trajectory, times);
  const { points, low, high } = boundsOf(shot, take);
  const eye = outsideEye(view, points, AREA);
  const aimed = aimedAt(instant);
  const bodies = drawBodies(eye, shot.solids);
  const grid = drawGrid(eye, move.floor, low, high);
  const cameraWay = drawWay(eye, take);
  const keys = keyPlaces(trajectory).flatMap(({ label, at }) => {
    const place = placeOn(eye, at);
    return place ? [{ label, place }] : [];
  });
  const seen = (at: Vec3): Vec2[] => [placeOn(eye, at) ?? []].filter((one): one is Vec2 => one.length === 2);
  const targets = move.targets.flatMap(({ name }, k) => seen(at3(instant.targets, k)).map((place) => ({ name, k, place }))); // prettier-ignore
  const marks = move.marks.flatMap(({ name, at }) => seen(at).map((place) => ({ name, place })));
  const tables = move.turntables.flatMap(({ name, at }) => seen(at).map((place) => ({ name, place })));
  const wanted: WantedLabel[] = [
    ...targets.filter(({ k }) => k === aimed).map(({ name, place }) => ({ text: name, at: place, reach: TARGET_REACH, style: "text bold" })),
    ...keys.map(({ label, place }) => ({ text: label, at: place, reach: KEY_REACH, style: "text" })),
    ...targets.filter(({ k }) => k !== aimed).map(({ name, place }) => ({ text: name, at: place, reach: TARGET_REACH, style: "text" })),
    ...[...tables, ...marks].map(({ name, place }) => ({ text: name, at: place, reach: TARGET_REACH, style: "quiet slant" })),
    ...bodies.middles
      .filter(({ placed, at }) => (placed.part === "person" || placed.part === "obstacle") && isOn(at))
      .sort((a, b) => Number(b.placed.part === "person") - Number(a.placed.part === "person"))
      .map(({ placed, at }) => ({ text: placed.name, at, reach: 0, style: "quiet slant" })),
  ]; // prettier-ignore
  const rulers = drawRulers(eye, AREA, grid.step);
  const rooms = [
    ...keys.map(({ place }) => roomOf(place, KEY_REACH)),
    ...targets.map(({ place }) => roomOf(place, TARGET_REACH)),
    ...rulers.rooms,
  ];
  const labels = placeLabels(wanted, AREA, rooms);
  const isCropped = [0, 1].some((k) => move.deliver[k] < move.optics.resolution[k]);
  return renderPicture({
    shot,
    name: NAMES[view],
    facts: solveFacts(instant),
    area: AREA,
    inside: [
      grid.svg,
      drawTables(eye, shot),
      bodies.svg,
      drawChain(eye, shot),
      drawCameraView(eye, shot),
      drawSight(eye, shot, aimed),
      cameraWay.svg,
      ...marks.map(({ place }) => markSign(place)),
      ...targets.map(({ name, k, place }) => targetSign(place, k === aimed, name)),
      ...keys.map(({ place }) => keySign(place)),
    ].join("\n"),
    over: rulers.svg,
    labels,
    leftOut: wanted.length - labels.length,
    legend: [
      LEGEND.way,
      ...(cameraWay.isOver ? [LEGEND.over] : []),
      LEGEND.key,
      LEGEND.view,
      ...(isCropped ? [LEGEND.crop] : []),
      ...(targets.some(({ k }) => k !== aimed) ? [LEGEND.target] : []),
      ...(targets.some(({ k }) => k === aimed) ? [LEGEND.aimed] : []),
    ],
  });
}

const at3 = (table: ArrayLike<number>, i: number): Vec3 => [table[3 * i], table[3 * i + 1], table[3 * i + 2]];

const isOn = ([x, y]: Vec2): boolean => AREA.left < x && x < AREA.right && AREA.top < y && y < AREA.bottom;

/** Where the entrance pupil is at each key. */
function keyPlaces(trajectory: Trajectory): readonly { readonly label: string; readonly at: Vec3 }[] {
  const instant = trajectory.createInstant();
  return trajectory.move.keys.map(({ label, time }) => {
    trajectory.poseAt(time, instant);
    return { label, at: at3(instant.position, 0) };
  });
}

/** Points that the picture must hold: the rig, the camera's way, the targets, and of the set what stands close by. */
function boundsOf({ move, solids, chain, instant }: Shot, take: Take) {
  const isNear = (point: Vec3): boolean => point.every((part) => Number.isFinite(part) && Math.abs(part) < FAR);
  const cornersOf = (parts: readonly string[]): Vec3[] =>
    solids
      .filter(({ part }) => parts.includes(part))
      .flatMap(({ solid, pose }) => (drawnSolid(solid)?.corners ?? []).map((corner) => applyPose(pose, corner)));
  const action = [
    ...chain,
    ...cornersOf(["rig", "camera"]),
    ...Array.from({ length: take.count }, (_, i) => at3(take.position, i)),
    ...move.targets.map((_, k) => at3(instant.targets, k)),
  ].filter(isNear);
  if (action.length === 0) action.push([0, 0, move.floor]);
  const side = (pick: "min" | "max", k: number): number => Math[pick](...action.map((point) => point[k]));
  const low = [0, 1, 2].map((k) => side("min", k) - ROUND);
  const high = [0, 1, 2].map((k) => side("max", k) + ROUND);
  const round = cornersOf(["obstacle", "person", "dressing"])
    .filter(isNear)
    .map((point) => point.map((part, k) => Math.min(Math.max(part, low[k]), high[k])) as unknown as Vec3);
  const onFloor: Vec3 = [action[0][0], action[0][1], move.floor];
  return { points: [...action, ...round, ...(isNear(onFloor) ? [onFloor] : [])], low, high };
}
