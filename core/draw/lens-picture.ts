import { formatQuantity } from "../base/units.ts";
import type { Vec2 } from "../base/vec3.ts";
import { xmlText } from "../base/xml-text.ts";
import { aimedAt, solveFacts } from "./aimed.ts";
import { drawBodies } from "./draw-bodies.ts";
import { drawGrid, drawTables } from "./draw-set.ts";
import type { Rectangle } from "./eye.ts";
import { placeLabels, type WantedLabel } from "./labels.ts";
import { framedPlace, frameShape, lensEye } from "./lens-eye.ts";
import { HEAD, PAGE_WIDTH, renderPicture, SIDE } from "./picture-page.ts";
import type { Shot } from "./shot.ts";
import { crossSign, LEGEND, roomOf, TARGET_REACH, WANTED_REACH, wantedSign } from "./signs.ts";
import { tag } from "./svg.ts";

/** The captured picture is at most so high on the page, and at least [px]: some pictures are very tall, some very wide. */
const MOST_HEIGHT = 760;
const LEAST_HEIGHT = 60;
/** Floor that is drawn round the camera and what it looks at [m]. */
const FLOOR = 12;

/** What the camera sees, as the lens pictures it. */
export function drawLensPicture(shot: Shot): string {
  const { move, instant } = shot;
  const { optics, deliver } = move;
  const frame = frameOnPage(frameShape(optics));
  const eye = lensEye(optics, instant, frame);
  const aimed = aimedAt(instant);
  const seen = shot.solids.filter(({ part }) => part !== "camera");
  const near = [0, 1].map((k) => Math.round(eye.position[k]));
  const grid = drawGrid(eye, move.floor, near.map((at) => at - FLOOR), near.map((at) => at + FLOOR)); // prettier-ignore
  const places = move.targets.flatMap(({ name }, k): { name: string; k: number; at: Vec2 }[] => {
    const [across, down] = [instant.framing[2 * k], instant.framing[2 * k + 1]];
    const isSeen = 0 <= across && across <= 1 && 0 <= down && down <= 1;
    return isSeen ? [{ name, k, at: framedPlace(frame, across, down) }] : [];
  });
  places.sort((a, b) => Number(b.k === aimed) - Number(a.k === aimed));
  const wanted = [...instant.wanted].every(Number.isFinite)
    ? framedPlace(frame, instant.wanted[0], instant.wanted[1])
    : undefined;
  const share = [0, 1].map((k) => Math.min(deliver[k] / optics.resolution[k], 1));
  const corner = framedPlace(frame, (1 - share[0]) / 2, (1 - share[1]) / 2);
  const size = [share[0] * (frame.right - frame.left), share[1] * (frame.bottom - frame.top)];
  const isCropped = share.some((one) => one < 1);
  const labels: WantedLabel[] = places.map(({ name, k, at }) => ({
    text: name,
    at,
    reach: k === aimed ? WANTED_REACH : TARGET_REACH,
    style: k === aimed ? "text bold" : "text",
  }));
  const cropName = { left: corner[0] + 6, right: corner[0] + 160, top: corner[1] + 4, bottom: corner[1] + 22 };
  const placed = placeLabels(labels, frame, [...places.map(({ at }) => roomOf(at, TARGET_REACH)), ...(isCropped ? [cropName] : [])]); // prettier-ignore
  return renderPicture({
    shot,
    name: `Through ${optics.lensName}`,
    facts: lensFacts(shot, aimed),
    area: frame,
    inside: [grid.svg, drawTables(eye, shot), drawBodies(eye, seen).svg].join("\n"),
    over: [
      tag("rect", { class: "line frame", x: frame.left, y: frame.top, width: frame.right - frame.left, height: frame.bottom - frame.top }),
      ...(isCropped
        ? [
            tag("rect", { class: "line crop", x: corner[0], y: corner[1], width: size[0], height: size[1] }),
            tag("text", { class: "quiet", x: corner[0] + 6, y: corner[1] + 17 }, xmlText(`delivered ${deliver.join(" × ")} px`)),
          ]
        : []),
      ...places.map(({ name, k, at }) => crossSign(at, k === aimed, name)),
      ...(wanted && isOn(frame, wanted) ? [wantedSign(wanted)] : []),
    ].join("\n"), // prettier-ignore
    labels: placed,
    leftOut: labels.length - placed.length,
    legend: [
      ...(isCropped ? [LEGEND.frame] : []),
      ...(places.some(({ k }) => k !== aimed) ? [LEGEND.cross] : []),
      ...(places.some(({ k }) => k === aimed) ? [LEGEND.aimedCross] : []),
      ...(wanted ? [LEGEND.wanted] : []),
    ],
  });
}

function frameOnPage(shape: number): Rectangle {
  const room = PAGE_WIDTH - 2 * SIDE;
  const width = Math.min(room, MOST_HEIGHT * shape);
  const height = Math.max(Math.round(width / shape), LEAST_HEIGHT);
  const left = Math.round((PAGE_WIDTH - width) / 2);
  return { left, right: left + Math.round(width), top: HEAD, bottom: HEAD + height };
}

const isOn = ({ left, right, top, bottom }: Rectangle, [x, y]: Vec2): boolean =>
  left <= x && x <= right && top <= y && y <= bottom;

function lensFacts({ move, instant }: Shot, aimed: number): string[] {
  const { optics } = move;
  const metres = (value: number): string => formatQuantity(value, "length");
  const target = aimed < 0 ? undefined : move.targets[aimed].name;
  return [
    `${Number((instant.focal * 1000).toFixed(1))} mm`,
    ...(Number.isFinite(instant.focus) ? [`focus ${metres(instant.focus)}`] : []),
    ...(target === undefined ? ["no aim"] : [`aim ${target}, ${metres(instant.distance[aimed])}`]),
    `captured ${optics.resolution.join(" × ")} px`,
    ...solveFacts(instant),
  ];
}
