import { svg } from "../element.ts";

/** Signs of the transport on a 16 px square; drawn here so that no font or picture has to be loaded. */
const PATHS = {
  play: "M4.5 2.8v10.4L13 8z",
  pause: "M4.2 3h2.6v10H4.2zM9.2 3h2.6v10H9.2z",
  back: "M11.5 3.2v9.6L5.6 8zM3.6 3.2h1.6v9.6H3.6z",
  forward: "M4.5 3.2v9.6L10.4 8zM10.8 3.2h1.6v9.6h-1.6z",
  start: "M13 3v10L8 8zM8 3v10L3 8zM1.8 3h1.3v10H1.8z",
  end: "M3 3v10l5-5zM8 3v10l5-5zM12.9 3h1.3v10h-1.3z",
  loop: "M11 1.6 14.2 4 11 6.4V4.7H5.2a2 2 0 0 0-2 2V8H1.6V6.7a3.6 3.6 0 0 1 3.6-3.6H11zM5 14.4 1.8 12 5 9.6v1.7h5.8a2 2 0 0 0 2-2V8h1.6v1.3a3.6 3.6 0 0 1-3.6 3.6H5z",
  fit: "M2 2h4.2v1.5H3.5v2.7H2zM9.8 2H14v4.2h-1.5V3.5H9.8zM2 9.8h1.5v2.7h2.7V14H2zM12.5 9.8H14V14H9.8v-1.5h2.7z",
  close: "M3.2 4.3 4.3 3.2 8 6.9l3.7-3.7 1.1 1.1L9.1 8l3.7 3.7-1.1 1.1L8 9.1l-3.7 3.7-1.1-1.1L6.9 8z",
  help: "M6 5.8a2 2 0 1 1 3.1 1.7c-.7.5-1.1.9-1.1 1.7v.3M8 11.6v1.2",
} as const;

export type IconName = keyof typeof PATHS;

export function icon(name: IconName): SVGSVGElement {
  const stroked = name === "help";
  return svg(
    "svg",
    { class: stroked ? "icon stroked" : "icon", viewBox: "0 0 16 16", "aria-hidden": "true" },
    svg("path", { d: PATHS[name] }),
  );
}
