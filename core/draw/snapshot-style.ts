/** Colours of a snapshot, which has white paper of its own: it is looked at on light and on dark pages. */
export const INK = {
  paper: "#ffffff",
  text: "#24292f",
  quiet: "#57606a",
  frame: "#7d868f",
  grid: "#e4e7eb",
  way: "#1a66c2",
  target: "#1f6b37",
  limit: "#c2202b",
  speed: "#1a66c2",
  accel: "#8f5a1d",
  jerk: "#57606a",
} as const;

/** What a line of a limit's share is called, and its dashes, by which it is told apart without colours. */
export const SHARE_LINES = [
  { name: "speed", stroke: INK.speed, width: 2, dashes: "" },
  { name: "acceleration", stroke: INK.accel, width: 1.6, dashes: "7 3" },
  { name: "jerk", stroke: INK.jerk, width: 1.4, dashes: "1.5 2.5" },
] as const;

/** The attributes of such a line. */
export function shareStroke({ stroke, width, dashes }: (typeof SHARE_LINES)[number]): string {
  return `fill="none" stroke="${stroke}" stroke-width="${width}"${dashes === "" ? "" : ` stroke-dasharray="${dashes}"`}`;
}
