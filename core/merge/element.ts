import { clash, type Bit } from "./bits.ts";
import { isWithin, remarks } from "./lines.ts";
import { mergeNotes } from "./merge-notes.ts";
import { commentsIn, mergePart, whole } from "./merge-part.ts";
import type { Row } from "./match-rows.ts";
import { bodyOf, type Part } from "./part.ts";
import { isSameMeaning } from "./same-value.ts";
import { saidEntry, saidOf, type Said } from "./said.ts";
import type { Shapes } from "./shapes.ts";
import type { Merging } from "./merging.ts";

/** What becomes of a row, or of a run of rows on which the sides do not agree. */
export interface Element {
  readonly rows: readonly number[];
  /** `undefined` for a part that was the first in brackets. */
  readonly lead: readonly Bit[] | undefined;
  readonly body: readonly Bit[];
  /** What it says in the map or list for each choice; empty where it is not there then. */
  readonly ours: readonly Said[];
  readonly theirs: readonly Said[];
  /** True where the sides put two things there, which are shown whole; else lines that they have in common are not in the conflict. */
  readonly isWhole?: boolean;
}

/** How the parts of one map or list are merged. */
export interface Place {
  readonly isMap: boolean;
  readonly shapesOf: (part: Part) => Shapes;
}

/** What becomes of a row; `undefined` where one side took it away and the other left it as it was. */
export function elementOf(merging: Merging, row: Row, id: number, place: Place): Element | undefined {
  const { base, ours, theirs } = row;
  if (ours && theirs) return ofBoth(merging, { base, ours, theirs }, id, place);
  const left = ours ?? theirs;
  if (!left || (base && isUntouched(merging, base, left, place))) return undefined;
  const alone = contested(row, id, place);
  const said = [...alone.ours, ...alone.theirs];
  return base ? alone : { ...alone, ours: said, theirs: said };
}

/** A row that only one side has, of which it is for a person to say whether it stays. */
export function contested({ ours, theirs }: Row, id: number, place: Place): Element {
  const of = (part: Part | undefined): readonly Said[] => (part ? [saidPart(part, place, saidOf(part.node))] : []);
  const left = ours ?? theirs;
  return {
    rows: [id],
    lead: left?.lead === undefined ? undefined : [left.lead],
    body: left ? [bodyOf(left)] : [],
    ours: of(ours),
    theirs: of(theirs),
  };
}

const saidPart = (part: Part, { isMap }: Place, said: Said): Said => (isMap ? saidEntry(part.name, said) : said);

function ofBoth(
  merging: Merging,
  three: { readonly base: Part | undefined; readonly ours: Part; readonly theirs: Part },
  id: number,
  place: Place,
): Element {
  const { base, ours, theirs } = three;
  const shapes = place.shapesOf(ours);
  const isOneOrBoth = place.isMap || base || isSameMeaning(ours.node, theirs.node, shapes, merging.timing);
  const merged = isOneOrBoth
    ? mergePart(merging, three, shapes)
    : { bits: [clash(bodyOf(ours), bodyOf(theirs))], ours: whole(ours).ours, theirs: whole(theirs).theirs };
  const byName = merged.ours === merged.theirs ? nameTaken(three) : undefined;
  return {
    rows: [id],
    lead: mergeLeads(base?.lead, ours.lead, theirs.lead),
    body: merged.bits,
    ours: [saidPart(byName ?? ours, place, merged.ours)],
    theirs: [saidPart(byName ?? theirs, place, merged.theirs)],
    ...(!isOneOrBoth && { isWhole: true }),
  };
}

/** Of fields with two names for one thing, the one whose side's text was taken. */
function nameTaken({ base, ours, theirs }: { base?: Part | undefined; ours: Part; theirs: Part }): Part {
  return base && base.name === ours.name && base.name !== theirs.name ? theirs : ours;
}

function mergeLeads(
  base: string | undefined,
  ours: string | undefined,
  theirs: string | undefined,
): readonly Bit[] | undefined {
  if (ours === undefined) return theirs === undefined ? undefined : [theirs];
  return theirs === undefined ? [ours] : mergeNotes(base, ours, theirs);
}

function isUntouched({ timing }: Merging, base: Part, left: Part, place: Place): boolean {
  if (!isWithin(remarks(left.lead ?? ""), remarks(base.lead ?? ""))) return false;
  if (bodyOf(base) === bodyOf(left)) return true;
  const isSame = base.name === left.name && isSameMeaning(base.node, left.node, place.shapesOf(left), timing);
  return isSame && isWithin(commentsIn(left), commentsIn(base));
}
