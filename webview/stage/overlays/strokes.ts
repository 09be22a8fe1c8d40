import {
  Color,
  DynamicDrawUsage,
  Float32BufferAttribute,
  InstancedBufferGeometry,
  InstancedInterleavedBuffer,
  InterleavedBufferAttribute,
  Mesh,
  ShaderMaterial,
  Vector2,
  Vector3,
} from "three";
import type { ColourName, Palette } from "../../palette.ts";
import { CUT_BEHIND } from "../cut-behind.ts";
import { STAGE_ONLY } from "../eye.ts";
import { paintWith } from "../materials.ts";

/** How a kind of stroke looks. No two kinds of one drawing differ by their colour alone. */
export interface StrokeLook {
  readonly colour: ColourName;
  /** [CSS px] */
  readonly width: number;
  /** Length of a dash with its gap [m], and the share of it that is drawn; absent: unbroken. */
  readonly dash?: readonly [period: number, share: number];
}

/** Straight strokes of constant width on the screen, over everything, in one draw call however many they are. */
export interface Strokes {
  readonly object: Mesh;
  /** Begins anew; what was drawn is forgotten. */
  begin(): void;
  /**
   * One stroke in the set [m].
   *
   * @param look  Index into the looks.
   * @param along Where the stroke begins on a longer line [m], for its dashes.
   */
  add(ax: number, ay: number, az: number, bx: number, by: number, bz: number, look: number, along?: number): void;
  /** What was added since `begin` is drawn from now on. */
  end(): void;
  /** Strokes that are drawn, and their ends, shape (count, 2, 3). */
  places(): Float32Array;
  paint(palette: Palette): void;
  setPicture(width: number, height: number, ratio: number): void;
  dispose(): void;
}

/** Numbers of one stroke: begin and place along, end and place along, look. */
const STRIDE = 9;
/** Of the background's colour on both sides of a stroke, so that it is seen before bodies of its own colour [CSS px]. */
const RIM = 1;

const vertexText = (looks: number): string => /* glsl */ `
uniform vec2 viewport;
uniform float ratio;
uniform vec3 shape[${looks}];
attribute vec4 first;
attribute vec4 last;
attribute float look;
varying float along;
varying float across;
varying float kind;
void main() {
  vec4 a = modelViewMatrix * vec4(first.xyz, 1.0);
  vec4 b = modelViewMatrix * vec4(last.xyz, 1.0);
  ${CUT_BEHIND}
  vec4 clipA = projectionMatrix * a;
  vec4 clipB = projectionMatrix * b;
  vec2 way = (clipB.xy / clipB.w - clipA.xy / clipA.w) * viewport * 0.5;
  way = length(way) > 1e-4 ? normalize(way) : vec2(1.0, 0.0);
  kind = look;
  along = position.x > 0.5 ? last.w : first.w;
  float half_width = (shape[int(look + 0.5)].x * 0.5 + ${RIM}.0) * ratio;
  across = position.y * half_width;
  vec4 clip = position.x > 0.5 ? clipB : clipA;
  vec2 off = vec2(-way.y, way.x) * across + way * (position.x - 0.5) * ratio;
  clip.xy += off / (viewport * 0.5) * clip.w;
  gl_Position = clip;
}`;

const fragmentText = (looks: number): string => /* glsl */ `
uniform float ratio;
uniform vec3 shape[${looks}];
uniform vec3 colours[${looks}];
uniform vec3 rim;
varying float along;
varying float across;
varying float kind;
void main() {
  int which = int(kind + 0.5);
  vec3 own = shape[which];
  if (own.y > 0.0 && fract(along / own.y) > own.z) discard;
  float inside = 1.0 - smoothstep(own.x * 0.5 * ratio - 0.5, own.x * 0.5 * ratio + 0.5, abs(across));
  gl_FragColor = vec4(mix(rim, colours[which], inside), mix(0.55, 1.0, inside));
  #include <colorspace_fragment>
}`;

/** @param most Strokes that there is room for; more are left out. */
export function createStrokes(most: number, looks: readonly StrokeLook[], order: number): Strokes {
  const rows = new Float32Array(STRIDE * Math.max(1, most));
  const buffer = new InstancedInterleavedBuffer(rows, STRIDE, 1).setUsage(DynamicDrawUsage);
  const geometry = new InstancedBufferGeometry();
  geometry.setAttribute("position", new Float32BufferAttribute([0, -1, 0, 1, -1, 0, 1, 1, 0, 0, 1, 0], 3));
  geometry.setIndex([0, 1, 2, 0, 2, 3]);
  geometry.setAttribute("first", new InterleavedBufferAttribute(buffer, 4, 0));
  geometry.setAttribute("last", new InterleavedBufferAttribute(buffer, 4, 4));
  geometry.setAttribute("look", new InterleavedBufferAttribute(buffer, 1, 8));
  geometry.instanceCount = 0;
  const colours = looks.map(() => new Color());
  const rim = new Color();
  const viewport = new Vector2(1, 1);
  const material = new ShaderMaterial({
    vertexShader: vertexText(looks.length),
    fragmentShader: fragmentText(looks.length),
    transparent: true,
    depthTest: false,
    depthWrite: false,
    uniforms: {
      viewport: { value: viewport },
      ratio: { value: 1 },
      shape: { value: looks.map(({ width, dash }) => new Vector3(width, dash?.[0] ?? 0, dash?.[1] ?? 1)) },
      colours: { value: colours },
      rim: { value: rim },
    },
  });
  const object = new Mesh(geometry, material);
  object.frustumCulled = false;
  object.renderOrder = order;
  object.layers.set(STAGE_ONLY);
  let count = 0;
  return {
    object,
    begin: () => void (count = 0),
    add(ax, ay, az, bx, by, bz, look, along = 0) {
      if (count === most) return;
      const at = STRIDE * count++;
      rows[at] = ax;
      rows[at + 1] = ay;
      rows[at + 2] = az;
      rows[at + 3] = along;
      rows[at + 4] = bx;
      rows[at + 5] = by;
      rows[at + 6] = bz;
      rows[at + 7] = along + Math.hypot(bx - ax, by - ay, bz - az);
      rows[at + 8] = look;
    },
    end() {
      geometry.instanceCount = count;
      buffer.clearUpdateRanges();
      buffer.addUpdateRange(0, STRIDE * count);
      buffer.needsUpdate = true;
    },
    places() {
      const places = new Float32Array(6 * count);
      for (let i = 0; i < count; i++) {
        for (let k = 0; k < 3; k++) {
          places[6 * i + k] = rows[STRIDE * i + k];
          places[6 * i + 3 + k] = rows[STRIDE * i + 4 + k];
        }
      }
      return places;
    },
    paint(palette) {
      looks.forEach(({ colour }, i) => paintWith(colours[i], palette.colour[colour]));
      paintWith(rim, palette.colour.paper);
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
