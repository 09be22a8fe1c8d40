import { QUANTITIES, QUANTITY_NAMES } from "../base/quantities.ts";

/** What `of:` of an expectation takes, in one sentence. */
export function measureDoc(): string {
  const names = QUANTITY_NAMES.map((name) => `\`${name}\``).join(", ");
  return `What is measured: ${names}. AXIS stands for the name of an axis or a turntable, TARGET for that of a target.`;
}

/** Every quantity with what it is, as a list in Markdown. */
export function measureList(): string {
  return QUANTITY_NAMES.map((name) => `- \`${name}\`: ${QUANTITIES[name].doc}`).join("\n");
}
