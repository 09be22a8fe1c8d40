import type { Color } from "three";
import { LineBasicMaterial, MeshLambertMaterial, ShadowMaterial, SRGBColorSpace } from "three";
import { createSharpnessUniforms, showSharpness, type SharpnessUniforms } from "./sharpness-shader.ts";
import type { ColourName, Palette, Rgb } from "../palette.ts";

/** All materials of the scene: made once, painted anew when the theme changes. */
export interface Materials {
  readonly rig: MeshLambertMaterial;
  readonly camera: MeshLambertMaterial;
  readonly set: MeshLambertMaterial;
  readonly person: MeshLambertMaterial;
  readonly dressing: MeshLambertMaterial;
  /** The same for meshes that state their colours. */
  readonly dressingOwn: MeshLambertMaterial;
  readonly rigEdge: LineBasicMaterial;
  readonly cameraEdge: LineBasicMaterial;
  readonly setEdge: LineBasicMaterial;
  readonly personEdge: LineBasicMaterial;
  readonly dressingEdge: LineBasicMaterial;
  /** Sight line, frustum: of the camera's colour. */
  readonly view: LineBasicMaterial;
  /** The same, faint. */
  readonly viewFaint: LineBasicMaterial;
  /** The chain as a line through its joints; drawn over everything. */
  readonly chain: LineBasicMaterial;
  readonly mark: LineBasicMaterial;
  /** Shortest ways between things; drawn over everything. */
  readonly way: LineBasicMaterial;
  readonly shadow: ShadowMaterial;
  /** What all surfaces know of the depth of field. */
  readonly sharpness: SharpnessUniforms;
  paint(palette: Palette): void;
  dispose(): void;
}

export function createMaterials(): Materials {
  const solid = (): MeshLambertMaterial =>
    new MeshLambertMaterial({ polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 });
  const line = (opacity: number): LineBasicMaterial =>
    new LineBasicMaterial({ transparent: opacity < 1, opacity, depthWrite: opacity === 1 });
  const faces = {
    rig: solid(),
    camera: solid(),
    set: solid(),
    person: solid(),
    dressing: solid(),
    dressingOwn: solid(),
  };
  // A person is a zone to keep out of; what happens behind it stays visible.
  Object.assign(faces.person, { transparent: true, opacity: 0.5, depthWrite: false });
  // What dresses the picture is paler than what is checked.
  for (const faint of [faces.dressing, faces.dressingOwn]) Object.assign(faint, { transparent: true, opacity: 0.55 });
  faces.dressingOwn.vertexColors = true;
  const sharpness = createSharpnessUniforms();
  // The rig is not what the camera looks at, and striped all over it would hide what is.
  for (const name of ["set", "person", "dressing", "dressingOwn"] as const) showSharpness(faces[name], sharpness);
  const lines = {
    rigEdge: line(1),
    cameraEdge: line(1),
    setEdge: line(1),
    personEdge: line(1),
    dressingEdge: line(0.4),
    view: line(1),
    viewFaint: line(0.4),
    chain: line(0.8),
    mark: line(1),
    way: line(1),
  };
  lines.chain.depthTest = false;
  lines.way.depthTest = false;
  const shadow = new ShadowMaterial({ depthWrite: false });
  const lineColours: Record<keyof typeof lines, ColourName> = {
    rigEdge: "rig-edge",
    cameraEdge: "rig-edge",
    setEdge: "set-edge",
    personEdge: "set-edge",
    dressingEdge: "set-edge",
    view: "camera",
    viewFaint: "camera",
    chain: "joint",
    mark: "quiet",
    way: "share-over",
  };
  const faceColours: Record<Exclude<keyof typeof faces, "dressingOwn">, ColourName> = {
    rig: "rig",
    camera: "rig",
    set: "set",
    person: "person",
    dressing: "set",
  };
  return {
    ...faces,
    ...lines,
    shadow,
    sharpness,
    paint(palette) {
      for (const name of Object.keys(lines) as (keyof typeof lines)[]) {
        paintWith(lines[name].color, palette.colour[lineColours[name]]);
      }
      for (const name of Object.keys(faceColours) as (keyof typeof faceColours)[]) {
        paintWith(faces[name].color, palette.colour[faceColours[name]]);
      }
      paintWith(sharpness.sharpFront.value, palette.colour["soft-front"]);
      paintWith(sharpness.sharpIn.value, palette.colour.sharp);
      paintWith(sharpness.sharpBehind.value, palette.colour["soft-behind"]);
      shadow.opacity = palette.contrast ? 0 : palette.dark ? 0.42 : 0.16;
    },
    dispose() {
      for (const material of [...Object.values(faces), ...Object.values(lines), shadow]) material.dispose();
    },
  };
}

export function paintWith(target: Color, colour: Rgb): void {
  target.setRGB(colour[0], colour[1], colour[2], SRGBColorSpace);
}
