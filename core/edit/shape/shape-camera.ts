import { formatQuantity } from "../../base/units.ts";
import { add, length, normalise, scale, subtract, type Vec3 } from "../../base/vec3.ts";
import { invertQuat, quatAbout, rotateByQuat, type Quat } from "../../base/quat.ts";
import { axisDimension } from "../../model/axis-quantity.ts";
import { aimingAxes } from "../../model/move-context.ts";
import type { ResolvedCameraPoint } from "../../motion/resolved-move.ts";
import { entryOf, type TreeNode } from "../../syntax/tree.ts";
import { isAimed } from "../key-aimed.ts";
import { keyMap } from "../key-item.ts";
import { createCameraReach, type Brought, type CameraReach } from "./camera-reach.ts";
import { putAxes } from "./key-number.ts";
import { putNumbers } from "./put-number.ts";
import { keyLabel, repeated, type ShapedMove, type Shaping, type ShapeStop } from "./shaped.ts";

/** How finely solved axes are written: the camera is then within 1 mm on the rigs there are. */
const STEPS = { length: 1e-4, angle: (0.01 * Math.PI) / 180 } as const;

/** Places nearer to each other than this are one to a hand [m]. */
const HANDS = 2e-3;

/**
 * Brings the camera to another place at a key [m, set]: the place is written where the key gives one, else the values of the
 * axes that it gives. Beyond the rig's reach the nearest place is taken, and the stop says why.
 */
export function shapeCamera(document: ShapedMove, key: number, wanted: Vec3): Shaping {
  const { move } = document;
  const { camera } = move.keys[key];
  return camera ? inPlace(document, key, camera, wanted) : inAxes(document, key, wanted);
}

function inAxes(document: ShapedMove, key: number, wanted: Vec3): Shaping {
  const { move, file } = document;
  const aiming = isAimed(move, key) ? aimingAxes(move.rig, move.axes) : new Set<number>();
  const given = move.keys[key].axes
    .map(({ axis }) => axis)
    .filter((axis) => move.axes[axis].role === "driven" && !aiming.has(axis));
  const label = keyLabel(move, key);
  if (given.length === 0) {
    return { refusal: `${label} gives neither \`axes\` nor a place of the camera: let it give its axes first` };
  }
  const reach = createCameraReach(document, key, given);
  const brought = reach.bring(wanted);
  const wishes = given.map((axis) => {
    const { name, type, joint } = move.axes[axis];
    return { name, dimension: axisDimension(type, 0) as "length" | "angle", value: brought.q[joint] };
  });
  const made = putAxes(document, key, wishes, STEPS);
  if ("refusal" in made) return made;
  const names = wishes.map(({ name, dimension, value }) => `\`${name}\` ${formatQuantity(value, dimension)}`);
  return { file, edits: made.edits, says: `${label}: ${names.join(", ")}`, ...stopOf(document, brought) };
}

/** Between how a key counts the camera's place and the set. */
interface Frame {
  readonly node: TreeNode | undefined;
  toSet(written: readonly number[]): Vec3;
  fromSet(place: Vec3): Vec3;
}

function inPlace(document: ShapedMove, key: number, camera: ResolvedCameraPoint, wanted: Vec3): Shaping {
  const { move, file } = document;
  const label = keyLabel(move, key);
  const { axes } = move.keys[key];
  const stated = new Set(axes.map(({ axis }) => axis));
  const driven = move.axes.flatMap(({ role, joint }, axis) => {
    const isRoll = 0 <= joint && move.rig.head?.roll === joint;
    return role === "driven" && !stated.has(axis) && !isRoll ? [axis] : [];
  });
  const reach = createCameraReach(document, key, driven);
  const frame = frameOf(document, key, camera, reach);
  const brought = reach.bring(wanted);
  const put = written(document, frame, reach, brought.reached ? wanted : brought.at);
  if (put === "repeated") return repeated(`the camera's place at ${label}`);
  const stop = stopOf(document, brought);
  if (put === "none") {
    return { refusal: stop.stop?.words ?? "the rig brings the camera to no place that can be written there" };
  }
  const says = `${label}: camera at ${put.at.map((value) => formatQuantity(value, "length")).join(", ")}`;
  return { file, edits: put.edits, says, ...stop };
}

/** Steps of places [m], coarse first: rigs of few axes reach only what lies exactly on their way. Absent: as it stands. */
const FINER = [undefined, 1e-6, 1e-9, 1e-12] as const;
/** By how much a place on the edge of what can be reached is drawn back until its rounding is inside [m]. */
const BACK = [0, 1e-3, 2e-3, 4e-3, 8e-3] as const;

function written({ text, tree }: ShapedMove, frame: Frame, reach: CameraReach, place: Vec3) {
  const back = normalise(subtract(reach.from, place)) ?? [0, 0, 0];
  for (const step of FINER) {
    for (const by of step === undefined ? BACK : [0]) {
      const near = add(place, scale(back, Math.min(by, length(subtract(reach.from, place)))));
      const put = putNumbers({ text, tree }, frame.node, frame.fromSet(near), "length", step);
      if (!put) return "repeated";
      const at = frame.toSet(put.values);
      if (put.edits.length === 0 || reach.bring(at).reached) return { edits: put.edits, at };
    }
  }
  return "none";
}

function frameOf(
  { move, ...document }: ShapedMove,
  key: number,
  camera: ResolvedCameraPoint,
  reach: CameraReach,
): Frame {
  const entry = entryOf(keyMap({ move, ...document }, key), "camera");
  const fields = entry?.value?.kind === "map" ? entry.value : undefined;
  if (camera.kind === "at") {
    const asIs = (place: readonly number[]): Vec3 => [place[0], place[1], place[2]];
    return { node: entryOf(fields, "at")?.value, toSet: asIs, fromSet: asIs };
  }
  const { targets, value } = reach.instant;
  const from: Vec3 = [targets[3 * camera.from], targets[3 * camera.from + 1], targets[3 * camera.from + 2]];
  const axis = move.axes.findIndex(({ turntable }) => 0 <= turntable && turntable === camera.in);
  const table = camera.in === undefined ? undefined : move.turntables[camera.in];
  const turn: Quat = table && 0 <= axis ? quatAbout(table.along, value[axis]) : [0, 0, 0, 1];
  return {
    node: entryOf(fields, "offset")?.value,
    toSet: ([x, y, z]) => add(from, rotateByQuat(turn, [x, y, z])),
    fromSet: (place) => rotateByQuat(invertQuat(turn), subtract(place, from)),
  };
}

function stopOf({ move }: ShapedMove, { reached, at, miss, stoppedBy }: Brought): { readonly stop?: ShapeStop } {
  if (reached || miss <= HANDS) return {};
  const left = `${formatQuantity(miss, "length")} are left`;
  const names = stoppedBy.map((axis) => `\`${move.axes[axis].name}\``);
  if (names.length === 0) return { stop: { words: `the axes bring the camera no nearer: ${left}`, at } };
  const ends = names.length === 1 ? "is at the end of its range" : "are at the ends of their ranges";
  return { stop: { words: `${names.join(" and ")} ${ends}: ${left}`, at } };
}
