import { elementPath } from "../element.ts";
import type { FieldChange } from "../review.ts";
import { differenceOf, saysSame, type SameNames } from "./said-same.ts";
import type { SaidField, SaidItem } from "./said-fields.ts";
import { placesOf, textAt, type SaidSide } from "./said-side.ts";
import { saidWords, shortened } from "./said-words.ts";
import { isWithin, wholeItems, type WholeItem } from "./whole-items.ts";

/**
 * What is another value on the other side, in the order of the side after, what is gone last. An item that only one side
 * has is told as a whole; one that is the same under another name as renamed; a map in the place of a single value as one.
 */
export function fieldChanges(before: SaidSide, after: SaidSide, names: SameNames): FieldChange[] {
  const wholes = wholeItems(before, after, names);
  for (const form of otherForms(before, after)) {
    for (const side of ["before", "after"] as const) for (const path of form[side]) wholes[side].set(path, form.whole);
  }
  const [told, changes] = [new Set<SaidItem>(), [] as FieldChange[]];
  const tell = (item: WholeItem): void => {
    if (!told.has(item.item)) changes.push(item.change);
    told.add(item.item);
  };
  for (const [path, field] of after.said.fields) {
    const whole = wholes.after.get(path);
    const other = before.said.fields.get(path);
    if (whole) tell(whole);
    else changes.push(...changeOf(before, after, other, field, names));
  }
  for (const [path, field] of before.said.fields) {
    const whole = wholes.before.get(path);
    if (whole) tell(whole);
    else if (!after.said.fields.has(path)) changes.push(...changeOf(before, after, field, undefined, names));
  }
  return [...changes, ...orderChanges(before, after)];
}

/** A field that is a map on one side and a single value on the other, with the paths that it is told for on each. */
interface OtherForm {
  readonly whole: WholeItem;
  readonly before: readonly string[];
  readonly after: readonly string[];
}

function otherForms(before: SaidSide, after: SaidSide): OtherForm[] {
  const inner = ({ said }: SaidSide, path: string): string[] =>
    [...said.fields.keys()].filter((one) => isWithin(one, path));
  const forms = new Set([...before.said.forms.keys(), ...after.said.forms.keys()]);
  return [...forms].flatMap((path): OtherForm[] => {
    const [was, is] = [before, after].map(({ said }) => said.forms.get(path) ?? said.fields.get(path));
    const isOther = before.said.forms.has(path) !== after.said.forms.has(path);
    // A single value that is a field of the map in its other form is compared as that.
    const isLifted = before.said.fields.has(path) && after.said.fields.has(path);
    if (!was || !is || !isOther || isLifted) return [];
    const texts = { was: textAt(before, was.span), is: textAt(after, is.span) };
    const change = { field: elementPath(is.path), ...texts, place: placesOf(before, after, was, is) };
    return [{ whole: { item: is, change }, before: inner(before, path), after: inner(after, path) }];
  });
}

/** Lists of which both sides have items in another order. */
function orderChanges(before: SaidSide, after: SaidSide): FieldChange[] {
  return [...after.said.orders].flatMap(([list, is]): FieldChange[] => {
    const was = before.said.orders.get(list);
    if (!was) return [];
    const common = (one: readonly string[], other: readonly string[]): string =>
      one.filter((name) => other.includes(name)).join(", ");
    const [from, to] = [common(was.names, is.names), common(is.names, was.names)];
    const place = placesOf(before, after, was, is);
    return from === to ? [] : [{ field: elementPath(is.path), was: shortened(from), is: shortened(to), place }];
  });
}

function changeOf(
  before: SaidSide,
  after: SaidSide,
  was: SaidField | undefined,
  is: SaidField | undefined,
  names: SameNames,
): FieldChange[] {
  const from = was?.said ?? is?.fallback;
  const to = is?.said ?? was?.fallback;
  if (from && to && saysSame(from, to, names)) return [];
  const place = placesOf(before, after, was, is);
  const field = elementPath(is?.path ?? was?.path ?? []);
  return [{ field, ...saidWords(was?.said, is?.said), ...differenceOf(from, to), place }];
}
