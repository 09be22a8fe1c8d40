import {
  Color,
  InstancedBufferGeometry,
  InstancedInterleavedBuffer,
  InterleavedBufferAttribute,
  Float32BufferAttribute,
  Mesh,
  ShaderMaterial,
  Vector2,
} from "three";
import type { Palette } from "../palette.ts";
import { BAND_STARTS } from "../take/share.ts";
import { CUT_BEHIND } from "./cut-behind.ts";
import { STAGE_ONLY } from "./eye.ts";
import { paintWith } from "./materials.ts";

/** Width of the path where nothing moves and where a limit is reached [CSS px]. */
const THIN = 2;
const THICK = 6;

/** Each instance is one segment, drawn as a strip that is as wide on the screen as its share of a limit says. */
const VERTEX = /* glsl */ `
uniform vec2 viewport;
uniform float ratio;
attribute vec4 begin;
attribute vec4 finish;
varying float share;
void main() {
  vec4 a = modelViewMatrix * vec4(begin.xyz, 1.0);
  vec4 b = modelViewMatrix * vec4(finish.xyz, 1.0);
  ${CUT_BEHIND}
  vec4 clipA = projectionMatrix * a;
  vec4 clipB = projectionMatrix * b;
  vec2 onA = clipA.xy / clipA.w * viewport * 0.5;
  vec2 onB = clipB.xy / clipB.w * viewport * 0.5;
  vec2 along = onB - onA;
  along = length(along) > 1e-4 ? normalize(along) : vec2(1.0, 0.0);
  vec2 across = vec2(-along.y, along.x);
  share = position.x > 0.5 ? finish.w : begin.w;
  float width = mix(${THIN}.0, ${THICK}.0, clamp(share, 0.0, 1.0)) * ratio;
  vec4 clip = position.x > 0.5 ? clipB : clipA;
  vec2 off = across * position.y * width * 0.5 + along * (position.x - 0.5) * ratio * 0.5;
  clip.xy += off / (viewport * 0.5) * clip.w;
  gl_Position = clip;
}`;

/** Over a limit the path is hatched, so that it shows without colour too. */
const FRAGMENT = /* glsl */ `
uniform vec3 calm;
uniform vec3 busy;
uniform vec3 near;
uniform vec3 over;
uniform vec3 hatch;
uniform float ratio;
varying float share;
void main() {
  vec3 colour = share < ${BAND_STARTS[1]} ? calm : share < ${BAND_STARTS[2]} ? busy : share < 1.000001 ? near : over;
  if (share >= 1.000001 && mod(gl_FragCoord.x + gl_FragCoord.y, 6.0 * ratio) < 2.0 * ratio) colour = hatch;
  gl_FragColor = vec4(colour, 1.0);
  #include <colorspace_fragment>
}`;

export interface PathModel {
  readonly object: Mesh;
  paint(palette: Palette): void;
  /** Size of the picture in device px and device px per CSS px. */
  setPicture(width: number, height: number, ratio: number): void;
  dispose(): void;
}

/**
 * The path of the entrance pupil as one geometry.
 *
 * @param position Shape (n, 3) in the set [m].
 * @param share    Shape (n,): highest share of any limit; unbounded counts as twice the limit.
 */
export function createPathModel(position: Float64Array, share: Float64Array): PathModel {
  const count = share.length;
  const rows = new Float32Array(4 * count);
  for (let i = 0; i < count; i++) {
    for (let c = 0; c < 3; c++) {
      const part = position[3 * i + c];
      rows[4 * i + c] = Number.isFinite(part) ? part : i > 0 ? rows[4 * i - 4 + c] : 0;
    }
    rows[4 * i + 3] = Number.isNaN(share[i]) ? 0 : Math.min(share[i], 2);
  }
  const geometry = new InstancedBufferGeometry();
  geometry.setAttribute("position", new Float32BufferAttribute([0, -1, 0, 1, -1, 0, 1, 1, 0, 0, 1, 0], 3));
  geometry.setIndex([0, 1, 2, 0, 2, 3]);
  // Segment i reads rows i and i + 1 of the same buffer.
  const buffer = new InstancedInterleavedBuffer(rows, 4, 1);
  geometry.setAttribute("begin", new InterleavedBufferAttribute(buffer, 4, 0));
  geometry.setAttribute("finish", new InterleavedBufferAttribute(buffer, 4, 4));
  geometry.instanceCount = Math.max(0, count - 1);
  const colours = {
    calm: new Color(),
    busy: new Color(),
    near: new Color(),
    over: new Color(),
    hatch: new Color(),
  };
  const viewport = new Vector2(1, 1);
  const material = new ShaderMaterial({
    vertexShader: VERTEX,
    fragmentShader: FRAGMENT,
    uniforms: {
      viewport: { value: viewport },
      ratio: { value: 1 },
      ...Object.fromEntries(Object.entries(colours).map(([name, value]) => [name, { value }])),
    },
  });
  const object = new Mesh(geometry, material);
  object.frustumCulled = false;
  object.layers.set(STAGE_ONLY);
  return {
    object,
    paint(palette) {
      paintWith(colours.calm, palette.colour["share-calm"]);
      paintWith(colours.busy, palette.colour["share-busy"]);
      paintWith(colours.near, palette.colour["share-near"]);
      paintWith(colours.over, palette.colour["share-over"]);
      paintWith(colours.hatch, palette.colour.paper);
    },
    setPicture(width, height, ratio) {
      viewport.set(width, height);
      material.uniforms.ratio.value = ratio;
    },
    dispose() {
      geometry.dispose();
      material.dispose();
    },
  };
}
