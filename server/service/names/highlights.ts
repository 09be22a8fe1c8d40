import type { Span } from "../../../core/base/span.ts";
import { definitionsFor, namesOfView } from "./definition.ts";
import type { View } from "../view.ts";

/** A place of this document that names the same as the cursor. */
export interface Highlight extends Span {
  readonly role: "definition" | "use";
}

/** Every place in the document that names what the name at `offset` names, itself included; empty on anything else. */
export function highlightsAt(view: View, offset: number): readonly Highlight[] {
  const document = namesOfView(view);
  const found = document.names.find(({ span }) => span.start <= offset && offset <= span.end);
  if (!found) {
    const reference = document.references.find(({ span }) => span.start <= offset && offset <= span.end);
    return document.references
      .filter(({ file }) => file === reference?.file)
      .map(({ span }) => ({ ...span, role: "use" as const }));
  }
  const meant = placesOf(found);
  return document.names
    .filter((each) => each === found || (each.name === found.name && placesOf(each) === meant))
    .map(({ span, role }) => ({ ...span, role }));

  /** Names that are defined nowhere mean the same where they are of one kind. */
  function placesOf(name: typeof found & object): string {
    const places = definitionsFor(document, name, view.names);
    return places.length === 0 ? name.kind : places.map(({ file, span }) => `${file}:${span.start}`).join("\n");
  }
}
