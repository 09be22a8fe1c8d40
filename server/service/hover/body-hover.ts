import type { Span } from "../../../core/base/span.ts";
import type { Task } from "../../../core/base/task.ts";
import { formatQuantity } from "../../../core/base/units.ts";
import type { Body, Solid } from "../../../core/rig/resolved-rig.ts";
import { labelText } from "../key-table.ts";
import { code, paragraphs, plain, table } from "../markdown.ts";
import { moreRows, MOST_ROWS, type User } from "./around.ts";
import { leastDistance } from "./least-distance.ts";

const MOST_FINDINGS = 5;

/**
 * What stands in a set, or a part of a rig: its shape, how near the moves that use it come, and what they have to say of it.
 *
 * @param slow Whether there is time to look for the least distances.
 */
export function* bodyHover(
  users: readonly User[],
  file: string,
  { name, entry, slow }: { readonly name: string; readonly entry: Span; readonly slow: boolean },
): Task<string | undefined> {
  const uses = users.flatMap((user) => bodiesOf(user, file, name, entry).map((body) => ({ user, body })));
  if (uses.length === 0) return undefined;
  const [{ body }] = uses;
  const said = users.flatMap(({ title, solved }) =>
    solved.findings
      .filter(({ related }) => related.some(({ place }) => place.file === file && within(place.span, entry)))
      .map(({ message }) => `- ${plain(title)}: ${plain(message)}`),
  );
  const left = said.length > MOST_FINDINGS ? [`- and ${said.length - MOST_FINDINGS} more`] : [];
  const rows = slow ? yield* distanceRows(uses) : [];
  return paragraphs([
    `${code(name)}: ${solidWords(body.solid)}${body.table === undefined ? "" : ", on a turntable"}.${isDressing(uses[0]) ? " It dresses the picture: it is drawn, and nothing is checked against it." : ""}`,
    rows.length === 0 ? undefined : table(["least distance in", "distance", "to", "at"], rows),
    rows.length === 0 ? undefined : moreRows(uses.length, "moves"),
    isDressing(uses[0])
      ? undefined
      : said.length === 0
        ? `No finding of the ${users.length === 1 ? "move that uses" : `${users.length} moves that use`} this document is about it.`
        : [...said.slice(0, MOST_FINDINGS), ...left].join("\n"),
  ]);
}

const isDressing = ({ user, body }: { readonly user: User; readonly body: Body }): boolean =>
  (user.solved.move.dressing ?? []).includes(body);

function* distanceRows(uses: readonly { readonly user: User; readonly body: Body }[]): Task<string[][]> {
  const rows: string[][] = [];
  for (const { user, body } of uses.slice(0, MOST_ROWS)) {
    const least = yield* leastDistance(user.solved, body.origin);
    if (!least) continue;
    const { distance, to, t } = least;
    const shown = distance < 0 ? `${formatQuantity(-distance, "length")} into it` : formatQuantity(distance, "length");
    rows.push([plain(user.title), shown, plain(to), labelText(user.solved.move, t)]);
  }
  return rows;
}

/** The body of that name that this text states. */
function bodiesOf({ solved: { move, origins } }: User, file: string, name: string, entry: Span): readonly Body[] {
  return [...move.obstacles, ...move.people, ...(move.dressing ?? []), ...move.rig.bodies].filter((each) => {
    const place = origins.place(each.origin);
    return each.name === name && place?.file === file && within(place.span, entry);
  });
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
