import { composePoses, IDENTITY_POSE, type Pose } from "../base/pose.ts";
import { quatAbout } from "../base/quat.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import type { Body } from "../rig/resolved-rig.ts";
import { convexOf, convexOfPoints, type Convex } from "../solid/convex.ts";
import { spaceBody, type BodyPart, type SpaceBody } from "./space-body.ts";

/** The bodies of a move, and the names of those that cannot be measured: meshes whose hull is not known. */
export interface MoveBodies {
  /** The rig's own, then the camera as far as nothing is stated of its size, the lens barrel and the attachments. */
  readonly rig: readonly SpaceBody[];
  readonly obstacles: readonly SpaceBody[];
  readonly people: readonly SpaceBody[];
  readonly unmeasured: readonly Body[];
}

/** A cylinder stands along z; the barrel lies along the view. */
const ALONG_VIEW = quatAbout([0, 1, 0], Math.PI / 2);

export function bodiesOfMove(move: Pick<ResolvedMove, "rig" | "optics" | "obstacles" | "people">): MoveBodies {
  const unmeasured: Body[] = [];
  const all = (bodies: readonly Body[], part: (body: Body) => BodyPart): SpaceBody[] =>
    bodies.flatMap((body) => {
      if (body.only === "looks") return [];
      const convex = convexOf(body.solid);
      if (!convex) unmeasured.push(body);
      return convex ? [made(body, part(body), convex)] : [];
    });
  const own = all(move.rig.bodies, ({ link }) => (link < 0 ? "base" : "rig"));
  return {
    rig: [...own, ...cameraBodies(move)],
    obstacles: all(move.obstacles, () => "obstacle"),
    people: all(move.people, () => "person"),
    unmeasured,
  };
}

function made({ name, link, table = -1, origin, pose }: Body, part: BodyPart, convex: Convex): SpaceBody {
  return spaceBody({ name, part, link, table, origin }, convex, pose);
}

/**
 * The camera from its sensor plane to the farthest entrance pupil as a line: that much there is of any. The lens barrel from
 * the flange to its front, and the attachments. All carried by the last link.
 */
function cameraBodies({ rig, optics }: Pick<ResolvedMove, "rig" | "optics">): SpaceBody[] {
  const link = rig.joints.length - 1;
  const { mount } = rig;
  const placed = (name: string, part: BodyPart, convex: Convex | undefined, pose: Pose): SpaceBody[] =>
    convex
      ? [spaceBody({ name, part, link, table: -1, origin: optics.origin }, convex, composePoses(mount, pose))]
      : [];
  const { front, pupil } = optics;
  const pupils = pupil.nodes.filter((_, idx) => idx % 4 === 0);
  const line = convexOfPoints([-optics.flange, 0, 0, Math.max(0, ...pupils), 0, 0]);
  const camera = placed("the camera", "camera", line, IDENTITY_POSE);
  const barrel = front
    ? placed(
        optics.lensName,
        "lens",
        convexOf({ shape: "cylinder", radius: front.diameter / 2, height: front.length }),
        { at: [front.length / 2, 0, 0], turn: ALONG_VIEW },
      )
    : [];
  const attachments = optics.attachments.flatMap(({ name, box, at }) =>
    placed(name, "attachment", convexOf({ shape: "box", size: box }), { ...IDENTITY_POSE, at }),
  );
  return [...camera, ...barrel, ...attachments];
}
