/** An sRGB colour, parts 0..1. */
export type Rgb = readonly [number, number, number];

/** Colours of the drawn parts; each is the CSS variable `--stage-NAME` of the style sheet, made from the editor's theme. */
const NAMES = [
  "paper",
  "ink",
  "quiet",
  "grid",
  "grid-strong",
  "rig",
  "rig-edge",
  "joint",
  "set",
  "set-edge",
  "person",
  "target",
  "aimed",
  "camera",
  "key",
  "key-chosen",
  "share-calm",
  "share-busy",
  "share-near",
  "share-over",
  "soft-front",
  "sharp",
  "soft-behind",
] as const;

export type ColourName = (typeof NAMES)[number];

export interface Palette {
  readonly colour: Readonly<Record<ColourName, Rgb>>;
  /** The same as CSS text, for canvases that take it. */
  readonly css: Readonly<Record<ColourName, string>>;
  /** True in the editor's high-contrast themes: outlines instead of shading. */
  readonly contrast: boolean;
  readonly dark: boolean;
  readonly font: string;
}

/** Reads the colours as the page shows them now. */
export function readPalette(): Palette {
  const probe = document.createElement("span");
  probe.hidden = true;
  document.body.append(probe);
  const read = (name: string): string => {
    probe.style.color = "";
    probe.style.color = `var(--stage-${name})`;
    return getComputedStyle(probe).color;
  };
  const paper = parseColour(read("paper"), [0, 0, 0]);
  const colour = {} as Record<ColourName, Rgb>;
  const css = {} as Record<ColourName, string>;
  for (const name of NAMES) {
    colour[name] = parseColour(read(name), paper);
    css[name] = cssOf(colour[name]);
  }
  const font = getComputedStyle(document.body).fontFamily;
  probe.remove();
  const contrast = document.body.className.includes("vscode-high-contrast");
  return { colour, css, contrast, dark: luminance(colour.paper) < 0.4, font };
}

/** Calls `changed` when the editor changes its theme: it swaps classes of the body and variables of the root. */
export function watchTheme(changed: () => void): void {
  const observer = new MutationObserver(changed);
  observer.observe(document.documentElement, { attributes: true, attributeFilter: ["style", "class"] });
  observer.observe(document.body, { attributes: true, attributeFilter: ["class", "data-vscode-theme-id"] });
  window.matchMedia("(forced-colors: active)").addEventListener("change", changed);
}

/** Reads what a browser computes for a colour: `rgb(…)`, `rgba(…)` or `color(srgb …)`; transparent parts show `behind`. */
export function parseColour(text: string, behind: Rgb): Rgb {
  const parts = text.match(/-?\d*\.?\d+(?:e-?\d+)?%?/g)?.map((part) => parseFloat(part)) ?? [];
  if (parts.length < 3 || parts.some((part) => !Number.isFinite(part))) return behind;
  const full = text.startsWith("color(") ? 1 : 255;
  const alpha = Math.min(Math.max(parts[3] ?? 1, 0), 1);
  const mix = (i: number): number => Math.min(Math.max((parts[i] / full) * alpha + behind[i] * (1 - alpha), 0), 1);
  return [mix(0), mix(1), mix(2)];
}

export function cssOf(colour: Rgb): string {
  return `rgb(${colour.map((part) => Math.round(part * 255)).join(" ")})`;
}

/** Relative luminance of WCAG 2.2, 0..1. */
export function luminance(colour: Rgb): number {
  const [r, g, b] = colour.map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
