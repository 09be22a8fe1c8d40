import {
  partsOfQuantity,
  QUANTITIES,
  QUANTITY_NAMES,
  SUBJECTS,
  type QuantityName,
} from "../../../core/base/quantities.ts";
import { RATES } from "../../../core/base/rate.ts";
import type { ScalarFacts } from "../../../core/schema/facts.ts";
import type { FieldShape } from "../../../core/schema/shape.ts";
import { axisNameProposals, axisValueProposals } from "./axis-proposals.ts";
import { codeProposals, isAllowCode } from "./code-proposals.ts";
import { fileProposals, moveKeyProposals } from "./file-proposals.ts";
import { lensProposals } from "./lens-proposals.ts";
import { namesOf } from "./name-proposals.ts";
import type { Asked, AskedPlace, Proposal, Surroundings } from "./proposal.ts";
import { targetProposals } from "./target-proposals.ts";

/** What may be written as a value of one form. */
export function valueProposals(asked: AskedPlace): readonly Proposal[] {
  const { shape, field, record } = asked.place;
  if (isAllowCode(asked)) return codeProposals(asked);
  if (shape.kind !== "scalar") return [];
  const last = asked.cursor.path[asked.cursor.path.length - 1];
  const isAxis = record?.names?.kind === "axis" && shape.facts.type === "axis-quantity";
  return isAxis && typeof last === "string"
    ? axisValueProposals(asked, last)
    : scalarProposals(asked, shape.facts, field);
}

function scalarProposals(asked: Asked, facts: ScalarFacts, field: FieldShape | undefined): readonly Proposal[] {
  switch (facts.type) {
    case "word":
      return Object.entries(facts.words).map(([label, doc]) => ({ label, kind: "word", doc }));
    case "flag":
      return ["true", "false"].map((label) => ({ label, kind: "word", bare: true }));
    case "version":
      return [{ label: "1", kind: "value", bare: true }];
    case "rate":
      return Object.keys(RATES).map((label) => ({ label, kind: "value", bare: /^[\d.]+$/.test(label) }));
    case "name":
      return facts.role === "use" ? usedNames(asked, facts.kind) : [];
    case "reference":
      return fileProposals(asked, facts.to);
    case "move-key":
      return moveKeyProposals(asked);
    case "measure":
      return measureProposals(asked.around);
    default:
      return fallbackProposals(field);
  }
}

/** Names of a kind with what is known of each at the cursor. */
export function usedNames(asked: Asked, kind: Extract<ScalarFacts, { type: "name" }>["kind"]): readonly Proposal[] {
  if (kind === "axis") return axisNameProposals(asked);
  if (kind === "target") return targetProposals(asked);
  return kind === "lens" ? lensProposals(asked) : namesOf(kind, asked.around);
}

/** A default that is a value, not a sentence, shows how such a value is written. */
function fallbackProposals(field: FieldShape | undefined): readonly Proposal[] {
  const label = field?.fallback ?? "";
  if (!/^[-\d.]+( ?[^\s]+)?$/.test(label)) return [];
  return [{ label, kind: "value", detail: "default", bare: /^[-\d.]+$/.test(label) }];
}

function measureProposals(around: Surroundings): readonly Proposal[] {
  const of = (quantity: QuantityName): readonly Proposal[] => {
    const [subject, word] = partsOfQuantity(quantity);
    const { doc } = QUANTITIES[quantity];
    const labels = subject ? namesOf(SUBJECTS[subject], around).map(({ label }) => `${label}.${word}`) : [word];
    return labels.map((label) => ({ label, kind: "value", detail: doc }));
  };
  return QUANTITY_NAMES.flatMap(of);
}
