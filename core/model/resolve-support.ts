import { convexHull } from "../base/polygon.ts";
import { invertQuat, rotateByQuat } from "../base/quat.ts";
import { dot, type Vec3 } from "../base/vec3.ts";
import type { ResolvedJoint, Support } from "../rig/resolved-rig.ts";
import type { rigDocument } from "../schema/rig-fields.ts";
import { bindLink } from "./bind-link.ts";
import type { Declared, Stated } from "./declared.ts";
import { report } from "./report.ts";
import { originOf, type Scope } from "./resolution.ts";
import { vec2 } from "./vectors.ts";

type RigFields = NonNullable<Declared<typeof rigDocument>>["value"];
type Corners = Stated<readonly (Stated<readonly Stated<number>[]> | undefined)[]>;
type Whole = {
  readonly on?: Stated<string>;
  readonly corners?: Corners;
  readonly margin?: Stated<number>;
};

/** Where wheels or feet stand; nothing after a finding. */
export function resolveSupport(
  scope: Scope,
  { support }: RigFields,
  joints: readonly ResolvedJoint[],
): Support | undefined {
  if (!support) return undefined;
  const isList = Array.isArray(support.value);
  const { on, corners, margin }: Whole = isList ? { corners: support as Corners } : (support.value as Whole);
  if (!corners) return undefined;
  const link = on ? bindLink(scope, on, joints) : -1;
  const points = corners.value.flatMap((corner) => (corner ? [vec2(corner)] : []));
  if (points.length < corners.value.length || link === undefined) return undefined;
  if (points.length < 3) {
    report(scope, "wrong-type", corners.span, "`support` is a polygon: give three corners [x, y] or more.");
    return undefined;
  }
  if (convexHull(points).length < 3) {
    const message =
      "The corners of `support` are all on one line, on which nothing stands: give the feet on both sides.";
    report(scope, "bad-number", corners.span, message);
    return undefined;
  }
  const tilting = on && tiltingJoint(joints, link);
  if (tilting) {
    const message = `\`${on.value}\` cannot carry the feet: \`${tilting}\` tilts it against the base. Name the link that rolls along with them, or \`base\`.`;
    report(scope, "degenerate-chain", on.span, message, { axis: on.value });
    return undefined;
  }
  return {
    link,
    corners: points,
    ...(margin ? { margin: margin.value } : {}),
    origin: originOf(scope, corners.span),
    marginOrigin: margin ? originOf(scope, margin.span) : 0,
  };
}

/** How far a direction may be off the upright: rounding of angles written in degrees. */
const UPRIGHT = 1 - 1e-9;

/** The name of the first joint up to `link` that does not leave a link upright. */
function tiltingJoint(joints: readonly ResolvedJoint[], link: number): string | undefined {
  const up: Vec3 = [0, 0, 1];
  for (const { name, type, origin, along } of joints.slice(0, link + 1)) {
    const isLevel = rotateByQuat(invertQuat(origin.turn), up)[2] >= UPRIGHT;
    if (!isLevel || (type === "rotary" && Math.abs(dot(along, up)) < UPRIGHT)) return name;
  }
  return undefined;
}
