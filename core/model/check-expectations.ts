import { headOf } from "./read.ts";
import { listing } from "../base/listing.ts";
import type { Dimension } from "../base/dimension.ts";
import { nearestName } from "../base/nearest-name.ts";
import type { Span } from "../base/span.ts";
import { parseTime } from "../base/timecode.ts";
import type { Written } from "../schema/field-types.ts";
import { axisDimension, resolveQuantity } from "./axis-quantity.ts";
import { bindAxis } from "./bind-axis.ts";
import type { Stated } from "./declared.ts";
import type { MoveContext, MoveFields } from "./move-context.ts";
import { bindTarget } from "./move-parts.ts";
import { namePart } from "./name-part.ts";
import { replacement, report } from "./report.ts";

type Expectation = NonNullable<NonNullable<MoveFields["expect"]>["value"][number]>;

/** Looks up what the move's own tests speak of, and says at `name`, the field's, that they are not evaluated yet. */
export function checkExpectations(context: MoveContext, { expect }: MoveFields, name: Span): void {
  if (!expect) return;
  for (const expectation of expect.value) if (expectation) checkExpectation(context, expectation);
  const message = "`expect` is read and its names and units are checked, but it is not evaluated yet.";
  report(context.scope, "not-computed", name, message, { severity: "warning" });
}

function checkExpectation(context: MoveContext, expectation: Expectation): void {
  const { value } = expectation;
  const { scope, rate, startFrame } = context;
  const { of, below, above, between, from, to } = value;
  if (!("below" in value) && !("above" in value) && !("between" in value)) {
    report(scope, "missing-field", headOf(expectation), "An expectation gives `below`, `above` or `between`.");
  }
  for (const [label, time] of Object.entries({ from, to })) {
    const parsed = time && parseTime(time.value, rate, startFrame);
    if (time && parsed && !parsed.ok) report(scope, parsed.code, time.span, `\`${label}\`: ${parsed.message}.`);
  }
  const dimension = of && dimensionOf(context, of);
  if (!dimension) return;
  const bound = (stated: Stated<Written> | undefined, label: string): number | undefined =>
    stated && resolveQuantity(scope, stated, dimension, label);
  bound(below, "below");
  bound(above, "above");
  const [low, high] = (between?.value ?? []).map((end) => bound(end, "between"));
  if (between && low !== undefined && high !== undefined && !(low < high)) {
    report(
      scope,
      "bad-number",
      between.span,
      "`between` is [lowest, highest]: its first value must be less than its second.",
    );
  }
}

const AXIS_MEASURES = { value: 0, speed: 1, accel: 2, jerk: 3 } as const;
const CAMERA_MEASURES: Readonly<Record<string, Dimension>> = { speed: "length-speed", height: "length" };
const TARGET_MEASURES: Readonly<Record<string, Dimension>> = {
  "framing.across": "share",
  "framing.down": "share",
  distance: "length",
};

/** What `pan.speed` is measured in, or `undefined` after a finding. */
function dimensionOf(context: MoveContext, of: Stated<string>): Dimension | undefined {
  const { scope, axes, rig, set } = context;
  if (of.value === "duration") return "time";
  const dot = of.value.indexOf(".");
  const [name, measure] = dot < 0 ? [of.value, ""] : [of.value.slice(0, dot), of.value.slice(dot + 1)];
  const part = namePart(scope, of, name, "first");
  if (name === "camera" && Object.hasOwn(CAMERA_MEASURES, measure)) return CAMERA_MEASURES[measure];
  if (Object.hasOwn(TARGET_MEASURES, measure)) {
    if (set) bindTarget(part.to, part.stated, set);
    return TARGET_MEASURES[measure];
  }
  if (Object.hasOwn(AXIS_MEASURES, measure)) {
    const index = rig && set ? bindAxis(part.to, part.stated, axes) : undefined;
    return index === undefined
      ? undefined
      : axisDimension(axes[index].type, AXIS_MEASURES[measure as keyof typeof AXIS_MEASURES]);
  }
  const known = [
    ...axes.flatMap((axis) => Object.keys(AXIS_MEASURES).map((each) => `${axis.name}.${each}`)),
    ...(set?.targets ?? []).flatMap((target) => Object.keys(TARGET_MEASURES).map((each) => `${target.name}.${each}`)),
    ...Object.keys(CAMERA_MEASURES).map((each) => `camera.${each}`),
    "duration",
  ];
  const nearest = nearestName(of.value, known);
  const forms = listing(["AXIS.speed", "TARGET.framing.across", "TARGET.distance", "camera.speed", "duration"]);
  const cure = nearest ? `Did you mean \`${nearest}\`?` : `Known are such as ${forms}.`;
  const cures = nearest ? { cures: [replacement(scope, of.span, nearest)] } : {};
  report(scope, "wrong-type", of.span, `\`${of.value}\` is no quantity of the motion. ${cure}`, cures);
  return undefined;
}
