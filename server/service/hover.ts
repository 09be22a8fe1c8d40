import type { Span } from "../../core/base/span.ts";
import { pathAt, type Location } from "../../core/syntax/locate.ts";
import { axisSummary, axisUse } from "./axis-summary.ts";
import { fieldDoc } from "./field-doc.ts";
import { keyAtOffset } from "./key-place.ts";
import { keyTable } from "./key-table.ts";
import { resolveOptics } from "../../core/model/resolve-optics.ts";
import { bodyHover } from "./hover/body-hover.ts";
import { codeHover } from "./hover/code-hover.ts";
import { lensInMove, lensText } from "./hover/lens-hover.ts";
import { passHover } from "./hover/pass-hover.ts";
import { targetInMove, targetInSet } from "./hover/target-hover.ts";
import { timeHover } from "./hover/time-hover.ts";
import { paragraphs } from "./markdown.ts";
import { fieldAt, shapesAt, type ShapePlace } from "./shape-walk.ts";
import type { Solved, View } from "./view.ts";

export interface Hover {
  /** Markdown; nothing of the user's text in it is markup. */
  readonly markdown: string;
  readonly span: Span;
}

/** A move that uses the document, for what its axes need. */
export interface User {
  readonly title: string;
  readonly solved: Solved;
}

/** What is known at `offset`: the field, the name that stands there, and in a move all that holds at the key. */
export function hoverAt(view: View, offset: number, users: readonly User[]): Hover | undefined {
  const location = pathAt(view.tree, offset);
  const span = spanOf(location);
  if (!span || offset < span.start || span.end < offset) return undefined;
  const fieldPath = pathOfField(location);
  const field = fieldAt(view.kind, fieldPath);
  const key = view.solved && keyAtOffset(view.solved, view.file, offset);
  const markdown = paragraphs([
    nameText(view, location, users),
    field && `**${field.name}**: ${fieldDoc(field)}`,
    view.solved && key !== undefined ? keyTable(view.solved, key) : undefined,
  ]);
  return markdown === "" ? undefined : { markdown, span };
}

/** The name under the cursor, or the value. */
function spanOf({ entry, onName, node }: Location): Span | undefined {
  if (onName && entry) return entry.nameSpan;
  return node?.kind === "scalar" || node?.kind === "alias" ? node : undefined;
}

/** Items of lists belong to the field that holds the list. */
function pathOfField({ path }: Location): Location["path"] {
  let end = path.length;
  while (end > 0 && typeof path[end - 1] === "number") end -= 1;
  return path.slice(0, end);
}

/** What the name or the value that stands at the cursor means in the solved moves. */
function nameText(view: View, location: Location, users: readonly User[]): string | undefined {
  const { path, onName, node, entry } = location;
  const places = onName ? shapesAt(view.kind, path.slice(0, -1)) : shapesAt(view.kind, path);
  const timed = view.solved?.move ?? view.analysis.move;
  if (!onName && timed && node?.kind === "scalar" && places.some(isTime)) {
    return timeHover(timed, node.value, SPANS.includes(String(path[path.length - 1])));
  }
  const name = nameOf(location);
  if (name === undefined) return undefined;
  if (isCode(view, location)) return codeHover(name);
  const kinds = places.flatMap((place) => nameKinds(place, onName));
  const { solved } = view;
  if (kinds.includes("axis") || kinds.includes("turntable")) {
    return solved ? axisSummary(solved, name) : axisUse(users, name);
  }
  if (kinds.includes("target")) return solved ? targetInMove(solved, name) : targetInSet(users, name);
  if (kinds.includes("pass")) return solved && passHover(solved, name);
  if (kinds.includes("lens")) return lensHover(view, name);
  if (kinds.includes("body") && onName && entry) return bodyHover(users, view.file, name, entry);
  const limit = view.kind === "rig" ? limitAxis(view, location) : undefined;
  return limit && axisUse(users, limit);
}

/** Times that are counted from another one. */
const SPANS: readonly string[] = ["after", "hold", "ramp", "time", "stop"];

function isTime({ shape }: ShapePlace): boolean {
  return shape.kind === "scalar" && shape.facts.type === "time";
}

function isCode({ kind }: View, { path, onName }: Location): boolean {
  if (kind === "config") return onName && path[0] === "severity" && path.length === 2;
  return !onName && path[path.length - 1] === "code" && path[path.length - 3] === "allow";
}

/** In a move the lens that it uses; in a camera any of its lenses. */
function lensHover({ kind, file, solved, sources }: View, name: string): string | undefined {
  if (kind !== "camera") return solved?.move.optics.lensName === name ? lensInMove(solved) : undefined;
  const optics = resolveOptics(file, sources).optics.get(name);
  return optics && lensText(optics);
}

function nameOf({ entry, onName, node }: Location): string | undefined {
  if (onName) return entry?.name;
  return node?.kind === "scalar" && typeof node.value === "string" ? node.value : entry?.name;
}

function nameKinds({ shape }: ShapePlace, onName: boolean): readonly string[] {
  if (onName) return shape.kind === "record" && shape.names ? [shape.names.kind] : [];
  return shape.kind === "scalar" && shape.facts.type === "name" ? [shape.facts.kind] : [];
}

/** The axis whose range or limits hold the cursor, in the chain or beside a URDF file. */
function limitAxis(view: View, { path }: Location): string | undefined {
  const [section, index, part] = path;
  if (section === "axes" && typeof index === "string" && (part === "limits" || part === "range")) return index;
  if (section !== "chain" || typeof index !== "number" || (part !== "limits" && part !== "range")) return undefined;
  return view.tree.root && axisName(view, index);
}

function axisName(view: View, index: number): string | undefined {
  const chain =
    view.tree.root?.kind === "map" ? view.tree.root.entries.find(({ name }) => name === "chain") : undefined;
  const item = chain?.value?.kind === "list" ? chain.value.items[index] : undefined;
  const entry = item?.kind === "map" ? item.entries.find(({ name }) => name === "axis") : undefined;
  return entry?.value?.kind === "scalar" ? String(entry.value.value) : undefined;
}
