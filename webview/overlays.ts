import type { OpenTake } from "./take/open-take.ts";

/** What can be drawn beyond the rig, the set and the path, as the menu "Show" names it; `on` says whether it is from the start. */
export const OVERLAYS = [
  { name: "ranges", title: "Ranges of the axes", on: true },
  { name: "nearest", title: "Axis nearest its limit", on: true },
  { name: "swept", title: "Swept space", on: false },
  { name: "reach", title: "Reach of the camera", on: false },
  { name: "passes", title: "Spread of the passes", on: false },
  { name: "sharpness", title: "Depth of field on the set", on: false },
  { name: "framing", title: "Framing marks", on: false },
  { name: "blur", title: "Motion blur", on: true },
  { name: "dressing", title: "Set dressing", on: true },
  { name: "plate", title: "Plate behind the lens view", on: true },
  { name: "ghost", title: "Move compared with", on: true },
] as const;
export type Overlay = (typeof OVERLAYS)[number]["name"];
export type Overlays = ReadonlySet<Overlay>;

export const FRESH_OVERLAYS: readonly Overlay[] = OVERLAYS.filter(({ on }) => on).map(({ name }) => name);

/** Those of what was kept that there are. */
export function readOverlays(kept: unknown): readonly Overlay[] {
  if (!Array.isArray(kept)) return FRESH_OVERLAYS;
  return OVERLAYS.map(({ name }) => name).filter((name) => (kept as unknown[]).includes(name));
}

export type OverlayReasons = Partial<Record<Overlay, string>>;

/** Why an overlay has nothing to show for a take; absent for one that has. The owner of an overlay has its line here. */
const REASONS: Readonly<
  Record<Overlay, (open: OpenTake, isCompared: boolean, hasServer: boolean) => string | undefined>
> = {
  ranges: ({ stage }) => (stage.axes.length === 0 ? "The rig has no axes." : undefined),
  nearest: ({ stage }) => (stage.axes.some(hasLimit) ? undefined : "No axis states a range or a limit."),
  swept: ({ stage }) => (stage.duration > 0 ? undefined : "The move takes no time."),
  reach: ({ stage }, _, hasServer) =>
    !hasServer
      ? ONLY_IN_EDITOR
      : stage.axes.some(({ role }) => role === "driven")
        ? undefined
        : "The rig has no axis that moves in a take.",
  passes: ({ stage }, _, hasServer) =>
    (stage.passes ?? 0) === 0 ? "The move names no `passes`." : hasServer ? undefined : ONLY_IN_EDITOR,
  sharpness: ({ take }) => (take.focus.every(Number.isNaN) ? "No key gives a focus." : undefined),
  framing: () => undefined,
  blur: ({ stage }) => (stage.targets.length === 0 ? "The set has no targets." : undefined),
  dressing: ({ stage }) => ((stage.dressing ?? []).length === 0 ? "The set states no `dressing`." : undefined),
  plate: ({ stage }) => (stage.lens?.plate ? undefined : "The move names no `plate`."),
  ghost: (_, isCompared) => (isCompared ? undefined : "The move is compared with nothing."),
};

const hasLimit = ({ range, limits }: OpenTake["stage"]["axes"][number]): boolean =>
  range !== undefined || [limits.speed, limits.accel, limits.jerk].some((limit) => limit !== undefined);

/** A page that is handed round has no engine that could find it. */
const ONLY_IN_EDITOR = "It is found in the editor only.";

/** The entries of the menu that rest, each with its reason: without a take all of them. */
export function overlayReasons(open: OpenTake | undefined, isCompared = false, hasServer = true): OverlayReasons {
  const reasonOf = (name: Overlay): string | undefined =>
    open ? REASONS[name](open, isCompared, hasServer) : "There is no move to show.";
  return Object.fromEntries(
    OVERLAYS.flatMap(({ name }) => {
      const reason = reasonOf(name);
      return reason === undefined ? [] : [[name, reason]];
    }),
  );
}
