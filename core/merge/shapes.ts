import type { Shape } from "../schema/shape.ts";

/** Every form that a value may have at a place of a document; none where the place is not known. */
export type Shapes = readonly Exclude<Shape, { readonly kind: "either" }>[];

export function shapesOf(shape: Shape): Shapes {
  return shape.kind === "either" ? shape.options.flatMap(shapesOf) : [shape];
}

/** The forms of a field of a map. */
export function fieldShapes(shapes: Shapes, name: string): Shapes {
  return shapes.flatMap((shape) => {
    if (shape.kind === "record") return shapesOf(shape.item);
    const field = shape.kind === "map" ? shape.fields.get(name) : undefined;
    return field ? shapesOf(field.shape) : [];
  });
}

/** The forms of an item of a list. */
export function itemShapes(shapes: Shapes, index: number): Shapes {
  return shapes.flatMap((shape) => {
    if (shape.kind === "list") return shapesOf(shape.item);
    const item = shape.kind === "tuple" ? shape.items[index] : undefined;
    return item ? shapesOf(item) : [];
  });
}

/** True for a list whose items say when: they stand in order of time. */
export function isTimed(shapes: Shapes): boolean {
  return itemShapes(shapes, 0).some((shape) => {
    const at = shape.kind === "map" ? shape.fields.get("at")?.shape : undefined;
    return at?.kind === "scalar" && at.facts.type === "time";
  });
}
