import type { Vec3 } from "../core/base/vec3.ts";
import type { OrderName } from "./take/share.ts";
import { ORDERS } from "./take/share.ts";

export const SIDES = ["free", "top", "side", "front"] as const;
export type Side = (typeof SIDES)[number];
export const PICTURES = ["stage", "both", "lens"] as const;
export type Pictures = (typeof PICTURES)[number];
export const TABS = ["graphs", "values", "keys", "findings"] as const;
export type Tab = (typeof TABS)[number];
export const SPEEDS = [0.1, 0.25, 0.5, 1, 2, 4] as const;

/** How the stage is looked at: towards `centre` [m, set frame] from a direction [rad], `span` [m] of height in view there. */
export interface Viewpoint {
  readonly centre: Vec3;
  /** Of the eye seen from the centre, about z from x. */
  readonly azimuth: number;
  /** Above the horizontal; pi/2 looks straight down. */
  readonly elevation: number;
  readonly span: number;
}

/** What the page keeps while it is hidden or the editor restarts. */
export interface KeptState {
  readonly uri?: string;
  readonly time: number;
  readonly speed: number;
  readonly loop: boolean;
  readonly side: Side;
  readonly viewpoints: Partial<Record<Side, Viewpoint>>;
  readonly pictures: Pictures;
  readonly tab: Tab;
  /** Name of the axis in the graphs; `undefined` shows the shares of all. */
  readonly axis?: string;
  readonly orders: readonly OrderName[];
  readonly key: number;
  /** Share of the height that the strip takes. */
  readonly strip: number;
}

export const FRESH_STATE: KeptState = {
  time: 0,
  speed: 1,
  loop: false,
  side: "free",
  viewpoints: {},
  pictures: "both",
  tab: "graphs",
  orders: ["position", "speed", "acceleration"],
  key: -1,
  strip: 0.44,
};

export const STRIP_RANGE = [0.2, 0.8] as const;

/** Takes what is sound from what the editor kept, which may be of an older version, and the fresh value for the rest. */
export function readState(kept: unknown): KeptState {
  if (typeof kept !== "object" || kept === null) return FRESH_STATE;
  const from = kept as Record<string, unknown>;
  const orders = Array.isArray(from.orders) ? ORDERS.filter((order) => (from.orders as unknown[]).includes(order)) : [];
  return {
    uri: typeof from.uri === "string" ? from.uri : undefined,
    time: number(from.time, 0, Infinity, FRESH_STATE.time),
    speed: oneOf(SPEEDS, from.speed, FRESH_STATE.speed),
    loop: from.loop === true,
    side: oneOf(SIDES, from.side, FRESH_STATE.side),
    viewpoints: readViewpoints(from.viewpoints),
    pictures: oneOf(PICTURES, from.pictures, FRESH_STATE.pictures),
    tab: oneOf(TABS, from.tab, FRESH_STATE.tab),
    axis: typeof from.axis === "string" ? from.axis : undefined,
    orders: orders.length > 0 ? orders : FRESH_STATE.orders,
    key: Number.isInteger(from.key) ? (from.key as number) : FRESH_STATE.key,
    strip: number(from.strip, STRIP_RANGE[0], STRIP_RANGE[1], FRESH_STATE.strip),
  };
}

function readViewpoints(kept: unknown): Partial<Record<Side, Viewpoint>> {
  const viewpoints: Partial<Record<Side, Viewpoint>> = {};
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

function number(value: unknown, low: number, high: number, fresh: number): number {
  return typeof value === "number" && low <= value && value <= high ? value : fresh;
}

function oneOf<T>(allowed: readonly T[], value: unknown, fresh: T): T {
  return allowed.includes(value as T) ? (value as T) : fresh;
}
