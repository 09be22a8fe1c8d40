import type { SeriesName } from "../../protocol/stage-series.ts";
import type { OrderName } from "../take/share.ts";

/** What can be drawn over time, in the order in which it stands below each other. */
export const GRAPHS = [
  { name: "shares", title: "Shares", about: "Share of the limits that each axis uses" },
  { name: "position", title: "Position", about: "Position of the chosen axes" },
  { name: "speed", title: "Speed", about: "Speed of the chosen axes" },
  { name: "acceleration", title: "Acceleration", about: "Acceleration of the chosen axes" },
  { name: "jerk", title: "Jerk", about: "Jerk of the chosen axes" },
  { name: "framing", title: "Framing", about: "Framing wanted and reached, and how far it is off" },
  { name: "focus", title: "Focus", about: "Distance to the subject, focus and depth of field" },
  { name: "clearance", title: "Clearance", about: "Least distance to set, people, floor and the rig itself" },
  { name: "passes", title: "Passes", about: "How far passes may be off the first" },
] as const;
export type GraphName = (typeof GRAPHS)[number]["name"];

/** What the graphs show: which, and of which axes by name; none of them stands for all. */
export interface GraphChoice {
  readonly graphs: readonly GraphName[];
  readonly axes: readonly string[];
}

export const FRESH_CHOICE: GraphChoice = { graphs: ["shares"], axes: [] };

/** Those of what was kept that there are; never none. */
export function readChoice(kept: Readonly<Record<string, unknown>>): GraphChoice {
  const named = (list: unknown): readonly unknown[] => (Array.isArray(list) ? (list as readonly unknown[]) : []);
  const graphs = GRAPHS.map(({ name }) => name).filter((name) => named(kept.graphs).includes(name));
  const axes = named(kept.axes).filter((axis): axis is string => typeof axis === "string");
  return { graphs: graphs.length > 0 ? graphs : FRESH_CHOICE.graphs, axes };
}

export const isOrder = (name: GraphName): name is OrderName =>
  name === "position" || name === "speed" || name === "acceleration" || name === "jerk";
export const isSeries = (name: GraphName): name is SeriesName => name === "clearance" || name === "passes";
/** True for a graph that has a line for each chosen axis. */
export const isOfAxes = (name: GraphName): boolean => name === "shares" || isOrder(name);

/** Where a finding is seen as a curve, by how its code begins; `undefined` for one that is no matter of time. */
const OF_FINDINGS: readonly (readonly [string, GraphName])[] = [
  ["axis-range", "position"],
  ["axis-speed", "speed"],
  ["axis-accel", "acceleration"],
  ["axis-jerk", "jerk"],
  ["near-limit", "shares"],
  ["aim-error", "framing"],
  ["out-of-frame", "framing"],
  ["soft-subject", "focus"],
  ["focus-near", "focus"],
  ["clearance", "clearance"],
  ["self-clearance", "clearance"],
  ["floor", "clearance"],
  ["people", "clearance"],
  ["match", "passes"],
];

export const graphOfFinding = (code: string): GraphName | undefined => OF_FINDINGS.find(([own]) => own === code)?.[1];
