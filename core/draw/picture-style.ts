/** Names of what is drawn, with their colours on white and on black paper: fill and line, where they have one. */
const COLOURS: Readonly<Record<string, readonly [light: string, dark: string]>> = {
  paper: ["fill:#ffffff", "fill:#1b1f24"],
  grid: ["stroke:#dfe3e8", "stroke:#31373f"],
  obstacle: ["fill:#e4e7eb;stroke:#7d868f", "fill:#3a424c;stroke:#8b949e"],
  dressing: ["fill:#f3f4f6;stroke:#a3abb3", "fill:#262b31;stroke:#6a737d"],
  person: ["fill:#f5e0c9;stroke:#8f5a1d", "fill:#57452f;stroke:#e0ac70"],
  rig: ["fill:#c3d5ee;stroke:#2f5486", "fill:#2f4a6e;stroke:#9cc0f2"],
  camera: ["fill:#cfe8d4;stroke:#1f6b37", "fill:#264b33;stroke:#7ed99a"],
  chain: ["stroke:#24292f", "stroke:#e6edf3"],
  way: ["stroke:#1a66c2", "stroke:#74b4ff"],
  over: ["stroke:#c2202b", "stroke:#ff8078"],
  view: ["stroke:#1f6b37", "stroke:#7ed99a"],
  ring: ["stroke:#57606a", "stroke:#aab3bd"],
  key: ["fill:#24292f;stroke:#ffffff", "fill:#e6edf3;stroke:#1b1f24"],
  target: ["fill:#ffffff;stroke:#24292f", "fill:#1b1f24;stroke:#e6edf3"],
  aimed: ["fill:#1f6b37;stroke:#ffffff", "fill:#7ed99a;stroke:#1b1f24"],
  wanted: ["stroke:#1f6b37", "stroke:#7ed99a"],
  crop: ["stroke:#24292f", "stroke:#e6edf3"],
  "crop-cross": ["stroke:#24292f", "stroke:#e6edf3"],
  frame: ["stroke:#57606a", "stroke:#aab3bd"],
  text: ["fill:#24292f;stroke:#ffffff", "fill:#e6edf3;stroke:#1b1f24"],
  quiet: ["fill:#57606a;stroke:#ffffff", "fill:#aab3bd;stroke:#1b1f24"],
};

/** What is not a colour: line widths, and the dashes that tell apart what colour alone would not. */
const SHAPES = [
  "text{font-family:system-ui,-apple-system,'Segoe UI','DejaVu Sans',Arial,sans-serif;font-size:12px;stroke-width:3px;paint-order:stroke;stroke-linejoin:round}",
  ".bold{font-weight:600}",
  ".slant{font-style:italic}",
  ".title{font-size:18px;font-weight:600}",
  ".body{stroke-width:1.4;stroke-linejoin:round}",
  ".body.person{stroke-dasharray:5 3}",
  ".body.dressing{stroke-width:.9;stroke-dasharray:2 1.5}",
  ".face{fill:none;stroke:inherit;stroke-width:.8}",
  ".line{fill:none;stroke-linejoin:round}",
  ".grid{stroke-width:1}",
  ".chain{stroke-width:1.2;stroke-dasharray:1 3;stroke-linecap:round}",
  ".way{stroke-width:2.5}",
  ".over{stroke-width:4;stroke-dasharray:7 3}",
  ".view{stroke-width:1.4}",
  ".ring{stroke-width:1.2}",
  ".crop{stroke-width:1.4;stroke-dasharray:8 4}",
  ".crop-line{stroke-dasharray:6 3}",
  ".sight{stroke-dasharray:2 3}",
  ".frame{stroke-width:1.2}",
  ".wanted{stroke-width:2}",
  ".cross{stroke-width:1.6}",
  ".leader{stroke-width:.8}",
];

/** The picture's style sheet. It knows white and black paper; nothing in it is told by its colour alone. */
export function pictureStyle(): string {
  const rules = (paper: 0 | 1): string =>
    Object.entries(COLOURS)
      .map(([name, colours]) => `.${name}{${colours[paper]}}`)
      .join("");
  const light = `${rules(0)}${SHAPES.join("")}`;
  return `${light}@media (prefers-color-scheme:dark){${rules(1)}}`;
}
