import type { Vec3 } from "../base/vec3.ts";
import { axisDimension } from "../model/axis-quantity.ts";
import type { Trajectory } from "../motion/trajectory.ts";
import { entryOf, type MapNode } from "../syntax/tree.ts";
import { checked, fieldEdits, flowList, flowMap, type FieldChange, type Rewriting } from "./field-edits.ts";
import { isAimed, writableAxes } from "./key-aimed.ts";
import { keyItems, keyMap } from "./key-item.ts";
import type { MoveText } from "./times/time-edits.ts";
import { axisUnit, pointUnit, storedText } from "./neighbour-units.ts";

/** A move's text and how it goes. */
export interface SolvedText extends MoveText {
  readonly trajectory: Trajectory;
}

/**
 * Gives a key the values that its driven axes have at its time. A camera point goes: it would give them too. What the aim
 * solves is left to the aim. `undefined` where the key gives them all already, or is not written in one place.
 */
export function writeAxes(document: SolvedText, key: number): Rewriting | undefined {
  const { move } = document;
  const map = keyMap(document, key);
  if (!map) return undefined;
  const stated = new Set(move.keys[key].axes.map(({ axis }) => axis));
  const camera = entryOf(map, "camera");
  const writable = writableAxes(move, key).filter((axis) => !stated.has(axis));
  if (writable.length === 0) return camera ? { refusal: "the aim solves all axes of this rig" } : undefined;
  const fields = axisFields(document, key, writable);
  const axes = entryOf(map, "axes")?.value;
  if (axes !== undefined && axes.kind !== "map") return undefined;
  if (camera && !axes) {
    const value = flowMap(document.tree, fields);
    return whole(document, map, [{ kind: "replace", name: "camera", by: "axes", value }]);
  }
  const inner = axes
    ? fieldEdits(document, axes, setAll(fields))
    : fieldEdits(document, map, [{ kind: "set", name: "axes", value: flowMap(document.tree, fields) }]);
  const outer = camera ? fieldEdits(document, map, [{ kind: "remove", name: "camera" }]) : [];
  return checked(document, [...inner, ...outer]);
}

/** How finely the place of a camera key is written [m]: rigs of few axes reach only what lies exactly on their way. */
export type Fineness = "stored" | "exact" | "whole";

/**
 * Gives a key the place of the entrance pupil at its time instead of the driven axes that bring it there. Turntables keep
 * their values. `undefined` for a key that gives no driven axis.
 */
export function writeCamera(document: SolvedText, key: number, fineness: Fineness): Rewriting | undefined {
  const { move, trajectory, tree } = document;
  const map = keyMap(document, key);
  const axes = entryOf(map, "axes")?.value;
  const driven = move.keys[key].axes.filter(({ axis }) => move.axes[axis].role === "driven");
  if (!map || axes?.kind !== "map" || entryOf(map, "camera") || driven.length === 0) return undefined;
  if (!isAimed(move, key)) return { refusal: "a camera key needs an aim, or nothing says where the camera looks" };
  const instant = trajectory.createInstant();
  trajectory.at(move.keys[key].time, instant);
  const camera = flowMap(tree, [["at", pointText(document, key, [...instant.position] as unknown as Vec3, fineness)]]);
  const names = driven.map(({ axis }) => move.axes[axis].name);
  if (axes.entries.every(({ name }) => names.includes(name))) {
    return whole(document, map, [{ kind: "replace", name: "axes", by: "camera", value: camera }]);
  }
  return checked(document, [
    ...fieldEdits(
      document,
      axes,
      names.map((name) => ({ kind: "remove", name })),
    ),
    ...fieldEdits(document, map, [{ kind: "set", name: "camera", value: camera }]),
  ]);
}

/** Names and values of axes as keys near `key` write them, at played time `time` [s], or at the key's own. */
export function axisFields(
  document: SolvedText,
  key: number,
  axes: readonly number[],
  time = document.move.keys[key].time,
): (readonly [string, string])[] {
  const { move, trajectory } = document;
  const items = keyItems(document) ?? [];
  const instant = trajectory.createInstant();
  trajectory.at(time, instant);
  return axes.map((axis) => {
    const { name, type } = move.axes[axis];
    return [name, storedText(instant.value[axis], axisDimension(type, 0), axisUnit(items, key, name))];
  });
}

/** A place in the set [m] as keys near `key` write places of the camera. */
export function pointText(document: SolvedText, key: number, place: Vec3, fineness: Fineness): string {
  const unit = pointUnit(keyItems(document) ?? [], key);
  return flowList(
    document.tree,
    place.map((value) => storedText(value, "length", unit, STEPS[fineness])),
  );
}

/** Steps of places [m]; absent: as solved values are stored. On one path nothing may turn where it is cut. */
const STEPS: Readonly<Record<Fineness, number | undefined>> = { stored: undefined, exact: 1e-9, whole: 1e-12 };

const setAll = (fields: readonly (readonly [string, string])[]): FieldChange[] =>
  fields.map(([name, value]) => ({ kind: "set", name, value }));

const whole = (document: SolvedText, map: MapNode, changes: readonly FieldChange[]): Rewriting =>
  checked(document, fieldEdits(document, map, changes));
