import { clash, flat, type Bit, type Choice } from "./bits.ts";
import type { Element } from "./element.ts";
import { NotCut } from "./sides.ts";

/** Puts elements under each other, each on lines of its own. Throws `NotCut` where nothing would be left. */
export function joinBlock(elements: readonly Element[], column: number, isInline: boolean): Bit[] {
  const indent = " ".repeat(column);
  for (const choice of CHOICES) {
    if (elements.every((one) => one[choice].length === 0)) throw new NotCut("A block of which nothing is left.");
  }
  return elements.flatMap((one, i): readonly Bit[] => {
    const lead = one.lead ?? [];
    if (i > 0 || !isInline) return asPresent(one, [...lead, indent, ...one.body]);
    if (!isInBoth(one) || CHOICES.some((choice) => flat(lead, choice).trim() !== "")) {
      throw new NotCut("Lines above a part that begins behind its dash.");
    }
    return one.body;
  });
}

const CHOICES: readonly Choice[] = ["ours", "theirs"];

const isInBoth = ({ ours, theirs }: Element): boolean => ours.length > 0 && theirs.length > 0;

function asPresent(element: Element, bits: readonly Bit[]): readonly Bit[] {
  const isRun = element.rows.length > 1 || element.isWhole === true;
  if (isInBoth(element) && !isRun) return bits;
  const text = (choice: Choice): string => (element[choice].length > 0 ? flat(bits, choice) : "");
  const made = clash(text("ours"), text("theirs"));
  return typeof made !== "string" && element.isWhole === true ? [{ ...made, isWhole: true }] : [made];
}

/**
 * Puts elements behind each other with commas between those that are there in each choice.
 *
 * @param gap What stands behind a comma where an element brings nothing for it.
 */
export function joinFlow(elements: readonly Element[], gap: string): Bit[] {
  const isBegun = { ours: false, theirs: false };
  return elements.flatMap((one): readonly Bit[] => {
    const lead = one.lead ?? [gap];
    const comma = CHOICES.map((choice) => {
      if (one[choice].length === 0) return "";
      const text = isBegun[choice] ? `,${flat(lead, choice)}` : "";
      isBegun[choice] = true;
      return text;
    });
    if (!isInBoth(one)) {
      const text = (choice: Choice, before: string): string =>
        one[choice].length > 0 ? before + flat(one.body, choice) : "";
      return [clash(text("ours", comma[0]), text("theirs", comma[1]))];
    }
    return [clash(comma[0], comma[1]), ...one.body];
  });
}
