import { listing } from "../base/listing.ts";
import { nearestName } from "../base/nearest-name.ts";
import {
  PLAIN_QUANTITIES,
  QUANTITIES,
  quantitiesOf,
  SUBJECTS,
  type QuantityName,
  type Subject,
} from "../base/quantities.ts";
import type { ResolvedExpectation } from "../motion/resolved-move.ts";
import { axisDimension } from "./axis-quantity.ts";
import { bindAxis } from "./bind-axis.ts";
import type { Stated } from "./declared.ts";
import type { MoveContext } from "./move-context.ts";
import { bindTarget } from "./move-parts.ts";
import { namePart } from "./name-part.ts";
import { replacement, report } from "./report.ts";

type Measured = Pick<ResolvedExpectation, "measure" | "dimension">;

/** What `pan.speed` measures, or `undefined` after a finding or while rig or set are not known. */
export function resolveMeasure(context: MoveContext, of: Stated<string>): Measured | undefined {
  const plain = PLAIN_QUANTITIES.find((name) => name === of.value);
  if (plain) return measured(context, plain, -1);
  const dot = of.value.indexOf(".");
  const [name, word] = dot < 0 ? [of.value, ""] : [of.value.slice(0, dot), of.value.slice(dot + 1)];
  const subject = subjectOf(context, name, word);
  const quantity = subject && quantitiesOf(subject).get(word);
  if (!quantity) {
    reportUnknown(context, of);
    return undefined;
  }
  const { rig, set, axes } = context;
  const part = namePart(context.scope, of, name, "first");
  let index: number | undefined;
  if (subject === "TARGET") index = bindTarget(part.to, part.stated, set);
  else if (rig && set) index = bindAxis(part.to, part.stated, axes);
  return index === undefined ? undefined : measured(context, quantity, index);
}

/** What has a quantity of this word; where several have, the one of that name. */
function subjectOf(context: MoveContext, name: string, word: string): Subject | undefined {
  const able = (Object.keys(SUBJECTS) as Subject[]).filter((subject) => quantitiesOf(subject).has(word));
  return able.find((subject) => namesOf(context, subject).includes(name)) ?? able[0];
}

const namesOf = ({ axes, set }: MoveContext, subject: Subject): readonly string[] =>
  subject === "AXIS" ? axes.map((axis) => axis.name) : (set?.names.targets ?? []);

function measured({ axes }: MoveContext, quantity: QuantityName, subject: number): Measured {
  const { dimension } = QUANTITIES[quantity];
  const measure = { quantity, subject };
  if (typeof dimension === "string") return { measure, dimension };
  return { measure, dimension: axisDimension(axes[subject].type, dimension) };
}

function reportUnknown(context: MoveContext, of: Stated<string>): void {
  const { scope } = context;
  const known = [
    ...(Object.keys(SUBJECTS) as Subject[]).flatMap((subject) =>
      namesOf(context, subject).flatMap((name) => [...quantitiesOf(subject).keys()].map((word) => `${name}.${word}`)),
    ),
    ...PLAIN_QUANTITIES,
  ];
  const nearest = nearestName(of.value, known);
  const forms = listing(["AXIS.speed", "TARGET.framing.across", "TARGET.distance", "camera.speed", "duration"]);
  const cure = nearest ? `Did you mean \`${nearest}\`?` : `Known are such as ${forms}.`;
  const cures = nearest ? { cures: [replacement(scope, of.span, nearest)] } : {};
  report(scope, "wrong-type", of.span, `\`${of.value}\` is no quantity of the motion. ${cure}`, cures);
}
