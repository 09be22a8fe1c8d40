import { listing } from "../base/listing.ts";
import type { FileId } from "../base/span.ts";
import type { shootDocument } from "../schema/shoot-fields.ts";
import type { Declared, Stated } from "./declared.ts";
import { nearestName } from "../base/nearest-name.ts";
import { replacement, report } from "./report.ts";
import {
  beginResolution,
  finish,
  openFile,
  openReference,
  reportBrokenReference,
  scopeOf,
  type DocumentMemo,
  type ResolutionFacts,
  type Scope,
} from "./resolution.ts";
import type { Sources } from "./sources.ts";

type ShootFields = NonNullable<Declared<typeof shootDocument>>["value"];

/** Reads a shoot and looks up the moves, passes and keys that it names. It is computed by no one yet. */
export function resolveShoot(file: FileId, sources: Sources, memo?: DocumentMemo): ResolutionFacts {
  const resolution = beginResolution(sources, memo);
  const opened = openFile(resolution, file, "shoot");
  if (!("kind" in opened)) {
    return { origins: resolution.origins, problems: [], inputs: [file], unread: [...resolution.unread] };
  }
  const scope = scopeOf(opened, resolution);
  if (opened.declared) checkShoot(scope, opened.declared.value);
  return finish(scope);
}

function checkShoot(scope: Scope, fields: ShootFields): void {
  if (fields.shots?.value.length === 0) {
    report(scope, "missing-field", fields.shots.span, "`shots` is empty: a shoot has one shot or more.");
  }
  for (const shot of fields.shots?.value ?? []) {
    const move = shot?.value.move && openMove(scope, shot.value.move);
    if (!move || !shot) continue;
    const known = (move.value.passes?.value ?? []).flatMap((pass) => pass?.value.name?.value ?? []);
    for (const pass of shot.value.passes?.value ?? []) {
      if (pass) checkName(scope, pass, known, "pass");
    }
  }
  for (const match of fields.match?.value ?? []) {
    for (const end of [match?.value.from, match?.value.to]) if (end) checkMoveKey(scope, end);
  }
  if (fields.match && fields.match.value.length > 0) {
    const message = "`match` is read and its keys are looked up, but whether the cuts match is not computed yet.";
    report(scope, "not-computed", fields.match.span, message, { severity: "warning" });
  }
}

function openMove(scope: Scope, reference: Stated<string>) {
  const document = openReference(scope, reference, "move");
  if (document) reportBrokenReference(scope, reference, document.problems);
  return document?.declared;
}

/** `lid.move.yaml#top`: the file, then the key's name. */
function checkMoveKey(scope: Scope, stated: Stated<string>): void {
  const hash = stated.value.lastIndexOf("#");
  if (hash <= 0 || hash === stated.value.length - 1) {
    const message = `\`${stated.value}\` names no key: write the move's file, \`#\`, and the key's name.`;
    report(scope, "wrong-type", stated.span, message);
    return;
  }
  const move = openMove(scope, { value: stated.value.slice(0, hash), span: stated.span });
  if (!move) return;
  const known = (move.value.keys?.value ?? []).flatMap((key) => key?.value.name?.value ?? []);
  checkName(scope, { value: stated.value.slice(hash + 1), span: stated.span }, known, "key");
}

function checkName(scope: Scope, stated: Stated<string>, known: readonly string[], what: "pass" | "key"): void {
  if (known.includes(stated.value)) return;
  const nearest = nearestName(stated.value, known);
  const cure = nearest
    ? `Did you mean \`${nearest}\`?`
    : known.length > 0
      ? `There are ${listing(known)}.`
      : "There are none with a name.";
  // A key is only part of its text, so its name cannot be replaced alone.
  const cures = nearest && what === "pass" ? { cures: [replacement(scope, stated.span, nearest)] } : {};
  report(scope, "wrong-type", stated.span, `The move has no ${what} \`${stated.value}\`. ${cure}`, cures);
}
