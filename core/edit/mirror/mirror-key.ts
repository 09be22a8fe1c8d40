import type { Vec3 } from "../../base/vec3.ts";
import { aimingAxes } from "../../model/move-context.ts";
import type { ResolvedKey } from "../../motion/resolved-move.ts";
import { entryOf, valueOf, type TreeNode } from "../../syntax/tree.ts";
import { fieldEdits, flowMap } from "../field-edits.ts";
import { isAimed } from "../key-aimed.ts";
import { keyItems, keyMap } from "../key-item.ts";
import type { RigMirror } from "./mirror-axes.ts";
import { axesEdits, partnerEdit, together, type Edits } from "./mirror-fields.ts";
import type { Mirroring } from "./mirror-miss.ts";
import { mirroredPoint, mirroredVector, type Plane } from "./mirror-plane.ts";
import { affineEdit, flippedShare, pointEdits, Unwritable } from "./mirror-values.ts";
import { pointText, type SolvedText } from "../write-axes.ts";

/** What a key gives, in the mirror; without a mirrored rig by the camera's place. */
export function mirroredKey(document: SolvedText, key: number, by: Mirroring, rig: RigMirror | undefined): Edits {
  const { move } = document;
  const item = keyItems(document)?.[key];
  const field = (name: string): TreeNode | undefined => entryOf(item, name)?.value;
  const { camera, path, roll }: ResolvedKey = move.keys[key];
  const at = field("camera");
  const arc = entryOf(field("path"), "arc")?.value;
  const inside = (node: TreeNode | undefined, name: string): TreeNode | undefined => entryOf(node, name)?.value;
  const aim = field("aim");
  const framing = inside(aim, "framing");
  const across = valueOf(inside(framing, "delivered") ?? framing);
  return together([
    rig ? axesEdits(document, field("axes"), rig) : byCamera(document, key, by.plane),
    aim?.kind === "map" ? partnerEdit(document, inside(aim, "at"), by) : partnerEdit(document, aim, by),
    framing && across?.kind === "list" ? flippedShare(document, across.items[0]) : [],
    partnerEdit(document, field("focus"), by),
    roll?.kind === "angle" ? affineEdit(document, field("roll"), "angle", -1, 0) : [],
    camera?.kind === "at"
      ? pointEdits(document, inside(at, "at"), "length", camera.at, mirroredPoint(camera.at, by.plane))
      : [],
    camera?.kind === "offset"
      ? together([
          pointEdits(document, inside(at, "offset"), "length", camera.offset, mirroredVector(camera.offset, by.plane)),
          partnerEdit(document, inside(at, "from"), by),
        ])
      : [],
    path?.kind === "arc-via"
      ? pointEdits(document, inside(arc, "via"), "length", path.via, mirroredPoint(path.via, by.plane))
      : [],
    path?.kind === "arc-about" ? aboutEdits(document, arc, path.along, by) : [],
  ]);
}

function aboutEdits(document: SolvedText, arc: TreeNode | undefined, along: Vec3, by: Mirroring): Edits {
  const seen = mirroredVector(along, by.plane);
  const stated = entryOf(arc, "along")?.value;
  const turns = stated ? pointEdits(document, stated, "number", along, seen) : [];
  return together([partnerEdit(document, entryOf(arc, "about")?.value, by), turns]);
}

/** A rig that is not alike on both sides: the key gives the camera's place instead of its axes. */
function byCamera(document: SolvedText, key: number, plane: Plane): Edits {
  const { move, trajectory, tree } = document;
  const map = keyMap(document, key)!;
  const axes = entryOf(map, "axes")?.value;
  const driven = move.keys[key].axes.filter(({ axis }) => move.axes[axis].role === "driven");
  const turning =
    axes?.kind === "map"
      ? axes.entries.filter(({ name }) => move.axes.some((one) => one.name === name && one.role === "turntable"))
      : [];
  const turns = together(turning.map(({ value }) => affineEdit(document, value, "angle", -1, 0)));
  if (driven.length === 0 || turns instanceof Unwritable) return turns;
  const aims = aimingAxes(move.rig, move.axes);
  if (!isAimed(move, key) || driven.some(({ axis }) => aims.has(axis))) {
    return new Unwritable("the rig is not alike on both sides of the plane, and nothing is aimed at there");
  }
  const instant = trajectory.createInstant();
  trajectory.at(move.keys[key].time, instant);
  const seen = mirroredPoint([instant.position[0], instant.position[1], instant.position[2]], plane);
  const camera = flowMap(tree, [["at", pointText(document, key, seen, "exact")]]);
  if (turning.length === 0)
    return fieldEdits(document, map, [{ kind: "replace", name: "axes", by: "camera", value: camera }]);
  if (axes?.kind !== "map") return new Unwritable("its axes are repeated elsewhere");
  const names = driven.map(({ axis }) => move.axes[axis].name);
  return [
    ...turns,
    ...fieldEdits(
      document,
      axes,
      names.map((name) => ({ kind: "remove", name })),
    ),
    ...fieldEdits(document, map, [{ kind: "set", name: "camera", value: camera }]),
  ];
}
