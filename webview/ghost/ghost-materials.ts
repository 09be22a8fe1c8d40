import { createMaterials, paintWith, type Materials } from "../stage/materials.ts";

/** How much of what is behind them the ghost's lines hide. */
const OPACITY = 0.6;

/** The scene's materials for a ghost: of its bodies only the edges are drawn, all lines in one quiet colour. */
export function createGhostMaterials(): Materials {
  const made = createMaterials();
  const { rig, camera, set, person, shadow, ...rest } = made;
  for (const face of [rig, camera, set, person, shadow]) face.visible = false;
  const { rigEdge, cameraEdge, setEdge, personEdge, view, viewFaint, chain, mark, way } = rest;
  const lines = [rigEdge, cameraEdge, setEdge, personEdge, view, viewFaint, chain, mark, way];
  for (const line of lines) Object.assign(line, { transparent: true, opacity: OPACITY, depthWrite: false });
  return {
    ...made,
    paint(palette) {
      for (const line of lines) paintWith(line.color, palette.colour.quiet);
    },
  };
}
