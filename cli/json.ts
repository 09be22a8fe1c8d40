/** Version of the JSON answers' shape. It grows when a reader of the old shape would break. */
export const ANSWER_VERSION = 1;

/** JSON for programs: two blanks deep, a newline at the end, no `-0`. */
export function renderJson(value: unknown): string {
  return `${JSON.stringify(value, (_key, item: unknown) => (item === 0 ? 0 : item), 2)}\n`;
}
