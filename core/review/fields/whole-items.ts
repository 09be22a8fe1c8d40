import { elementPath } from "../element.ts";
import type { FieldChange } from "../review.ts";
import { saysSame, type SameNames } from "./said-same.ts";
import type { Said } from "./said.ts";
import type { SaidField, SaidFields, SaidItem } from "./said-fields.ts";
import { placesOf, textAt, type SaidSide } from "./said-side.ts";

/** An item that the side after has under another name. */
export interface RenamedItem {
  /** Names that lead to the list or map that it stands in. */
  readonly parent: readonly string[];
  readonly was: string;
  readonly is: string;
  readonly change: FieldChange;
}

/** Items that only their names tell from one of the other side. */
export function renamedItems(before: SaidSide, after: SaidSide, names: SameNames): RenamedItem[] {
  const gone = loneItems(before.said, after.said);
  return loneItems(after.said, before.said).flatMap((item): RenamedItem[] => {
    const same = gone.find((other) => other.parent === item.parent && isRenamed(other, item, names));
    if (!same) return [];
    gone.splice(gone.indexOf(same), 1);
    const change = wholeChange(before, after, same, item);
    return [{ parent: item.item.path.slice(0, -1), was: lastOf(same), is: lastOf(item), change }];
  });
}

export interface WholeItem {
  readonly item: SaidItem;
  readonly change: FieldChange;
}

/** For each field of an item that only one side has: the item, and what is told of it. */
interface WholeItems {
  readonly before: Map<string, WholeItem>;
  readonly after: Map<string, WholeItem>;
}

export function wholeItems(before: SaidSide, after: SaidSide, names: SameNames): WholeItems {
  const gone = loneItems(before.said, after.said);
  const added = loneItems(after.said, before.said);
  const out = { before: new Map<string, WholeItem>(), after: new Map<string, WholeItem>() };
  const cover = (side: "before" | "after", item: LoneItem, change: FieldChange): void => {
    for (const path of item.fields.keys()) out[side].set(path, { item: item.item, change });
  };
  for (const item of added) {
    const same = gone.find((other) => other.parent === item.parent && isRenamed(other, item, names));
    if (same) gone.splice(gone.indexOf(same), 1);
    const change = wholeChange(before, after, same, item);
    cover("after", item, change);
    if (same) for (const path of same.fields.keys()) out.before.set(path, { item: item.item, change });
  }
  for (const item of gone) cover("before", item, wholeChange(before, after, item, undefined));
  return out;
}

/** An item that the other side lacks, with its fields. A single value with a free name is a field like others. */
interface LoneItem {
  readonly item: SaidItem;
  /** Path of the list or map that it stands in. */
  readonly parent: string;
  readonly fields: ReadonlyMap<string, SaidField>;
}

function loneItems(side: SaidFields, other: SaidFields): LoneItem[] {
  const lone: LoneItem[] = [];
  for (const [path, item] of side.items) {
    if (other.items.has(path) || lone.some(({ item: outer }) => isWithin(path, elementPath(outer.path)))) continue;
    const fields = new Map([...side.fields].filter(([name]) => isWithin(name, path)));
    if (fields.has(path)) continue;
    lone.push({ item, parent: elementPath(item.path.slice(0, -1)), fields });
  }
  return lone;
}

export const isWithin = (path: string, outer: string): boolean =>
  path === outer || path.startsWith(`${outer}.`) || path.startsWith(`${outer}[`);

/** Whether an item says the same as another one but for its own name. */
function isRenamed(before: LoneItem, after: LoneItem, names: SameNames): boolean {
  const [was, is] = [before, after].map(withoutName);
  if (was.size === 0 || was.size !== is.size) return false;
  return [...was].every(([path, said]) => {
    const other = is.get(path);
    return other !== undefined && saysSame(said, other, names);
  });
}

/** Fields of an item by the path within it, without the one that is its name. */
function withoutName({ item, fields }: LoneItem): Map<string, Said> {
  const depth = item.path.length;
  const name = item.path[depth - 1];
  const inner = [...fields.values()].map(({ path, said }): [string, Said] => [elementPath(path.slice(depth)), said]);
  return new Map(inner.filter(([path, said]) => !(isNaming(path) && "text" in said && said.text === name)));
}

const isNaming = (path: string): boolean => path === "name" || path === "axis";

function wholeChange(
  before: SaidSide,
  after: SaidSide,
  was: LoneItem | undefined,
  is: LoneItem | undefined,
): FieldChange {
  const place = placesOf(before, after, was?.item, is?.item);
  const field = elementPath((is ?? was)?.item.path ?? []);
  if (was && is) return { field, was: lastOf(was), is: lastOf(is), place };
  return {
    field,
    ...(was ? { was: textAt(before, was.item.span) } : {}),
    ...(is ? { is: textAt(after, is.item.span) } : {}),
    place,
  };
}

const lastOf = ({ item }: LoneItem): string => item.path[item.path.length - 1];
