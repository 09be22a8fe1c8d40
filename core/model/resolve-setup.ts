import { listing } from "../base/listing.ts";
import type { OriginId } from "../base/origin-id.ts";
import type { Span } from "../base/span.ts";
import { formatQuantity } from "../base/units.ts";
import type { MoveAxis } from "../motion/resolved-move.ts";
import type { Written } from "../schema/field-types.ts";
import { axisDimension, resolveQuantity } from "./axis-quantity.ts";
import { bindAxis } from "./bind-axis.ts";
import { axisNames, bindName } from "./bind-name.ts";
import type { Stated } from "./declared.ts";
import type { MoveFields } from "./move-context.ts";
import { report } from "./report.ts";
import { originOf, type Scope } from "./resolution.ts";

/** Values by axis index, SI. */
export type AxisValues = Record<number, number>;

/**
 * Values of the axes that are set before the take. One that is left out is a finding at `place` and gets its value nearest
 * to 0.
 */
export function resolveSetup(scope: Scope, fields: MoveFields, axes: readonly MoveAxis[], place: Span): AxisValues {
  const setup: AxisValues = {};
  const settable = axes.filter((axis) => axis.role === "setup").map((axis) => axis.name);
  for (const [name, { nameSpan, item }] of fields.setup?.value ?? []) {
    const other = axes.find((axis) => axis.name === name && axis.role !== "setup");
    if (other) {
      const which = settable.length > 0 ? ` Set before a take: ${listing(settable, "and")}.` : "";
      const does = other.role === "follows" ? "follows another axis" : "is driven in the take";
      const message = `\`${name}\` ${does}, so it has no value in \`setup\`: give it in the keys.${which}`;
      report(scope, "over-determined", nameSpan, message, { axis: name });
      continue;
    }
    const bound = bindName(scope, { value: name, span: nameSpan }, axisNames(settable));
    const index = axes.findIndex((axis) => axis.name === bound);
    if (!item || index < 0 || index in setup) continue;
    const value = resolveQuantity(scope, item, axisDimension(axes[index].type, 0), name);
    if (value !== undefined) setup[index] = atPosition(scope, axes[index], item, value);
  }
  fillSetup(scope, fields, axes, setup, place);
  return setup;
}

/** Where the text states the value of each axis that is set before the take, by axis index. */
export function setupOrigins(scope: Scope, fields: MoveFields, axes: readonly MoveAxis[]): Record<number, OriginId> {
  const origins: Record<number, OriginId> = {};
  axes.forEach((axis, index) => {
    const item = axis.role === "setup" ? fields.setup?.value.get(axis.name)?.item : undefined;
    if (item) origins[index] = originOf(scope, item.span);
  });
  return origins;
}

function fillSetup(scope: Scope, fields: MoveFields, axes: readonly MoveAxis[], setup: AxisValues, place: Span): void {
  const broken = "setup" in fields && !fields.setup;
  axes.forEach((axis, index) => {
    if (axis.role !== "setup" || index in setup) return;
    setup[index] = restValue(axis);
    if (broken || fields.setup?.value.has(axis.name) || axis.positions?.length === 1) return;
    const assumed = formatQuantity(setup[index], axisDimension(axis.type, 0));
    const message = `\`setup\` lacks \`${axis.name}\`, an axis that is set before the take; ${assumed} is assumed.`;
    report(scope, "missing-field", place, message, { axis: axis.name });
  });
}

/** How far a set-up value may be off a position that the axis can take: 1e-6 m or rad. */
const AT_POSITION = 1e-6;

function atPosition(scope: Scope, axis: MoveAxis, stated: Stated<Written>, value: number): number {
  const { positions } = axis;
  if (!positions) return value;
  const found = positions.find((position) => Math.abs(position - value) <= AT_POSITION);
  if (found !== undefined) return found;
  const allowed = listing(positions.map((position) => formatQuantity(position, axisDimension(axis.type, 0))));
  const message = `\`${axis.name}\` cannot be \`${stated.value}\`: it can be set to ${allowed}.`;
  report(scope, "bad-number", stated.span, message, { axis: axis.name });
  return value;
}

function restValue({ positions, range }: MoveAxis): number {
  if (positions) return positions.reduce((best, each) => (Math.abs(each) < Math.abs(best) ? each : best));
  return range ? Math.min(Math.max(0, range.low), range.high) : 0;
}

/** Wished first values by axis index. */
export function resolveNear(scope: Scope, fields: MoveFields, axes: readonly MoveAxis[]): AxisValues {
  const near: AxisValues = {};
  for (const [name, { nameSpan, item }] of fields.near?.value ?? []) {
    const index = bindAxis(scope, { value: name, span: nameSpan }, axes);
    if (!item || index === undefined || index in near) continue;
    const value = resolveQuantity(scope, item, axisDimension(axes[index].type, 0), name);
    if (value !== undefined) near[index] = value;
  }
  return near;
}
