import { DEFAULT_LAYOUT } from "./lay-out.ts";

/** Widest step that a JSON text is taken to have. */
const WIDEST_STEP = 16;

/** One step of indentation of a JSON text as its first line that is indented has it; two blanks where none is. */
export function jsonStepOf(text: string): string {
  const first = /^([ \t]+)\S/m.exec(text)?.[1];
  if (first === undefined) return DEFAULT_LAYOUT.jsonStep;
  if (first.startsWith("\t")) return "\t";
  return /^ +$/.test(first) && first.length <= WIDEST_STEP ? first : DEFAULT_LAYOUT.jsonStep;
}
