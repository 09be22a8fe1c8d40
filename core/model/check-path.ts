import type { ResolvedKey, ResolvedPath } from "../motion/resolved-move.ts";
import type { DraftKey } from "./check-shapes.ts";
import type { Stated } from "./declared.ts";
import type { KeyFields, MoveContext } from "./move-context.ts";
import { bindTarget } from "./move-parts.ts";
import { report } from "./report.ts";
import { originOf } from "./resolution.ts";
import { unit, vec3 } from "./vectors.ts";

type Numbers = Stated<readonly Stated<number>[]>;

interface ArcFields {
  readonly via?: Numbers;
  readonly about?: Stated<string>;
  readonly along?: Numbers;
}

/** How the camera comes to a key; `undefined` where its axes take it, and after a finding. `index`: the key's position. */
export function resolvePath(
  context: MoveContext,
  { value: { path } }: KeyFields,
  index: number,
  label: string,
): ResolvedPath | undefined {
  if (!path || path.value === "axes") return undefined;
  const { scope } = context;
  if (index === 0) {
    const message = "`path` says how the camera comes from the key before, and the first key has none: delete it.";
    report(scope, "over-determined", path.span, message, { key: label });
    return undefined;
  }
  const origin = originOf(scope, path.span);
  if (path.value === "line") return { kind: "line", origin };
  const { arc } = path.value as { readonly arc?: Stated<ArcFields> };
  return arc && resolveArc(context, arc, origin, label);
}

/** An arc goes through a point, or about a target. */
function resolveArc(
  { scope, set }: MoveContext,
  arc: Stated<ArcFields>,
  origin: number,
  label: string,
): ResolvedPath | undefined {
  const { via, about, along } = arc.value;
  const target = about && bindTarget(scope, about, set);
  const stated = ["via", "about"].filter((name) => name in arc.value);
  if (stated.length !== 1) {
    const code = stated.length === 0 ? "missing-field" : "over-determined";
    report(scope, code, arc.span, "`arc` goes `via` a point, or `about` a target: give one of the two.", {
      key: label,
    });
    return undefined;
  }
  if (along && "via" in arc.value) {
    const message = "`along` is the axis of an arc `about` a target; three points have their own: delete it.";
    report(scope, "over-determined", along.span, message, { key: label });
  }
  if (via) return { kind: "arc-via", via: vec3(via), origin };
  return target === undefined ? undefined : { kind: "arc-about", target, along: unit(along), origin };
}

/** The rounding of a corner; `undefined` without one and after a finding. */
export function resolveBlend({ scope }: MoveContext, { value, names }: KeyFields, label: string): ResolvedKey["blend"] {
  const { blend, stop, hold } = value;
  if (!blend || blend.value === 0) return undefined;
  const rest = stop?.value === true ? "stop" : hold ? "hold" : undefined;
  if (rest) {
    const message = `The camera rests at ${label} (\`${rest}\`) or rounds its corner (\`blend\`): delete one of the two.`;
    report(scope, "over-determined", names.get("blend") ?? blend.span, message, { key: label });
    return undefined;
  }
  return { length: blend.value, origin: originOf(scope, blend.span) };
}

/** Roundings at keys that are not between two paths, or at which an ease rests. */
export function checkBlends({ scope }: MoveContext, keys: readonly DraftKey[]): void {
  keys.forEach((key, index) => {
    const { label, parts, fields } = key;
    if (!parts.blend) return;
    const next = keys[index + 1];
    const refuse = (message: string): void =>
      report(scope, "over-determined", fields.names.get("blend") ?? fields.span, message, { key: label });
    if (parts.path && next?.parts.path) {
      const eased = parts.ease ? key : next.parts.ease ? next : undefined;
      if (!eased) return;
      refuse(
        `The \`ease\` at ${eased.label} has the camera rest at ${label}, so there is no corner to round: delete \`blend\` or \`ease\`.`,
      );
      return;
    }
    // A path that is not understood has its own finding.
    if ([key, next].some((one) => one && !one.parts.path && isPath(one.fields))) return;
    const lacks = parts.path ? "no path leads on from it" : "no path leads to it";
    refuse(
      `\`blend\` rounds a corner between two lines or arcs, but at ${label} ${lacks}: delete it, or give \`path\` there and at the next key.`,
    );
  });
}

const isPath = ({ value }: KeyFields): boolean => "path" in value && value.path?.value !== "axes";
