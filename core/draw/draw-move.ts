import { rotateByQuat, type Quat } from "../base/quat.ts";
import { add, scale, type Vec2, type Vec3 } from "../base/vec3.ts";
import { unproject } from "../lens/project.ts";
import type { Take } from "../motion/take.ts";
import { lineOn, type Eye } from "./eye.ts";
import type { Shot } from "./shot.ts";
import { tag, way } from "./svg.ts";

/** How far the camera's view is drawn when the focus is nearer, farther or unknown [m]. */
const REACH = [0.12, 6] as const;
/** Steps an edge of the frame is drawn in: enough to show a lens's distortion. */
const EDGE_STEPS = 12;
/** What stands out over the upper edge of the frame and says which way is up, as a share of the picture's height. */
const ROOF = 0.12;

/** The way of the entrance pupil; where a limit is passed it is drawn as another line. */
export function drawWay(
  eye: Eye,
  { position, share, count }: Take,
): { readonly svg: string; readonly isOver: boolean } {
  const at = (i: number): Vec3 => [position[3 * i], position[3 * i + 1], position[3 * i + 2]];
  const parts = { way: "", over: "" };
  for (let i = 1; i < count; i++) {
    const kind = Math.max(share[i - 1], share[i]) > 1 + 1e-9 ? "over" : "way";
    parts[kind] += joined(parts[kind], way(lineOn(eye, at(i - 1), at(i)) ?? []));
  }
  const line = (kind: "way" | "over"): string => (parts[kind] === "" ? "" : tag("path", { class: `line ${kind}`, d: parts[kind] })); // prettier-ignore
  return { svg: line("way") + line("over"), isOver: parts.over !== "" };
}

/** A piece that begins where the last one ended goes on from it, so that dashes run through. */
function joined(before: string, piece: string): string {
  const [, begin, rest] = /^M([^L]*)(L.*)?$/.exec(piece) ?? [];
  return begin !== undefined && before.endsWith(begin) && rest !== undefined ? rest : piece;
}

/** What the camera records, from the entrance pupil to the plane in focus, with the delivered crop inside. */
export function drawCameraView(eye: Eye, shot: Shot): string {
  const { move, instant } = shot;
  const { optics, deliver } = move;
  const turn = [...instant.rotation] as unknown as Quat;
  const pupil: Vec3 = [instant.position[0], instant.position[1], instant.position[2]];
  const inFocus = instant.focus - optics.flange - instant.pupil;
  const depth = Number.isFinite(inFocus) ? Math.min(Math.max(inFocus, REACH[0]), REACH[1]) : REACH[1] / 3;
  const direction = [0, 0, 0];
  const placeOf = (across: number, down: number): Vec3 | undefined => {
    if (!unproject(optics, instant.focal, across, down, direction)) return undefined;
    return add(pupil, scale(rotateByQuat(turn, direction as unknown as Vec3), depth));
  };
  const line = (a: Vec3 | undefined, b: Vec3 | undefined): string => (a && b ? way(lineOn(eye, a, b) ?? []) : "");
  const rectangle = (w: number, h: number): string => {
    const corners: Vec2[] = [[-1, -1], [1, -1], [1, 1], [-1, 1]]; // prettier-ignore
    return corners
      .flatMap((a, side) => {
        const b = corners[(side + 1) % 4];
        const at = (s: number): Vec3 | undefined =>
          placeOf(0.5 + (w / 2) * (a[0] + (b[0] - a[0]) * s), 0.5 + (h / 2) * (a[1] + (b[1] - a[1]) * s));
        return Array.from({ length: EDGE_STEPS }, (_, k) => line(at(k / EDGE_STEPS), at((k + 1) / EDGE_STEPS)));
      })
      .reduce((all, piece) => all + joined(all, piece), "");
  };
  const rays = [[0, 0], [1, 0], [1, 1], [0, 1]].map(([x, y]) => line(pupil, placeOf(x, y))); // prettier-ignore
  const roof = line(placeOf(0.4, 0), placeOf(0.5, -ROOF)) + line(placeOf(0.5, -ROOF), placeOf(0.6, 0));
  const share = [0, 1].map((k) => Math.min(deliver[k] / optics.resolution[k], 1));
  const isCropped = share.some((one) => one < 1);
  const crop = isCropped ? tag("path", { class: "line view crop-line", d: rectangle(share[0], share[1]) }) : "";
  return tag("path", { class: "line view", d: rays.join("") + rectangle(1, 1) + roof }) + crop;
}

/** From the entrance pupil to what is aimed at. */
export function drawSight(eye: Eye, { instant }: Shot, target: number): string {
  if (target < 0) return "";
  const at = (table: ArrayLike<number>, i: number): Vec3 => [table[3 * i], table[3 * i + 1], table[3 * i + 2]];
  const seen = lineOn(eye, at(instant.position, 0), at(instant.targets, target));
  return seen ? tag("path", { class: "line view sight", d: way(seen) }) : "";
}

/** The chain from the base through the joints to the camera. */
export function drawChain(eye: Eye, { chain }: Shot): string {
  const pieces = chain.slice(1).map((point, k) => way(lineOn(eye, chain[k], point) ?? []));
  return tag("path", { class: "line chain", d: pieces.reduce((all, piece) => all + joined(all, piece), "") });
}
