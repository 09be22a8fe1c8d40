import { trimmed } from "../../base/units.ts";
import { aimingAxes } from "../../model/move-context.ts";
import type { ResolvedEase, ResolvedKey, ResolvedMove } from "../../motion/resolved-move.ts";
import { entryOf } from "../../syntax/tree.ts";
import { shortestDecimal } from "../decimal.ts";
import { flowList, flowMap } from "../field-edits.ts";
import { isAimed } from "../key-aimed.ts";
import { keyItems } from "../key-item.ts";
import type { MoveText } from "../times/time-edits.ts";
import { valueText } from "../value-text.ts";

/** Fields that say how a key is come to: backwards they say it of the key before. Absent: the field goes. */
export interface WayFields {
  readonly ease?: string;
  readonly path?: string;
  readonly switch?: string;
}

/** A shape as one key asks for it; `undefined`: it asks for none. */
interface Asked {
  readonly from: number;
  readonly what: string;
}

/**
 * What each key says of the way to it when the move runs backwards, by the keys' old positions; or why a key would have to
 * say two things.
 */
export function reversedWays(document: MoveText): readonly WayFields[] | { readonly refusal: string } {
  const { move } = document;
  const ways: WayFields[] = [];
  for (const [key, { label }] of move.keys.entries()) {
    const ease = agreed(askedEases(move, key), (from) => move.keys[from].ease);
    const change = agreed(askedSwitches(move, key), (from) => move.keys[from].switch);
    if (ease === "differ" || change === "differ") {
      const what = ease === "differ" ? "eases" : "changes of aim and focus";
      return {
        refusal: `backwards, ${label} would need two \`${ease === "differ" ? "ease" : "switch"}\`: its ${what} go on to different keys`,
      };
    }
    const texts = {
      ease: ease === undefined ? undefined : easeText(document, ease, ["ease"], move.keys[ease].ease),
      path: key + 1 < move.keys.length ? fieldText(document, key + 1, "path") : undefined,
      switch: change === undefined ? undefined : switchText(document, change),
    };
    if (ease !== undefined && texts.ease === undefined) return unreadable(move, ease, "ease");
    if (change !== undefined && texts.switch === undefined) return unreadable(move, change, "switch");
    if (move.keys[key + 1]?.path && texts.path === undefined) return unreadable(move, key + 1, "path");
    ways.push(Object.fromEntries(Object.entries(texts).filter(([, text]) => text !== undefined)));
  }
  return ways;
}

const unreadable = ({ keys }: ResolvedMove, key: number, field: string) => ({
  refusal: `the \`${field}\` of ${keys[key].label} is repeated elsewhere (\`&name\`, \`*name\`): write it out first`,
});

/** The key whose shape all that ask want; `undefined` where none wants one. */
function agreed(asked: readonly Asked[], shapeOf: (from: number) => object | undefined): number | undefined | "differ" {
  const shapes = asked.map(({ from }) => JSON.stringify(shapeOf(from) ?? null, withoutOrigins));
  if (new Set(shapes).size > 1) return "differ";
  const [first] = asked;
  return first && shapeOf(first.from) ? first.from : undefined;
}

/** Where a thing is stated does not matter to what it is. */
const withoutOrigins = (name: string, value: unknown): unknown => (name === "origin" ? undefined : value);

/** The next keys to which channels go on from `key`, each of which shapes its way there. */
function askedEases(move: ResolvedMove, key: number): Asked[] {
  const { keys } = move;
  const asked: Asked[] = [];
  const on = (what: string, gives: (one: ResolvedKey, at: number) => number | undefined): void => {
    const value = gives(keys[key], key);
    if (value === undefined) return;
    const from = keys.findIndex((one, at) => key < at && gives(one, at) !== undefined);
    // Without a difference there is no way to shape.
    if (0 <= from && gives(keys[from], from) !== value) asked.push({ from, what });
  };
  move.axes.forEach(({ name }, axis) => {
    const from = keys.findIndex((one, at) => key < at && givesAxis(move, one, at, axis));
    // Along a path the axes are solved: its own shape is asked for below.
    if (keys.slice(key + 1, from + 1).some((one) => one.path)) return;
    on(name, (one, at) => {
      const given = one.axes.find((each) => each.axis === axis)?.value;
      return given ?? (givesAxis(move, one, at, axis) ? NaN : undefined);
    });
  });
  on("framing across", ({ framing }) => framing?.[0]);
  on("framing down", ({ framing }) => framing?.[1]);
  on("zoom", ({ zoom }) => zoom?.focal);
  on("iris", ({ iris }) => iris?.value);
  on("roll", ({ roll }) => (roll?.kind === "angle" ? roll.angle : undefined));
  on("focus", ({ focus }) => (focus?.kind === "distance" ? focus.distance : undefined));
  if (keys[key + 1]?.path) asked.push({ from: key + 1, what: "path" });
  return asked;
}

/** Whether a key gives an axis, by its value or by a place of the camera. */
function givesAxis(move: ResolvedMove, key: ResolvedKey, at: number, axis: number): boolean {
  if (key.axes.some((each) => each.axis === axis)) return true;
  if (!key.camera || move.axes[axis].role !== "driven") return false;
  return !(isAimed(move, at) && aimingAxes(move.rig, move.axes).has(axis));
}

/** The next keys with another target of the aim or the focus. */
function askedSwitches({ keys }: ResolvedMove, key: number): Asked[] {
  const asked: Asked[] = [];
  const on = (what: string, stated: (one: ResolvedKey) => number | undefined): void => {
    const now = stated(keys[key]);
    const from = keys.findIndex((one, at) => key < at && stated(one) !== undefined);
    if (now === undefined || from < 0) return;
    const next = stated(keys[from])!;
    if (0 <= now && 0 <= next && now !== next) asked.push({ from, what });
  };
  on("aim", ({ aim }) => (aim ? (aim.kind === "target" ? aim.target : -1) : undefined));
  on("focus", ({ focus }) => (focus ? (focus.kind === "target" ? focus.target + 1 : 0) : undefined));
  return asked;
}

/** The text of a field of a key, on one line. */
function fieldText(document: MoveText, key: number, name: string): string | undefined {
  return valueText(document, entryOf(keyItems(document)?.[key], name)?.value);
}

/** An ease seen backwards: only that of a cubic is another one. */
function easeText(
  document: MoveText,
  key: number,
  path: readonly string[],
  ease: ResolvedEase | undefined,
): string | undefined {
  const node = path.reduce((at, name) => entryOf(at, name)?.value, keyItems(document)?.[key]);
  const same = valueText(document, node);
  if (ease?.kind !== "cubic" || same === undefined) return same;
  const { tree } = document;
  const [x1, y1, x2, y2] = ease.handles;
  const handles = [1 - x2, 1 - y2, 1 - x1, 1 - y1].map((part) => plain(part));
  const ramp = entryOf(node, "ramp")?.value;
  const rampText = ramp && valueText(document, ramp);
  const fields: [string, string][] = [["cubic", flowList(tree, handles)]];
  if (rampText !== undefined) fields.push(["ramp", rampText]);
  return flowMap(tree, fields);
}

const plain = (value: number): string =>
  shortestDecimal(value, (written) => Math.abs(Number(written) - value) <= 1e-12) ?? trimmed(value, 12);

function switchText(document: MoveText, key: number): string | undefined {
  const change = document.move.keys[key].switch;
  const node = entryOf(keyItems(document)?.[key], "switch")?.value;
  if (!change || !node) return undefined;
  const has = (name: string): boolean => entryOf(node, name) !== undefined;
  const share = (part: number): string => `${plain(Number((100 * (1 - part)).toPrecision(12)))} %`;
  const ease = has("ease") ? easeText(document, key, ["switch", "ease"], change.ease) : "";
  if (ease === undefined) return undefined;
  const fields: [string, string][] = [
    ...(has("end") ? [["begin", share(change.end)] as [string, string]] : []),
    ...(has("begin") ? [["end", share(change.begin)] as [string, string]] : []),
    ...(ease === "" ? [] : [["ease", ease] as [string, string]]),
  ];
  return flowMap(document.tree, fields);
}
