import { aimingAxes } from "../model/move-context.ts";
import { axisDimension } from "../model/axis-quantity.ts";
import type { ResolvedKey } from "../motion/resolved-move.ts";
import { entryOf, valueOf, type TreeNode } from "../syntax/tree.ts";
import type { Vec3 } from "../base/vec3.ts";
import type { TextEdits } from "./apply-edits.ts";
import { checked, fieldEdits, flowList, flowMap, type Rewriting } from "./field-edits.ts";
import { isAimed } from "./key-aimed.ts";
import { keyItems, keyMap } from "./key-item.ts";
import { rigMirror, type RigMirror } from "./mirror-axes.ts";
import { mirroredTests } from "./mirror-tests.ts";
import type { Mirroring } from "./mirror-miss.ts";
import { isOnPlane, mirroredPoint, mirroredVector, partnerOf, type Plane } from "./mirror-plane.ts";
import { affineEdit, flippedShare, pointEdits, Unwritable } from "./mirror-values.ts";
import { storedText } from "./neighbour-units.ts";
import { isWithin, sharedSpans } from "./time-fields.ts";
import { pointText, type SolvedText } from "./write-axes.ts";

/** A move in a mirror, and what it must then be. */
export interface MirroredMove {
  readonly rewriting: Rewriting;
  readonly by: Mirroring;
  /** Whether the base of the rig goes to its mirrored place. */
  readonly movesBase: boolean;
  /** Whether keys give the camera's place instead of axes, as the rig is not alike on both sides. */
  readonly byCamera: boolean;
}

/**
 * The move with left and right exchanged: places of the camera, axes, framings, rolls, turntables, and for each target that
 * which stands for it on the other side. The set stays as it is.
 */
export function mirrorMove(document: SolvedText, plane: Plane): MirroredMove {
  const { move } = document;
  const used = usedTargets(document);
  const partner = move.targets.map((_, target) => (used.has(target) ? partnerOf(move, target, plane) : -1));
  const by = { plane, partner };
  const rig = rigMirror(move, plane);
  const facts = { by, movesBase: rig?.place !== undefined, byCamera: rig === undefined };
  const refuse = (refusal: string): MirroredMove => ({ rewriting: { refusal }, ...facts });
  const lone = [...used].find((target) => partner[target] < 0);
  if (lone !== undefined) {
    return refuse(
      `\`${move.targets[lone].name}\` is not on the plane, and no target of the set stands for it on the other side`,
    );
  }
  if (!keyItems(document)) return refuse("a key of the text could not be read: mend it first");
  const table = move.axes.find(
    ({ turntable }, axis) =>
      0 <= turntable &&
      !isOnPlane(move, turntable, plane) &&
      move.keys.some((key) => key.axes.some((one) => one.axis === axis)),
  );
  if (table) return refuse(`\`${table.name}\` turns about an axis that does not stand on the plane`);
  const edits: TextEdits[number][] = [];
  for (const [key, { label }] of move.keys.entries()) {
    const made = keyMap(document, key)
      ? keyEdits(document, key, by, rig)
      : new Unwritable("it is repeated elsewhere (`&name`, `*name`)");
    if (made instanceof Unwritable) return refuse(`\`${label}\` cannot be written anew: ${made.why}`);
    edits.push(...made);
  }
  const whole = wholeEdits(document, by, rig);
  if (whole instanceof Unwritable) return refuse(whole.why);
  const all = [...edits, ...whole];
  const shared = sharedSpans(document.tree);
  if (all.some(({ span }) => isWithin(span, shared)))
    return refuse("a value is repeated elsewhere (`&name`, `*name`): write it out first");
  return { rewriting: checked(document, all), ...facts };
}

/** Targets that the move speaks of. */
function usedTargets({ move }: SolvedText): ReadonlySet<number> {
  const used = new Set<number>();
  for (const { aim, focus, camera, path } of move.keys) {
    if (aim?.kind === "target") used.add(aim.target);
    if (focus?.kind === "target") used.add(focus.target);
    if (camera?.kind === "offset") used.add(camera.from);
    if (path?.kind === "arc-about") used.add(path.target);
  }
  for (const { targets } of move.passes) for (const target of Object.keys(targets)) used.add(Number(target));
  for (const { of, measure } of move.expectations ?? []) {
    if (0 <= measure.subject && move.targets.some(({ name }) => of.startsWith(`${name}.`))) used.add(measure.subject);
  }
  return used;
}

type Edits = TextEdits | Unwritable;

/** All of several edits, or why one of them cannot be made. */
function together(parts: readonly Edits[]): Edits {
  const not = parts.find((part) => part instanceof Unwritable);
  return not ?? parts.flatMap((part) => (part instanceof Unwritable ? [] : part));
}

function keyEdits(document: SolvedText, key: number, by: Mirroring, rig: RigMirror | undefined): Edits {
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

/** The name of a target that stands in the text becomes that of its partner; other words stay. */
function partnerEdit({ move, text }: SolvedText, node: TreeNode | undefined, { partner }: Mirroring): Edits {
  if (node?.kind !== "scalar" || typeof node.value !== "string") return [];
  const target = move.targets.findIndex(({ name }) => name === node.value);
  if (target < 0 || partner[target] < 0 || partner[target] === target) return [];
  const mark = node.style === "quoted" ? text[node.start] : "";
  return [{ span: { start: node.start, end: node.end }, text: mark + move.targets[partner[target]].name + mark }];
}

/** Values of axes by name, of a key, of `setup`, `near` or the way back. */
function axesEdits(document: SolvedText, node: TreeNode | undefined, { axes }: RigMirror): Edits {
  const { move } = document;
  const map = valueOf(node);
  if (map?.kind !== "map") return [];
  return together(
    map.entries.map(({ name, value }) => {
      const axis = move.axes.findIndex((one) => one.name === name);
      if (axis < 0) return [];
      const { sign, offset } = axes[axis];
      return affineEdit(document, value, axisDimension(move.axes[axis].type, 0), sign, offset);
    }),
  );
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

/** What the move says beside its keys. */
function wholeEdits(document: SolvedText, by: Mirroring, rig: RigMirror | undefined): Edits {
  const { move, tree } = document;
  const field = (name: string): TreeNode | undefined => entryOf(tree.root, name)?.value;
  const back = valueOf(entryOf(field("return"), "via")?.value);
  const through = back?.kind === "list" ? back.items.map((item) => entryOf(item, "axes")?.value) : [];
  if (!rig && (0 < through.length || field("near"))) {
    return new Unwritable(
      "the rig is not alike on both sides of the plane, so values in `near` or `return` cannot be told",
    );
  }
  const passes = valueOf(field("passes"));
  const shifted = passes?.kind === "list" ? passes.items.map((item, i) => passEdits(document, item, i, by)) : [];
  return together([
    ...(rig ? [field("setup"), field("near"), ...through].map((node) => axesEdits(document, node, rig)) : []),
    rig?.place ? placeEdits(document, rig.place) : [],
    ...shifted,
    mirroredTests(document, by, rig?.axes ?? move.axes.map(() => ({ sign: 1, offset: 0 }))),
  ]);
}

/** Where targets stand in a pass: on the other side, and so do their shifts. */
function passEdits(document: SolvedText, item: TreeNode | undefined, pass: number, by: Mirroring): Edits {
  const { move, tree } = document;
  const targets = valueOf(entryOf(item, "targets")?.value);
  if (targets?.kind !== "map") return [];
  return together(
    targets.entries.map((entry) => {
      const target = move.targets.findIndex(({ name }) => name === entry.name);
      const shift = move.passes[pass]?.targets[target];
      if (!shift) return [];
      const other = move.targets[by.partner[target]].name;
      const { start, end } = entry.nameSpan;
      const named =
        other === entry.name
          ? []
          : [{ span: { start, end }, text: tree.format === "json" ? JSON.stringify(other) : other }];
      return together([
        named,
        pointEdits(document, entryOf(entry.value, "shift")?.value, "length", shift, mirroredVector(shift, by.plane)),
      ]);
    }),
  );
}

function placeEdits(document: SolvedText, { at, heading, roll }: NonNullable<RigMirror["place"]>): Edits {
  const { move, tree } = document;
  const root = tree.root;
  const place = entryOf(root, "place");
  const point = flowList(
    tree,
    at.map((value) => storedText(value, "length", "", 1e-9)),
  );
  const angle = storedText(heading, "angle", "", 1e-9);
  const lean = flowList(
    tree,
    [roll, move.base.lean[1]].map((value) => storedText(value, "angle", "", 1e-9)),
  );
  if (root?.kind !== "map") return new Unwritable("the move is no map");
  const leans = move.base.lean[0] !== 0;
  if (!place)
    return fieldEdits(document, root, [
      {
        kind: "set",
        name: "place",
        value: flowMap(tree, [
          ["at", point],
          ["heading", angle],
        ]),
      },
    ]);
  const map = place.value;
  if (map?.kind !== "map") return new Unwritable("the `place` of the base is repeated elsewhere");
  const has = (name: string): boolean => entryOf(map, name) !== undefined;
  return fieldEdits(document, map, [
    { kind: "set", name: "at", value: point },
    ...(has("heading") || angle !== "0" ? [{ kind: "set", name: "heading", value: angle } as const] : []),
    ...(leans ? [{ kind: "set", name: "lean", value: lean } as const] : []),
  ]);
}
