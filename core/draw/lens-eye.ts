import { rotateByQuat, type Quat } from "../base/quat.ts";
import type { Vec2, Vec3 } from "../base/vec3.ts";
import { project } from "../lens/project.ts";
import type { ResolvedOptics } from "../lens/resolved-optics.ts";
import { reachedSlopes } from "../lens/seen-slopes.ts";
import type { Instant } from "../motion/trajectory.ts";
import type { Eye, Rectangle } from "./eye.ts";

/** Halvings on the way to the edge of what a distorted lens pictures. */
const HALVINGS = 30;
/** What is drawn beyond the frame, as a share of it, so that outlines end outside. */
const BEYOND = 0.03;

/** Width over height of what the lens records, with its squeeze undone. */
export const frameShape = ({ sensor, squeeze }: ResolvedOptics): number => (sensor[0] * squeeze) / sensor[1];

/** Place on the page of a framing of the captured picture. */
export const framedPlace = (frame: Rectangle, across: number, down: number): Vec2 => [
  frame.left + across * (frame.right - frame.left),
  frame.top + down * (frame.bottom - frame.top),
];

/**
 * The eye in the entrance pupil, with the lens's own picture: its squeeze undone, its distortion and its centre as they are.
 *
 * @param frame Where the captured picture is on the page [px].
 */
export function lensEye(optics: ResolvedOptics, instant: Instant, frame: Rectangle): Eye {
  const turn = [...instant.rotation] as unknown as Quat;
  const direction = (own: Vec3): Vec3 => rotateByQuat(turn, own);
  const slopes = reachedSlopes(optics, instant.focal);
  const [x, y] = [(slopes.right - slopes.left) * BEYOND, (slopes.bottom - slopes.top) * BEYOND];
  const framing = [0, 0];
  return {
    kind: "perspective",
    position: [instant.position[0], instant.position[1], instant.position[2]],
    ahead: direction([1, 0, 0]),
    right: direction([0, -1, 0]),
    down: direction([0, 0, -1]),
    window: { left: slopes.left - x, right: slopes.right + x, top: slopes.top - y, bottom: slopes.bottom + y },
    bends: optics.distortion !== undefined,
    page(across, down) {
      // Beyond what the lens is made for there is no picture: the place goes towards the axis until there is one.
      if (!project(optics, instant.focal, 1, -across, -down, framing)) {
        let [inside, outside] = [0, 1];
        for (let i = 0; i < HALVINGS; i++) {
          const share = (inside + outside) / 2;
          if (project(optics, instant.focal, 1, -share * across, -share * down, framing)) inside = share;
          else outside = share;
        }
        project(optics, instant.focal, 1, -inside * across, -inside * down, framing);
      }
      return framedPlace(frame, framing[0], framing[1]);
    },
  };
}
