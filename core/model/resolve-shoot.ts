import { baseName, resolveReference } from "../base/path.ts";
import type { FileId } from "../base/span.ts";
import type { shootDocument } from "../schema/shoot-fields.ts";
import { resolveCuts } from "./resolve-cuts.ts";
import type { Declared } from "./declared.ts";
import type { Document } from "./load-document.ts";
import { bindMoveName, type OpenMove } from "./move-name.ts";
import { report } from "./report.ts";
import {
  beginResolution,
  finish,
  finishUnopened,
  openFile,
  openReference,
  originOf,
  scopeOf,
  type DocumentMemo,
  type ResolutionFacts,
  type Scope,
} from "./resolution.ts";
import type { NamedMove, ResolvedShoot, ResolvedShot } from "./resolved-shoot.ts";
import type { Sources } from "./sources.ts";

export interface ShootResolution extends ResolutionFacts {
  /** Absent for a text that is not well formed: it may have lost any of its shots. */
  readonly shoot?: ResolvedShoot;
}

type ShootFields = NonNullable<Declared<typeof shootDocument>>["value"];
type ShotFields = NonNullable<NonNullable<ShootFields["shots"]>["value"][number]>["value"];

/**
 * Reads and binds a shoot. Of the moves that it names only the text is looked at, for the names of their passes, keys and
 * targets: what they are besides is resolved when their motion is asked for.
 */
export function resolveShoot(file: FileId, sources: Sources, memo?: DocumentMemo): ShootResolution {
  const resolution = beginResolution(sources, memo);
  const opened = openFile(resolution, file, "shoot");
  if (!("kind" in opened)) return finishUnopened(resolution);
  const scope = scopeOf(opened, resolution);
  const shoot = shootOf(scope, opened);
  return shoot ? { shoot, ...finish(scope) } : finish(scope);
}

function shootOf(scope: Scope, { declared, file, problems }: Document<"shoot">): ResolvedShoot | undefined {
  if (!declared) return undefined;
  const { value: fields } = declared;
  if (fields.shots?.value.length === 0) {
    report(scope, "missing-field", fields.shots.span, "`shots` is empty: a shoot has one shot or more.");
  }
  const moves = new Map<FileId, NamedMove>();
  const open: OpenMove = (reference) => {
    const document = openReference(scope, reference, "move");
    const named = resolveReference(scope.file, reference.value);
    if (document && !moves.has(named)) {
      moves.set(named, { file: named, reference: reference.value, origin: originOf(scope, reference.span) });
    }
    return document;
  };
  const shots = (fields.shots?.value ?? []).flatMap((shot): ResolvedShot[] =>
    shot ? [resolveShot(scope, shot.value, open)] : [],
  );
  const cuts = resolveCuts(scope, fields, open);
  if (problems.some(({ code }) => code === "syntax")) return undefined;
  const name = fields.name?.value ?? baseName(file).replace(/\.shoot\.\w+$/i, "");
  return { name, shots, cuts, moves: [...moves.values()] };
}

function resolveShot(scope: Scope, fields: ShotFields, open: OpenMove): ResolvedShot {
  const { name, move, passes } = fields;
  const document = move && open(move);
  const moveFields = document?.declared?.value;
  const known = (moveFields?.passes?.value ?? []).flatMap((pass) => pass?.value.name?.value ?? []);
  const taken = (passes?.value ?? []).flatMap((pass) => {
    const bound = pass && moveFields ? bindMoveName(scope, pass, known, "pass") : undefined;
    return bound ?? [];
  });
  const title = moveFields?.title?.value ?? baseName(move?.value ?? "").replace(/\.move\.\w+$/i, "");
  const passTime = fields["pass-time"];
  return {
    label: name?.value ?? title,
    ...(document && move ? { move: document.file } : {}),
    ...(passes ? { passes: taken } : {}),
    setupTime: fields["setup-time"]?.value ?? 0,
    ...(passTime ? { passTime: passTime.value } : {}),
    changeBattery: fields["change-battery"]?.value ?? false,
    origin: move ? originOf(scope, move.span) : 0,
  };
}
