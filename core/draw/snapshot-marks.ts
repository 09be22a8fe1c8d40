import type { Vec2, Vec3 } from "../base/vec3.ts";
import { xmlText } from "../base/xml-text.ts";
import type { Rectangle } from "./eye.ts";
import { placeLabels } from "./labels.ts";
import { roomOf } from "./signs.ts";
import { place } from "./snapshot-number.ts";
import type { Sample } from "./snapshot-samples.ts";
import { INK } from "./snapshot-style.ts";

/** Length of the mark that says where the camera looks, and how near keys share a name [px]. */
const VIEW = 20;
const NEAR = 9;

/** A view of the set along one of its directions: which coordinates go to the right and up. */
export interface Panel {
  readonly name: string;
  readonly right: 0 | 1;
  readonly up: 1 | 2;
  readonly area: Rectangle;
}

/** A target that the move looks at or focuses on, at its start. */
export interface ShownTarget {
  readonly name: string;
  readonly at: Vec3;
}

/** Where the set's places are on the page. */
export interface Grid {
  readonly page: (point: Vec3) => Vec2;
  /** Number of the square at the left, and at the bottom. */
  readonly first: readonly [number, number];
  readonly count: readonly [number, number];
}

/** Keys and targets on a panel, with their numbers and names. */
export function drawMarks(
  panel: Panel,
  keys: readonly Sample[],
  targets: readonly ShownTarget[],
  grid: Grid,
): string[] {
  const groups = groupKeys(panel, keys, grid);
  return [
    ...targets.map((target) => targetMark(target, grid)),
    ...groups.map(keyMark),
    ...names(groups, targets, panel, grid),
  ];
}

/** False for a place that the motion has none of. */
export const isPlaced = ({ at }: Pick<Sample, "at">): boolean => at.every(Number.isFinite);

/** A place on the page as the data of a path has it. */
export const pair = ([x, y]: Vec2): string => `${place(x)} ${place(y)}`;

function targetMark({ at }: ShownTarget, grid: Grid): string {
  const [x, y] = grid.page(at);
  return `<path fill="none" stroke="${INK.target}" stroke-width="1.6" d="M${place(x - 5)} ${place(y)}h10M${place(x)} ${place(y - 5)}v10"/>`;
}

interface KeyGroup {
  readonly at: Vec2;
  readonly numbers: number[];
  readonly looks: Set<string>;
  /** Ends of the lines that say where the camera looks, from the mark [px]. */
  readonly ends: Vec2[];
}

/** Keys at one place of the page share a mark. */
function groupKeys({ right, up }: Panel, keys: readonly Sample[], grid: Grid): readonly KeyGroup[] {
  const groups: KeyGroup[] = [];
  keys.forEach((key, i) => {
    if (!isPlaced(key)) return;
    const at = grid.page(key.at);
    const end: Vec2 = [key.view[right] * VIEW, -key.view[up] * VIEW];
    const look = `l${pair(end)}`;
    const group = groups.find((one) => Math.hypot(one.at[0] - at[0], one.at[1] - at[1]) < NEAR);
    if (!group) groups.push({ at, numbers: [i + 1], looks: new Set([look]), ends: [end] });
    else {
      group.numbers.push(i + 1);
      group.looks.add(look);
      group.ends.push(end);
    }
  });
  return groups;
}

function keyMark({ at, looks }: KeyGroup): string {
  const views = [...looks].map((look) => `M${pair(at)}${look}`).join("");
  return `<path fill="none" stroke="${INK.text}" stroke-width="1.2" d="${views}"/>
<circle cx="${place(at[0])}" cy="${place(at[1])}" r="4" fill="${INK.text}" stroke="${INK.paper}"/>`;
}

/** Numbers of keys and names of targets where there is room; nothing here measures a letter. */
function names(groups: readonly KeyGroup[], targets: readonly ShownTarget[], { area }: Panel, grid: Grid): string[] {
  const wanted = [
    ...groups.map(({ at, numbers }) => ({ text: numbersText(numbers), at, reach: 6, style: KEY_NAME })),
    ...targets.map(({ name, at }) => ({ text: cut(name), at: grid.page(at), reach: 6, style: TARGET_NAME })),
  ];
  const marks = wanted.map(({ at }) => roomOf(at, 5));
  for (const { at, ends } of groups) {
    for (const [dx, dy] of ends.slice(0, MOST_LOOKS)) {
      marks.push(...[0.6, 0.9].map((share) => roomOf([at[0] + share * dx, at[1] + share * dy], 3)));
    }
  }
  return placeLabels(wanted, area, marks).map(({ text, x, y, style, leader }) => {
    const name = `<text x="${place(x)}" y="${place(y)}" ${style}>${xmlText(text)}</text>`;
    if (!leader) return name;
    return `<path fill="none" stroke="${INK.frame}" stroke-width="0.8" d="M${pair(leader[0])}L${pair(leader[1])}"/>${name}`;
  });
}

/** Most lines of one mark that names keep clear of. */
const MOST_LOOKS = 20;

const KEY_NAME = `font-weight="600" fill="${INK.text}"`;
const TARGET_NAME = `font-size="11" font-style="italic" fill="${INK.target}"`;

/** Letters of a name that there is room for. */
const LETTERS = 24;

function cut(name: string): string {
  const letters = [...name];
  return letters.length > LETTERS ? `${letters.slice(0, LETTERS - 1).join("")}…` : name;
}

/** `1`, `1–3`, `1, 4`. */
function numbersText(numbers: readonly number[]): string {
  const isRow = numbers.length > 2 && numbers.every((one, i) => i === 0 || one === numbers[i - 1] + 1);
  return isRow ? `${numbers[0]}–${numbers[numbers.length - 1]}` : numbers.join(", ");
}
