import type { Span } from "../../../core/base/span.ts";
import { formatQuantity } from "../../../core/base/units.ts";
import type { Solid } from "../../../core/rig/resolved-rig.ts";
import { code, paragraphs, plain } from "../markdown.ts";
import type { User } from "../hover.ts";

const MOST_FINDINGS = 5;

/** What stands in a set: its shape, and what the moves that use the set have to say of it. */
export function bodyHover(users: readonly User[], file: string, name: string, entry: Span): string | undefined {
  const bodies = users.flatMap(({ solved: { move, origins } }) =>
    [...move.obstacles, ...move.people].filter(
      (each) => each.name === name && origins.place(each.origin)?.file === file,
    ),
  );
  if (bodies.length === 0) return undefined;
  const said = users.flatMap(({ title, solved }) =>
    solved.findings
      .filter(({ related }) => related.some(({ place }) => place.file === file && within(place.span, entry)))
      .map(({ message }) => `- ${plain(title)}: ${plain(message)}`),
  );
  const left = said.length > MOST_FINDINGS ? [`- and ${said.length - MOST_FINDINGS} more`] : [];
  return paragraphs([
    `${code(name)}: ${solidWords(bodies[0].solid)}${bodies[0].table === undefined ? "" : ", on a turntable"}.`,
    said.length === 0
      ? `No finding of the ${users.length === 1 ? "move that uses" : `${users.length} moves that use`} this set is about it.`
      : [...said.slice(0, MOST_FINDINGS), ...left].join("\n"),
  ]);
}

function within(inner: Span, outer: Span): boolean {
  return outer.start <= inner.start && inner.end <= outer.end;
}

function solidWords(solid: Solid): string {
  const length = (value: number): string => formatQuantity(value, "length");
  switch (solid.shape) {
    case "box":
      return `a box of ${solid.size.map(length).join(" by ")}`;
    case "sphere":
      return `a sphere of radius ${length(solid.radius)}`;
    case "mesh":
      return `a mesh, ${plain(solid.file)}`;
    default:
      return `a ${solid.shape} of radius ${length(solid.radius)}, ${length(solid.height)} high`;
  }
}
