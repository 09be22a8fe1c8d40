import { Color, ShaderMaterial } from "three";

/** Shapes that dots come in, so that no meaning hangs on colour alone; `hollow` is a diamond with a hole. */
export type DotShape = "disc" | "ring" | "diamond" | "hollow";

const SHAPES: Readonly<Record<DotShape, number>> = { disc: 0, ring: 1, diamond: 2, hollow: 3 };

const VERTEX = /* glsl */ `
uniform float size;
uniform float ratio;
attribute float chosen;
varying float isChosen;
varying float pixels;
void main() {
  isChosen = chosen;
  pixels = size * ratio * (1.0 + 0.4 * chosen);
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
  gl_PointSize = pixels + 2.0;
}`;

/** Edges are smoothed over one pixel; the rim is one tenth of the size, in the colour of the background. */
const FRAGMENT = /* glsl */ `
uniform vec3 colour;
uniform vec3 chosenColour;
uniform vec3 rim;
uniform int form;
varying float isChosen;
varying float pixels;
void main() {
  vec2 p = (gl_PointCoord - 0.5) * (pixels + 2.0);
  float r = pixels * 0.5;
  float d = form >= 2 ? (abs(p.x) + abs(p.y)) : length(p);
  float alpha = 1.0 - smoothstep(r - 0.5, r + 0.5, d);
  float rimWidth = max(1.0, pixels * 0.1);
  float inside = 1.0 - smoothstep(r - rimWidth - 0.5, r - rimWidth + 0.5, d);
  if (form == 1 || form == 3) {
    float hole = r * (form == 1 ? 0.45 : 0.62);
    alpha *= smoothstep(hole - 0.5, hole + 0.5, d);
    inside = 1.0;
  }
  if (alpha <= 0.0) discard;
  vec3 fill = mix(colour, chosenColour, isChosen);
  gl_FragColor = vec4(mix(rim, fill, inside), alpha);
  #include <colorspace_fragment>
}`;

export interface DotMaterial extends ShaderMaterial {
  uniforms: {
    size: { value: number };
    ratio: { value: number };
    colour: { value: Color };
    chosenColour: { value: Color };
    rim: { value: Color };
    form: { value: number };
  };
}

/** Points of `size` CSS px, drawn over everything. Geometry needs a `chosen` attribute, 0 or 1 a point. */
export function createDotMaterial(shape: DotShape, size: number): DotMaterial {
  return new ShaderMaterial({
    vertexShader: VERTEX,
    fragmentShader: FRAGMENT,
    transparent: true,
    depthTest: false,
    depthWrite: false,
    uniforms: {
      size: { value: size },
      ratio: { value: 1 },
      colour: { value: new Color() },
      chosenColour: { value: new Color() },
      rim: { value: new Color() },
      form: { value: SHAPES[shape] },
    },
  }) as DotMaterial;
}
