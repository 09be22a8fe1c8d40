import { entryOf, valueOf, type TreeNode } from "../../syntax/tree.ts";
import { fieldEdits, flowList, flowMap } from "../field-edits.ts";
import type { RigMirror } from "./mirror-axes.ts";
import { axesEdits, together, type Edits } from "./mirror-fields.ts";
import type { Mirroring } from "./mirror-miss.ts";
import { mirroredVector } from "./mirror-plane.ts";
import { mirroredTests } from "./mirror-tests.ts";
import { pointEdits, Unwritable } from "./mirror-values.ts";
import { storedText } from "../neighbour-units.ts";
import type { MoveText } from "../times/time-edits.ts";

/** What the move says beside its keys. */
export function mirroredWhole(document: MoveText, by: Mirroring, rig: RigMirror | undefined): Edits {
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
function passEdits(document: MoveText, item: TreeNode | undefined, pass: number, by: Mirroring): Edits {
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

function placeEdits(document: MoveText, { at, heading, roll }: NonNullable<RigMirror["place"]>): Edits {
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
