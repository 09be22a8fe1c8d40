/**
 * For a vertex shader that draws a segment from `a` to `b` (eye space): what is behind the eye has no place on the screen and
 * is cut off there. Perspective only; w is 1 in a parallel view.
 */
export const CUT_BEHIND = /* glsl */ `
  if (projectionMatrix[2][3] == -1.0) {
    float edge = -0.001;
    if (a.z > edge && b.z > edge) { gl_Position = vec4(0.0, 0.0, 2.0, 1.0); return; }
    if (a.z > edge) a = mix(a, b, (edge - a.z) / (b.z - a.z));
    if (b.z > edge) b = mix(b, a, (edge - b.z) / (a.z - b.z));
  }`;
