import type { Vec3 } from "../../core/base/vec3.ts";
import { PANE_KINDS, SIDES, type PaneKind, type Side, type Viewpoint } from "./pane-kind.ts";

export type Viewpoints = Partial<Record<Side, Viewpoint>>;

/** As many panes as can stand side by side. */
export const PANE_COUNTS = [1, 2, 4] as const;
export type PaneCount = (typeof PANE_COUNTS)[number];
export const MOST_PANES = 4;

/** What the panes show and from where. */
export interface PaneSet {
  /** Of the panes that are shown: one, two or four. */
  readonly panes: readonly PaneKind[];
  /** Of those that come when there are to be more; with `panes` always four. */
  readonly spare: readonly PaneKind[];
  /** Index of the pane that keys are meant for. */
  readonly active: number;
  /** Viewpoints that somebody chose, of all four, spare ones last. */
  readonly viewpoints: readonly Viewpoints[];
}

export const FRESH_PANES: PaneSet = {
  panes: ["free", "lens"],
  spare: ["top", "side"],
  active: 0,
  viewpoints: [{}, {}, {}, {}],
};

/** As many panes as asked for. The active one stays; where it would fall away it takes the first place. */
export function withCount(set: PaneSet, count: PaneCount): PaneSet {
  const kinds = [...set.panes, ...set.spare];
  const viewpoints = [...set.viewpoints];
  let { active } = set;
  if (active >= count) {
    for (const list of [kinds, viewpoints]) [list[0], list[active]] = [list[active], list[0]];
    active = 0;
  }
  return { panes: kinds.slice(0, count), spare: kinds.slice(count), active, viewpoints };
}

/** The count after this one; after the largest comes the smallest. */
export function nextCount(set: PaneSet): PaneCount {
  const at = PANE_COUNTS.findIndex((count) => count === set.panes.length);
  return PANE_COUNTS[(at + 1) % PANE_COUNTS.length];
}

export function withKind(set: PaneSet, pane: number, kind: PaneKind): PaneSet {
  return { ...set, panes: set.panes.map((before, i) => (i === pane ? kind : before)) };
}

/** The set that an editor kept, whole and sound; of an older version that knew one stage and one lens view too. */
export function readPanes(kept: Readonly<Record<string, unknown>>): PaneSet {
  const shown = kindsOf(kept.panes);
  const sound = PANE_COUNTS.some((count) => count === shown.length);
  const panes = sound ? shown : olderPanes(kept);
  const spare = kindsOf(kept.spare);
  const { active } = kept;
  const older = Array.isArray(kept.viewpoints) ? (kept.viewpoints as unknown[]) : [kept.viewpoints];
  return {
    panes,
    spare: panes.length + spare.length === MOST_PANES ? spare : spareBeside(panes),
    active: Number.isInteger(active) && (active as number) in panes ? (active as number) : 0,
    viewpoints: FRESH_PANES.viewpoints.map((_, i) => readViewpoints(older[i])),
  };
}

/** A spare pane that shows what is shown already is of little use. */
function spareBeside(panes: readonly PaneKind[]): readonly PaneKind[] {
  const kinds = ["free", "lens", "top", "side", "front"] as const;
  return kinds.filter((kind) => !panes.includes(kind)).slice(0, MOST_PANES - panes.length);
}

function olderPanes({ side, pictures }: Readonly<Record<string, unknown>>): readonly PaneKind[] {
  const from = SIDES.find((one) => one === side) ?? "free";
  return pictures === "stage" ? [from] : pictures === "lens" ? ["lens"] : [from, "lens"];
}

function kindsOf(kept: unknown): readonly PaneKind[] {
  return Array.isArray(kept) ? kept.filter((kind): kind is PaneKind => PANE_KINDS.includes(kind as PaneKind)) : [];
}

function readViewpoints(kept: unknown): Viewpoints {
  const viewpoints: Viewpoints = {};
  if (typeof kept !== "object" || kept === null) return viewpoints;
  for (const side of SIDES) {
    const from = (kept as Record<string, unknown>)[side];
    if (typeof from !== "object" || from === null) continue;
    const { centre, azimuth, elevation, span } = from as Record<string, unknown>;
    if (isPoint(centre) && isNumber(azimuth) && isNumber(elevation) && isNumber(span) && span > 0) {
      viewpoints[side] = { centre, azimuth, elevation, span };
    }
  }
  return viewpoints;
}

function isPoint(value: unknown): value is Vec3 {
  return Array.isArray(value) && value.length === 3 && value.every(isNumber);
}

function isNumber(value: unknown): value is number {
  return typeof value === "number" && Number.isFinite(value);
}
