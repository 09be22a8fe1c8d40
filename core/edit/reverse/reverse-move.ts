import { trimmed } from "../../base/units.ts";
import { entryOf, valueOf, type ListNode, type TreeNode } from "../../syntax/tree.ts";
import type { TextEdits } from "../apply-edits.ts";
import { checked, fieldEdits, flowMap, type FieldChange, type Rewriting } from "../field-edits.ts";
import { shortestDecimal } from "../decimal.ts";
import { keyItems, keyList, keyMap } from "../key-item.ts";
import { reorderItems } from "../list-order.ts";
import { unitOf } from "../neighbour-units.ts";
import { reversedAims, type AimChange } from "./reverse-aim.ts";
import { reversedExpectations, reversedTimes } from "./reverse-times.ts";
import { reversedWays, type WayFields } from "./reverse-ways.ts";
import type { MoveText } from "../times/time-edits.ts";
import { writableNear } from "../near-values.ts";
import type { SolvedText } from "../write-axes.ts";
import { valueText } from "../value-text.ts";

/**
 * The move from its last key to its first: each key keeps what it gives and its comments, and gets its time from the end.
 * What says how a key is come to goes to the key before it, where backwards that way ends. Best first; `undefined` for a
 * move of one key.
 */
export function reverseMove(document: SolvedText): readonly Rewriting[] | undefined {
  const { move } = document;
  if (move.keys.length < 2) return undefined;
  const why = notReversible(document);
  if (why !== undefined) return [{ refusal: why }];
  const made = [false, true].map((carries) => backwards(document, carries));
  const [first] = made;
  if (!("edits" in first)) return [first];
  // Turns may begin whole turns away from where they ended: said by `near`, they begin where they did.
  const near = writableNear(document, move.keys.length - 1);
  const begun = near ? [{ edits: [...first.edits, ...near] }] : [];
  return [...made, ...begun].filter(
    (one, i, all) => all.findIndex((other) => JSON.stringify(other) === JSON.stringify(one)) === i,
  );
}

/** What keeps a move from being run backwards by its keys, as a sentence without its full stop. */
function notReversible(document: MoveText): string | undefined {
  const { move } = document;
  if (!keyItems(document)) return "a key of the text could not be read: mend it first";
  const unsure = move.keys.findIndex((_, key) => !keyMap(document, key));
  if (0 <= unsure) {
    return `\`${move.keys[unsure].label}\` is repeated elsewhere (\`&name\`, \`*name\`): write it out first`;
  }
  const list = keyList(document);
  if (list && hasAlias(list)) return "keys repeat each other (`&name`, `*name`): write them out first";
  const used = new Set(
    move.keys.flatMap(({ aim, focus, camera, path }) => [
      ...(aim?.kind === "target" ? [aim.target] : []),
      ...(focus?.kind === "target" ? [focus.target] : []),
      ...(camera?.kind === "offset" ? [camera.from] : []),
      ...(path?.kind === "arc-about" ? [path.target] : []),
    ]),
  );
  const moving = move.targets.find(({ follow }, target) => follow && used.has(target));
  return moving && `\`${moving.name}\` moves by itself, and would not run backwards with the move`;
}

function hasAlias(node: TreeNode | undefined): boolean {
  if (node?.kind === "alias") return true;
  if (node?.kind === "list") return node.items.some(hasAlias);
  return node?.kind === "map" && node.entries.some(({ value }) => hasAlias(value));
}

/** @param carries Whether what a key allows goes to the key before too: findings of a way stand where it ends. */
function backwards(document: MoveText, carries: boolean): Rewriting {
  const { move } = document;
  const list = keyList(document)!;
  const ways = reversedWays(document);
  if ("refusal" in ways) return ways;
  const aims = reversedAims(move);
  if ("refusal" in aims) return aims;
  const times = reversedTimes(document);
  if ("refusal" in times) return times;
  const tests = reversedExpectations(document);
  if ("refusal" in tests) return tests;
  const inner = move.keys.flatMap((_, key) => {
    const own = aims.filter((change) => change.key === key);
    const allow = carries ? allowOf(document, key + 1) : undefined;
    return keyEdits(document, key, ways[key], own, carries ? { allow } : {});
  });
  const kept = checked(document, [...inner, ...times, ...tests]);
  if ("refusal" in kept) return kept;
  const order = move.keys.map((_, place) => move.keys.length - 1 - place);
  const keys = reorderItems(document, list, order, [...inner, ...times]);
  if ("refusal" in keys) return keys;
  const back = reversedWayBack(document);
  return "refusal" in back ? back : { edits: [...keys.edits, ...tests, ...back.edits] };
}

const allowOf = (document: MoveText, key: number): string | undefined =>
  valueText(document, entryOf(keyItems(document)?.[key], "allow")?.value);

/** Changes of the fields of one key, where it stands. */
function keyEdits(
  document: MoveText,
  key: number,
  ways: WayFields,
  aims: readonly AimChange[],
  more: { readonly allow?: string },
): TextEdits {
  const { move, tree } = document;
  const map = keyMap(document, key);
  if (!map) return [];
  const changes: FieldChange[] = [];
  const inside: TextEdits[] = [];
  const give = (name: string, value: string | undefined): void => {
    const entry = entryOf(map, name);
    if (value === undefined) {
      if (entry) changes.push({ kind: "remove", name });
    } else if (!entry) changes.push({ kind: "set", name, value });
    else if (valueText(document, entry.value) !== value) changes.push({ kind: "replace", name, by: name, value });
  };
  for (const name of ["ease", "path", "switch"] as const) give(name, ways[name]);
  if ("allow" in more) give("allow", more.allow);
  for (const aim of aims) {
    const now = entryOf(map, "aim")?.value;
    if (aim.kind === "target" && now?.kind === "map") {
      const at = { kind: "set", name: "at", value: aim.name } as const;
      inside.push(
        now.entries.length === 0
          ? [{ span: { start: now.start, end: now.end }, text: flowMap(tree, [["at", aim.name]]) }]
          : fieldEdits(document, now, [at]),
      );
    } else give("aim", aim.kind === "none" ? "none" : aim.name);
  }
  const levels = move.keys.flatMap(({ roll }, at) => (roll ? [{ at, level: roll.kind === "level" }] : []));
  const lastRoll = levels[levels.length - 1];
  // Level is kept to the end: backwards it is kept from the first key on.
  if (key === move.keys.length - 1 && lastRoll?.level && lastRoll.at < key) give("roll", "level");
  return [...fieldEdits(document, map, changes), ...inside.flat()];
}

/** What the axes pass through on another way back, in the other order and at the other share of its time. */
function reversedWayBack(document: MoveText): Rewriting {
  const { tree, move } = document;
  const list = valueOf(entryOf(entryOf(tree.root, "return")?.value, "via")?.value);
  if (list?.kind !== "list" || move.wayBack?.kind !== "direct" || list.items.length === 0) return { edits: [] };
  if (hasAlias(list) || move.wayBack.via.length !== list.items.length) {
    return { refusal: "the way back (`return`) cannot be read, or is repeated elsewhere" };
  }
  const shares = list.items.flatMap((item) => shareEdits(document, item));
  return reorderItems(
    document,
    list as ListNode,
    list.items.map((_, i) => list.items.length - 1 - i),
    shares,
  );
}

function shareEdits({ text }: MoveText, item: TreeNode | undefined): TextEdits {
  const node = entryOf(item, "at")?.value;
  if (node?.kind !== "scalar") return [];
  const unit = unitOf(node.value) ?? "";
  const one = unit.trim() === "%" ? 100 : 1;
  const number = Number.parseFloat(String(node.value));
  const rest = one - number;
  const written = shortestDecimal(rest, (digits) => Math.abs(Number(digits) - rest) <= 1e-12) ?? trimmed(rest, 12);
  const mark = node.style === "quoted" ? text[node.start] : "";
  return [{ span: { start: node.start, end: node.end }, text: mark + written + unit + mark }];
}
