import { UNITS } from "../base/unit-table.ts";
import type { DocumentCode } from "../base/finding-code.ts";
import { nearestName } from "../base/nearest-name.ts";
import type { ScalarShape, Shape } from "../schema/shape.ts";
import type { ScalarNode } from "../syntax/tree.ts";
import type { Stated } from "./declared.ts";
import { expectation } from "../schema/expectation.ts";
import { sayValue, type Slot } from "./slot.ts";
import { replacement, report, type Reporter } from "./report.ts";

/** A single value, by its zod schema. */
export function readScalar(
  to: Reporter,
  shape: ScalarShape,
  node: ScalarNode,
  slot: Slot,
): Stated<unknown> | undefined {
  const { value } = node;
  const said = to.text.slice(node.start, node.end);
  if (typeof value === "number" && !Number.isFinite(value)) {
    report(to, "bad-number", node, `\`${slot.label}\`: \`${said}\` is not a finite number.`);
    return undefined;
  }
  const parsed = shape.schema.safeParse(value);
  if (parsed.success) return { value: parsed.data, span: { start: node.start, end: node.end } };
  const issue = parsed.error.issues[0];
  if (issue.code === "custom") {
    const { code = "wrong-type", cure } = (issue.params ?? {}) as { code?: DocumentCode; cure?: string };
    const cures = cure === undefined ? {} : { cures: [replacement(to, node, cure)] };
    report(to, code, node, `\`${slot.label}\`: ${issue.message}.`, cures);
    return undefined;
  }
  if (shape.facts.type === "version" && typeof value === "number") {
    report(to, "bad-number", node, `\`${slot.label}: ${said}\`: only version 1 of the language is known.`);
    return undefined;
  }
  const nearest = shape.facts.type === "word" ? nearestName(String(value), Object.keys(shape.facts.words)) : undefined;
  const message = `\`${slot.label}\` cannot be ${sayValue(to, node)}; ${expectation(shape)} is expected.`;
  report(to, "wrong-type", node, message, nearest === undefined ? {} : { cures: [replacement(to, node, nearest)] });
  return undefined;
}

/** Among the options of a choice, whether this one is for `node`: words first, then numbers with units, then names. */
export function takesScalar(option: ScalarShape, node: ScalarNode, options: readonly Shape[]): boolean {
  const kind = option.facts.type;
  if (kind === "word") return Object.hasOwn(option.facts.words, String(node.value));
  const scalars = options.filter((each) => each.kind === "scalar");
  if (scalars.some((each) => each.facts.type === "word" && Object.hasOwn(each.facts.words, String(node.value))))
    return false;
  const named = scalars.some((each) => each.facts.type === "name");
  const numeric = typeof node.value === "number" || (typeof node.value === "string" && looksNumeric(node.value));
  if (kind === "quantity") return numeric || (!named && !scalars.some((each) => each.facts.type === "word"));
  return typeof node.value === "string" && (!numeric || !scalars.some((each) => each.facts.type === "quantity"));
}

/** `2 kg` and `.5m` are numbers with a unit, right or wrong; `2nd` is a name. */
function looksNumeric(text: string): boolean {
  const match = /^\s*[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?(\s*)(.*)$/s.exec(text);
  if (!match) return false;
  const [, gap, rest] = match;
  return rest === "" || gap !== "" || Object.hasOwn(UNITS, rest.split(/[/^0-9²³\s]/)[0]);
}
