import { applyPose, composePoses } from "../base/pose.ts";
import type { Body, PointMass, Solid } from "../rig/resolved-rig.ts";
import type { HungLink, SerialChain } from "../urdf/serial-chain.ts";
import type { UrdfShape } from "../urdf/urdf.ts";
import { meshHull } from "./mesh-hull.ts";
import { findMesh, noMeshFaults, reportMeshes, type MeshFaults } from "./urdf-meshes.ts";
import type { UrdfReporter } from "./urdf-file.ts";

/** What the links of the chain carry, fixed branches included. A mesh that is missing keeps its body and has a finding. */
export function urdfLoads(
  to: UrdfReporter,
  { carried }: SerialChain,
): { readonly bodies: Body[]; readonly masses: PointMass[] } {
  const faults = noMeshFaults();
  const bodies = carried.flatMap((hung) => bodiesOf(to, hung, faults));
  reportMeshes(to, faults);
  const masses = carried.flatMap(({ link, on, pose }): PointMass[] => {
    if (!link.inertial) return [];
    const { at, mass } = link.inertial;
    const origin = to.scope.resolution.origins.add(to.urdf.file, link.name.span);
    return [{ name: link.name.value, link: on, at: applyPose(pose, at), mass, origin }];
  });
  return { bodies, masses };
}

/** Collision shapes stop, visual shapes are seen; where a link has but one of the two, it is for both. */
function bodiesOf(to: UrdfReporter, hung: HungLink, faults: MeshFaults): Body[] {
  const { collisions, visuals } = hung.link;
  const alike = JSON.stringify(collisions.map(bare)) === JSON.stringify(visuals.map(bare));
  if (collisions.length === 0 || visuals.length === 0 || alike) {
    return placed(to, hung, collisions.length === 0 ? visuals : collisions, faults, {});
  }
  return [
    ...placed(to, hung, collisions, faults, { only: "clearance" }),
    ...placed(to, hung, visuals, faults, { only: "looks" }),
  ];
}

/** A shape without its name and its place in the file. */
function bare({ pose, solid }: UrdfShape): unknown {
  return { pose, solid: solid.shape === "mesh" ? { ...solid, file: solid.file.value } : solid };
}

function placed(
  to: UrdfReporter,
  { link, on, pose }: HungLink,
  shapes: readonly UrdfShape[],
  faults: MeshFaults,
  use: Pick<Body, "only">,
): Body[] {
  const origin = to.scope.resolution.origins.add(to.urdf.file, link.name.span);
  return shapes.map((shape, idx) => ({
    name: shape.name ?? (idx === 0 ? link.name.value : `${link.name.value} ${idx + 1}`),
    link: on,
    pose: composePoses(pose, shape.pose),
    solid: solidOf(to, shape.solid, faults, use),
    ...use,
    origin,
  }));
}

/** What is but looked at needs no hull. */
function solidOf(to: UrdfReporter, solid: UrdfShape["solid"], faults: MeshFaults, use: Pick<Body, "only">): Solid {
  if (solid.shape !== "mesh") return solid;
  const { file: written, scale } = solid;
  const file = findMesh(to, written, use.only, faults);
  const hull = use.only === "looks" ? undefined : meshHull(to.scope.resolution, file, scale);
  if (hull && "fault" in hull) {
    if (!faults.broken.has(file)) faults.broken.set(file, { written, fault: hull.fault });
    return { shape: "mesh", file, scale };
  }
  return { shape: "mesh", file, scale, ...hull };
}
