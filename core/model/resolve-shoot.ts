import type { FileId } from "../base/span.ts";
import type { shootDocument } from "../schema/shoot-fields.ts";
import { bindName } from "./bind-name.ts";
import type { Declared, Stated } from "./declared.ts";
import { namePart } from "./name-part.ts";
import { report, type Reporter } from "./report.ts";
import {
  beginResolution,
  finish,
  finishUnopened,
  openFile,
  openReference,
  reportBrokenReference,
  scopeOf,
  type DocumentMemo,
  type ResolutionFacts,
  type Scope,
} from "./resolution.ts";
import type { Sources } from "./sources.ts";

/** Reads a shoot and looks up the moves, passes and keys that it names. It is computed by no one yet. */
export function resolveShoot(file: FileId, sources: Sources, memo?: DocumentMemo): ResolutionFacts {
  const resolution = beginResolution(sources, memo);
  const opened = openFile(resolution, file, "shoot");
  if (!("kind" in opened)) return finishUnopened(resolution);
  const scope = scopeOf(opened, resolution);
  if (opened.declared) checkShoot(scope, opened.declared);
  return finish(scope);
}

function checkShoot(scope: Scope, { value: fields, names }: NonNullable<Declared<typeof shootDocument>>): void {
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
    report(scope, "not-computed", names.get("match") ?? fields.match.span, message, { severity: "warning" });
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
  const part = namePart(scope, stated, stated.value.slice(hash + 1), "last");
  checkName(part.to, part.stated, known, "key");
}

function checkName(to: Reporter, stated: Stated<string>, known: readonly string[], what: "pass" | "key"): void {
  bindName(to, stated, {
    code: "wrong-type",
    lacks: `The move has no ${what}`,
    known,
    none: "There are none with a name.",
  });
}
