import { BufferAttribute, BufferGeometry, DynamicDrawUsage, Points } from "three";
import type { ColourName, Palette } from "../palette.ts";
import { createDotMaterial, type DotShape } from "./dot-material.ts";
import { STAGE_ONLY } from "./eye.ts";
import { paintWith } from "./materials.ts";

/** A set of marks of constant size on the screen, one draw call. */
export interface Dots {
  readonly object: Points;
  /** Shape (count, 3) in the set; write into it, then call `moved`. */
  readonly places: Float32Array;
  moved(): void;
  /** Marks one of them as chosen, -1 for none. */
  choose(index: number): void;
  paint(palette: Palette): void;
  setRatio(ratio: number): void;
  dispose(): void;
}

export function createDots(
  count: number,
  look: { shape: DotShape; size: number; colour: ColourName; chosen: ColourName; order: number },
): Dots {
  const geometry = new BufferGeometry();
  const position = new BufferAttribute(new Float32Array(3 * count), 3).setUsage(DynamicDrawUsage);
  const chosen = new BufferAttribute(new Float32Array(count), 1);
  geometry.setAttribute("position", position);
  geometry.setAttribute("chosen", chosen);
  let now = -1;
  const material = createDotMaterial(look.shape, look.size);
  const object = new Points(geometry, material);
  object.frustumCulled = false;
  object.renderOrder = look.order;
  object.layers.set(STAGE_ONLY);
  return {
    object,
    places: position.array as Float32Array,
    moved: () => void (position.needsUpdate = true),
    choose(index) {
      if (index === now) return;
      now = index;
      for (let i = 0; i < count; i++) chosen.array[i] = i === index ? 1 : 0;
      chosen.needsUpdate = true;
    },
    paint(palette) {
      paintWith(material.uniforms.colour.value, palette.colour[look.colour]);
      paintWith(material.uniforms.chosenColour.value, palette.colour[look.chosen]);
      paintWith(material.uniforms.rim.value, palette.colour.paper);
    },
    setRatio: (ratio) => void (material.uniforms.ratio.value = ratio),
    dispose() {
      geometry.dispose();
      material.dispose();
    },
  };
}
