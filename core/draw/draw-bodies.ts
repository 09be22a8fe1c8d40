import { applyPose } from "../base/pose.ts";
import { rotateByQuat } from "../base/quat.ts";
import { dot, subtract, type Vec2, type Vec3 } from "../base/vec3.ts";
import { backToFront } from "./depth-order.ts";
import { lineOn, type Eye } from "./eye.ts";
import { outlineOn } from "./outline.ts";
import type { PlacedSolid } from "./shot.ts";
import { drawnSolid, type DrawnFace } from "./solid-corners.ts";
import { tag, way } from "./svg.ts";

export interface DrawnBodies {
  readonly svg: string;
  /** Middle of the outline of each body that is to be seen. */
  readonly middles: readonly { readonly placed: PlacedSolid; readonly at: Vec2 }[];
}

/** Bodies as their outlines, those in front over those behind, with the edges of the faces that are turned to the eye. */
export function drawBodies(eye: Eye, solids: readonly PlacedSolid[]): DrawnBodies {
  const outlined = solids.flatMap((placed) => {
    const drawn = drawnSolid(placed.solid);
    if (!drawn) return [];
    const outline = outlineOn(eye, drawn.corners.map((corner) => applyPose(placed.pose, corner))); // prettier-ignore
    return outline.length < 3 ? [] : [{ placed, outline, faces: drawn.faces }];
  });
  const svg = backToFront(eye, outlined).map(({ placed, outline, faces }) => {
    const edges = faces.filter((face) => isTurnedTo(eye, placed, face)).map((face) => edgesOf(eye, placed, face));
    const inside = edges.some((one) => one !== "") ? tag("path", { class: "face", d: edges.join("") }) : "";
    return tag("g", { class: `body ${placed.part}` }, tag("path", { d: way(outline, "close") }) + inside);
  });
  return {
    svg: svg.join("\n"),
    middles: outlined.map(({ placed, outline }) => ({ placed, at: middleOf(outline) })),
  };
}

function isTurnedTo(eye: Eye, { pose }: PlacedSolid, { out, ring }: DrawnFace): boolean {
  const normal = rotateByQuat(pose.turn, out);
  const towards: Vec3 =
    eye.kind === "parallel"
      ? (eye.ahead.map((part) => -part) as unknown as Vec3)
      : subtract(eye.position, applyPose(pose, ring[0]));
  return dot(normal, towards) > 1e-6 * Math.hypot(...towards);
}

function edgesOf(eye: Eye, { pose }: PlacedSolid, { ring }: DrawnFace): string {
  const corners = ring.map((corner) => applyPose(pose, corner));
  return corners.map((corner, idx) => way(lineOn(eye, corner, corners[(idx + 1) % corners.length]) ?? [])).join("");
}

function middleOf(outline: readonly Vec2[]): Vec2 {
  const [xs, ys] = [outline.map(([x]) => x), outline.map(([, y]) => y)];
  return [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
}
