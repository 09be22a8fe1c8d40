import { Color, Vector3, type Material } from "three";

/** What the shaders of all surfaces know of the depth of field; one object for all, written once a picture. */
export interface SharpnessUniforms {
  /** 1 where surfaces tell whether they are sharp. */
  readonly sharpShown: { value: number };
  /** Entrance pupil [m] and direction of the view, both in the set. */
  readonly sharpFrom: { readonly value: Vector3 };
  readonly sharpAlong: { readonly value: Vector3 };
  /** Ends of the depth of field along the view [m]; `sharpFar` is very large where it has no end. */
  readonly sharpNear: { value: number };
  readonly sharpFar: { value: number };
  /** Device px of a stripe and the gap after it. */
  readonly sharpStripe: { value: number };
  readonly sharpFront: { readonly value: Color };
  readonly sharpIn: { readonly value: Color };
  readonly sharpBehind: { readonly value: Color };
}

export const createSharpnessUniforms = (): SharpnessUniforms => ({
  sharpShown: { value: 0 },
  sharpFrom: { value: new Vector3() },
  sharpAlong: { value: new Vector3(1, 0, 0) },
  sharpNear: { value: 0 },
  sharpFar: { value: 0 },
  sharpStripe: { value: 8 },
  sharpFront: { value: new Color() },
  sharpIn: { value: new Color() },
  sharpBehind: { value: new Color() },
});

/**
 * Lets a material show what of its surface is in front of, inside and behind the depth of field: in front hatched upwards,
 * behind hatched downwards, inside plain, each with its colour. What is behind the camera stays as it is.
 */
export function showSharpness(material: Material, uniforms: SharpnessUniforms): void {
  material.onBeforeCompile = (shader) => {
    Object.assign(shader.uniforms, uniforms);
    shader.vertexShader = shader.vertexShader
      .replace("#include <common>", `#include <common>\nvarying vec3 vSharpPlace;`)
      .replace("#include <project_vertex>", `#include <project_vertex>\n${PLACE}`);
    shader.fragmentShader = shader.fragmentShader
      .replace("#include <common>", `#include <common>\n${HEAD}`)
      .replace("#include <color_fragment>", `#include <color_fragment>\n${TINT}`);
  };
}

const PLACE = `
vec4 sharpPlace = vec4(transformed, 1.0);
#ifdef USE_INSTANCING
  sharpPlace = instanceMatrix * sharpPlace;
#endif
vSharpPlace = (modelMatrix * sharpPlace).xyz;`;

const HEAD = `
varying vec3 vSharpPlace;
uniform float sharpShown, sharpNear, sharpFar, sharpStripe;
uniform vec3 sharpFrom, sharpAlong, sharpFront, sharpIn, sharpBehind;`;

const TINT = `
if (sharpShown > 0.5) {
  float sharpDepth = dot(vSharpPlace - sharpFrom, sharpAlong);
  if (sharpDepth > 0.0) {
    bool sharpIsFront = sharpDepth < sharpNear;
    bool sharpIsBehind = sharpDepth > sharpFar;
    float sharpLine = fract((gl_FragCoord.x + (sharpIsFront ? -gl_FragCoord.y : gl_FragCoord.y)) / sharpStripe);
    float sharpShare = sharpIsFront || sharpIsBehind ? (sharpLine < 0.4 ? 0.85 : 0.25) : 0.6;
    diffuseColor.rgb = mix(diffuseColor.rgb, sharpIsFront ? sharpFront : sharpIsBehind ? sharpBehind : sharpIn, sharpShare);
  }
}`;
