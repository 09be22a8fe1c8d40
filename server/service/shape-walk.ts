import type { DocumentKind } from "../../core/model/document-kind.ts";
import { SHAPES } from "../../core/schema/documents.ts";
import type { FieldShape, RecordShape, ScalarShape, Shape } from "../../core/schema/shape.ts";
import type { Path } from "../../core/syntax/locate.ts";

/** What the tables say about one place of a document. Where a field takes one of several forms, there is one for each. */
export interface ShapePlace {
  readonly shape: Shape;
  /** The innermost field on the way there. */
  readonly field?: FieldShape;
  /** The map with free names whose item this is. */
  readonly record?: RecordShape;
}

/** All that a document of this kind may have at `path`; empty where nothing may stand. Choices are taken apart. */
export function shapesAt(kind: DocumentKind, path: Path): readonly ShapePlace[] {
  return path.reduce<readonly ShapePlace[]>(itemPlaces, rootPlaces(kind));
}

export function rootPlaces(kind: DocumentKind): readonly ShapePlace[] {
  return forms({ shape: SHAPES[kind] });
}

/** What may stand one step further: at a field or name of a map, or at an item of a list. */
export function itemPlaces(places: readonly ShapePlace[], step: string | number): readonly ShapePlace[] {
  return places.flatMap((place) => inside(place, step));
}

function inside(place: ShapePlace, step: string | number): ShapePlace[] {
  const { shape } = place;
  if (typeof step === "number") {
    if (shape.kind === "list") return forms({ shape: shape.item, field: place.field });
    const item = shape.kind === "tuple" ? shape.items[step] : undefined;
    return item ? forms({ shape: item, field: place.field }) : [];
  }
  if (shape.kind === "record") return forms({ shape: shape.item, field: place.field, record: shape });
  const field = shape.kind === "map" ? shape.fields.get(step) : undefined;
  return field ? forms({ shape: field.shape, field }) : [];
}

function forms(place: ShapePlace): ShapePlace[] {
  if (place.shape.kind !== "either") return [place];
  return place.shape.options.flatMap((shape) => forms({ ...place, shape }));
}

/** The field that `path` names, `undefined` for an unknown one and for what is not a field. */
export function fieldAt(kind: DocumentKind, path: Path): FieldShape | undefined {
  const last = path[path.length - 1];
  if (typeof last !== "string") return undefined;
  return shapesAt(kind, path).find(({ field, record }) => field?.name === last && !record)?.field;
}

export function scalarsOf(places: readonly ShapePlace[]): readonly ScalarShape[] {
  return places.flatMap(({ shape }) => (shape.kind === "scalar" ? [shape] : []));
}
