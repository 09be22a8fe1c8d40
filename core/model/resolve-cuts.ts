import { baseName } from "../base/path.ts";
import type { setDocument } from "../schema/set-fields.ts";
import type { shootDocument } from "../schema/shoot-fields.ts";
import { bindName } from "./bind-name.ts";
import type { Declared, Stated } from "./declared.ts";
import type { Document } from "./load-document.ts";
import { bindMoveName, type OpenMove } from "./move-name.ts";
import { namePart } from "./name-part.ts";
import { report } from "./report.ts";
import { openReference, originOf, scopeOf, type Scope } from "./resolution.ts";
import type { CutEnd, ResolvedCut } from "./resolved-shoot.ts";

type ShootFields = NonNullable<Declared<typeof shootDocument>>["value"];

/** What holds where the text says nothing [captured px]; common practice, no source. */
const TOLERANCE = 2;

/** Cuts whose two keys and target are known. */
export function resolveCuts(scope: Scope, { match }: ShootFields, open: OpenMove): ResolvedCut[] {
  return (match?.value ?? []).flatMap((stated): ResolvedCut[] => {
    if (!stated) return [];
    const { from, to, about, tolerance, size } = stated.value;
    const ends = [from, to].map((end) => end && resolveEnd(scope, end, open));
    const target = about && bindAbout(scope, about, ends);
    const [first, second] = ends;
    if (!first || !second || target === undefined) return [];
    return [
      {
        from: first.end,
        to: second.end,
        about: target,
        tolerance: tolerance?.value ?? TOLERANCE,
        toleranceOrigin: tolerance ? originOf(scope, tolerance.span) : 0,
        ...(size ? { size: size.value } : {}),
      },
    ];
  });
}

interface OpenEnd {
  readonly end: CutEnd;
  readonly document: Document<"move">;
}

/** `lid.move.yaml#top`: the file, then the key's name. */
function resolveEnd(scope: Scope, stated: Stated<string>, open: OpenMove): OpenEnd | undefined {
  const hash = stated.value.lastIndexOf("#");
  if (hash <= 0 || hash === stated.value.length - 1) {
    const message = `\`${stated.value}\` names no key: write the move's file, \`#\`, and the key's name.`;
    report(scope, "wrong-type", stated.span, message);
    return undefined;
  }
  const document = open({ value: stated.value.slice(0, hash).trim(), span: stated.span });
  if (!document?.declared) return undefined;
  const known = (document.declared.value.keys?.value ?? []).flatMap((key) => key?.value.name?.value ?? []);
  const part = namePart(scope, stated, stated.value.slice(hash + 1).trim(), "last");
  const key = bindMoveName(part.to, part.stated, known, "key");
  if (key === undefined) return undefined;
  const reference = `${stated.value.slice(0, hash).trim()}#${key}`;
  return { document, end: { move: document.file, key, reference, origin: originOf(scope, stated.span) } };
}

/** The target's name, known in the sets of both moves as far as they could be opened. */
function bindAbout(scope: Scope, about: Stated<string>, ends: readonly (OpenEnd | undefined)[]): string | undefined {
  let name: string | undefined = about.value;
  for (const file of new Set(ends.flatMap((end) => end?.document ?? []))) {
    const targets = targetsOf(scope, file);
    if (!targets || name === undefined) continue;
    const entry = targets.get(name)?.item?.value;
    if (entry?.sights && !entry.at && !entry.follow) {
      const message = `\`${name}\` is known by its sights only, and locating it from them is not computed yet: give it \`at\` in the set.`;
      report(scope, "not-computed", about.span, message, { severity: "warning" });
      return name;
    }
    name = bindName(scope, about, {
      code: "unknown-target",
      lacks: `The set of \`${baseName(file.file)}\` has no target`,
      known: [...targets.keys()],
      none: "It has none.",
    });
    // One finding is enough: the other set is looked at once this one is right.
    if (name !== about.value) return name;
  }
  return name;
}

type Targets = NonNullable<NonNullable<Declared<typeof setDocument>>["value"]["targets"]>["value"];

/** The targets in the set that a move names; `undefined` where that cannot be read, which the move's own findings tell. */
function targetsOf(scope: Scope, move: Document<"move">): Targets | undefined {
  const set = move.declared?.value.set;
  if (!set) return move.declared && !move.declared.names.has("set") ? new Map() : undefined;
  const document = openReference(scopeOf(move, scope.resolution, scope), set, "set");
  return document?.declared && (document.declared.value.targets?.value ?? new Map());
}
