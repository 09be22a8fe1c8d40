import { FRESH_OVERLAYS, readOverlays, type Overlay } from "./overlays.ts";
import { FRESH_PANES, readPanes, type PaneSet } from "./panes/pane-set.ts";
import { FRESH_CHOICE, readChoice, type GraphChoice } from "./strip/graph-names.ts";
import type { TimeWindow } from "./strip/time-window.ts";

export const TABS = ["graphs", "values", "keys", "findings"] as const;
export type Tab = (typeof TABS)[number];
export const SPEEDS = [0.1, 0.25, 0.5, 1, 2, 4] as const;

/** What the page keeps while it is hidden or the editor restarts. */
export interface KeptState extends PaneSet, GraphChoice {
  readonly uri?: string;
  readonly time: number;
  readonly speed: number;
  readonly loop: boolean;
  /** What is drawn beyond the rig, the set and the path. */
  readonly overlays: readonly Overlay[];
  readonly tab: Tab;
  /** Stretch of time that the graphs show; `undefined`: all of it. */
  readonly window?: TimeWindow;
  readonly key: number;
  /** Share of the height that the strip takes. */
  readonly strip: number;
}

export const FRESH_STATE: KeptState = {
  time: 0,
  speed: 1,
  loop: false,
  ...FRESH_PANES,
  overlays: FRESH_OVERLAYS,
  tab: "graphs",
  ...FRESH_CHOICE,
  key: -1,
  strip: 0.44,
};

export const STRIP_RANGE = [0.2, 0.8] as const;

/** Takes what is sound from what the editor kept, which may be of an older version, and the fresh value for the rest. */
export function readState(kept: unknown): KeptState {
  if (typeof kept !== "object" || kept === null) return FRESH_STATE;
  const from = kept as Record<string, unknown>;
  return {
    uri: typeof from.uri === "string" ? from.uri : undefined,
    time: number(from.time, 0, Infinity, FRESH_STATE.time),
    speed: oneOf(SPEEDS, from.speed, FRESH_STATE.speed),
    loop: from.loop === true,
    ...readPanes(from),
    overlays: readOverlays(from.overlays),
    tab: oneOf(TABS, from.tab, FRESH_STATE.tab),
    ...readChoice(from),
    window: readWindow(from.window),
    key: Number.isInteger(from.key) ? (from.key as number) : FRESH_STATE.key,
    strip: number(from.strip, STRIP_RANGE[0], STRIP_RANGE[1], FRESH_STATE.strip),
  };
}

function readWindow(kept: unknown): TimeWindow | undefined {
  if (typeof kept !== "object" || kept === null) return undefined;
  const { from, to } = kept as Record<string, unknown>;
  if (typeof from !== "number" || typeof to !== "number" || !(0 <= from && from < to && to < Infinity))
    return undefined;
  return { from, to };
}

function number(value: unknown, low: number, high: number, fresh: number): number {
  return typeof value === "number" && low <= value && value <= high ? value : fresh;
}

function oneOf<T>(allowed: readonly T[], value: unknown, fresh: T): T {
  return allowed.includes(value as T) ? (value as T) : fresh;
}
