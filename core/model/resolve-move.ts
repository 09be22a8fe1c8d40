import { leavesAt } from "../motion/key-timing.ts";
import type { OriginId } from "../base/origin-id.ts";
import { baseName } from "../base/path.ts";
import type { FileId, Span } from "../base/span.ts";
import type { ResolvedOptics } from "../lens/resolved-optics.ts";
import type { ResolvedKey, ResolvedMove } from "../motion/resolved-move.ts";
import type { ResolvedRig } from "../rig/resolved-rig.ts";
import { resolveExpectations } from "./resolve-expectations.ts";
import type { Document } from "./load-document.ts";
import { aimingAxes, moveAxes, type MoveContext, type MoveFields } from "./move-context.ts";
import {
  cropOrigin,
  resolveDeliver,
  resolvePasses,
  resolvePlace,
  resolveRate,
  resolveTolerance,
} from "./move-parts.ts";
import { headOf } from "./read.ts";
import { keptFor } from "./kept-keys.ts";
import { report } from "./report.ts";
import { resolveKeys } from "./resolve-keys.ts";
import { bindLens, opticsOf } from "./resolve-optics.ts";
import { rigOf } from "./resolve-rig.ts";
import { plateOf } from "./resolve-plate.ts";
import { resolveNear, resolveSetup, setupOrigins } from "./resolve-setup.ts";
import { EMPTY_SET, setOf, type ResolvedSet } from "./resolve-set.ts";
import { resolveWayBack } from "./resolve-way-back.ts";
import {
  beginResolution,
  finish,
  finishUnopened,
  openFile,
  openReference,
  originOf,
  reportBrokenReference,
  scopeOf,
  type DocumentMemo,
  type ResolutionFacts,
  type Scope,
} from "./resolution.ts";
import type { Sources } from "./sources.ts";
import { unit } from "./vectors.ts";

export interface MoveResolution extends ResolutionFacts {
  /**
   * Absent when the rig, the camera or the set is not known, no key is left, an aim cannot be told, or the text is not
   * well formed: then nothing can be said of the motion.
   */
  readonly move?: ResolvedMove;
  /** Text of each key of `move.keys`, by its position there. */
  readonly keySpans: readonly Span[];
  /** Keys that were resolved, not taken over from an earlier version of the document in the memo. */
  readonly freshKeys: number;
}

/**
 * Reads and binds a move with all that it names. Problems are those of the move's own text; a document that it names and
 * that has errors gives one finding at its reference.
 */
export function resolveMove(file: FileId, sources: Sources, memo?: DocumentMemo): MoveResolution {
  const resolution = beginResolution(sources, memo);
  const opened = openFile(resolution, file, "move");
  if (!("kind" in opened)) return { keySpans: [], freshKeys: 0, ...finishUnopened(resolution) };
  const scope = scopeOf(opened, resolution);
  return { ...moveOf(scope, opened), ...finish(scope) };
}

function moveOf(scope: Scope, document: Document<"move">): Pick<MoveResolution, "move" | "keySpans" | "freshKeys"> {
  const { declared } = document;
  if (!declared) return { keySpans: [], freshKeys: 0 };
  const { value: fields, names } = declared;
  const nameOf = (field: keyof MoveFields): Span => names.get(field) ?? headOf(declared);
  const { context, keptKeys } = keptFor(document.kept, contextOf(scope, fields));
  const { rig, set, optics, axes } = context;
  const whole = {
    base: resolvePlace(scope, fields, set),
    setup: rig ? resolveSetup(scope, fields, axes, nameOf("setup" in fields ? "setup" : "rig")) : {},
    near: rig && set ? resolveNear(scope, fields, axes) : {},
    passes: resolvePasses(scope, fields, set),
    ...plateOf(scope, fields),
    ...resolveWayBack(context, fields),
  };
  const { keys, spans, undetermined, fresh, played } = resolveKeys(context, fields, keptKeys);
  const known = { keySpans: spans, freshKeys: fresh };
  const last = keys[keys.length - 1];
  const end = last ? leavesAt(last) : 0;
  const expectations = resolveExpectations(context, fields, { end, played });
  if (!rig || !optics || !set || keys.length === 0 || undetermined || isTorn(document)) return known;
  const move = assemble(context, { fields, file: document.file, rig, optics, set, keys }, { ...whole, expectations });
  return { move, ...known };
}

/** Everything that keys are bound against. */
function contextOf(scope: Scope, fields: MoveFields): MoveContext {
  const rig = useRig(scope, fields);
  const optics = useOptics(scope, fields);
  const { rate, startFrame } = resolveRate(scope, fields);
  const set = useSet(scope, fields, rate);
  const axes = moveAxes(rig, set?.turntables ?? []);
  if (rig && set) reportNameClash(scope, fields, rig, set);
  const deliver = resolveDeliver(scope, fields, optics);
  const speed = fields.speed?.value ?? 1;
  return { scope, rig, set, optics, axes, aiming: aimingAxes(rig, axes), rate, startFrame, speed, deliver };
}

/** A text that is not well formed may have lost any of its fields, so what it seems to move is not computed. */
const isTorn = ({ problems }: Document): boolean => problems.some((problem) => problem.code === "syntax");

interface Parts {
  readonly fields: MoveFields;
  readonly file: FileId;
  readonly rig: ResolvedRig;
  readonly optics: ResolvedOptics;
  readonly set: ResolvedSet;
  readonly keys: readonly ResolvedKey[];
}

function assemble(
  { scope, axes, rate, startFrame, speed, deliver }: MoveContext,
  { fields, file, rig, optics, set, keys }: Parts,
  whole: Pick<ResolvedMove, "base" | "setup" | "near" | "passes" | "plate" | "expectations" | "wayBack">,
): ResolvedMove {
  const { targets, turntables, obstacles, people, dressing, floor, marks } = set;
  return {
    title: fields.title?.value ?? baseName(file).replace(/\.move\.\w+$/i, ""),
    rig,
    optics,
    axes,
    targets,
    turntables,
    obstacles,
    people,
    dressing,
    floor,
    marks,
    rate,
    startFrame,
    speed,
    keys,
    ...whole,
    setupOrigins: setupOrigins(scope, fields, axes),
    up: unit(fields.up),
    deliver: deliver ?? optics.resolution,
    deliverOrigin: fields.deliver ? originOf(scope, fields.deliver.span) : 0,
    cropOrigin: cropOrigin(scope, fields),
    stabilise: fields.stabilise?.value ?? 0,
    stabiliseOrigin: fields.stabilise ? originOf(scope, fields.stabilise.span) : 0,
    tolerance: resolveTolerance(fields),
    toleranceOrigin: fields.tolerance ? originOf(scope, fields.tolerance.span) : 0,
    uses: usesOf(scope, fields),
    origin: fields.move ? originOf(scope, fields.move.span) : 0,
  };
}

function usesOf(scope: Scope, { rig, camera, set, place }: MoveFields): ResolvedMove["uses"] {
  const at = (stated: { readonly span: Span } | undefined): OriginId => (stated ? originOf(scope, stated.span) : 0);
  return { rig: at(rig), camera: at(camera?.value.use ?? camera), set: at(set), place: at(place) };
}

function useRig(scope: Scope, { rig: reference }: MoveFields): ResolvedRig | undefined {
  const document = reference && openReference(scope, reference, "rig");
  if (!document) return undefined;
  const inner = scopeOf(document, scope.resolution, scope);
  const rig = rigOf(inner, document);
  reportBrokenReference(scope, reference, inner.problems);
  if (!rig && inner.problems.every((problem) => problem.severity !== "error")) {
    const message = `\`${reference.value}\` cannot be computed yet, so nothing of this move is: ${inner.problems[0]?.message ?? ""}`;
    report(scope, "not-computed", reference.span, message, { severity: "warning" });
  }
  return rig;
}

function useOptics(scope: Scope, { camera }: MoveFields): ResolvedOptics | undefined {
  const { use, lens } = camera?.value ?? {};
  const document = use && openReference(scope, use, "camera");
  if (!document) return undefined;
  const inner = scopeOf(document, scope.resolution, scope);
  const optics = opticsOf(inner, document);
  reportBrokenReference(scope, use, inner.problems);
  if (!lens || !document.declared) return undefined;
  const lensOptics = bindLens(scope, lens, [...(document.declared.value.lenses?.value.keys() ?? [])], optics);
  return isTorn(document) ? undefined : lensOptics;
}

function useSet(scope: Scope, fields: MoveFields, rate: ResolvedMove["rate"]): ResolvedSet | undefined {
  if (!("set" in fields)) return EMPTY_SET;
  const document = fields.set && openReference(scope, fields.set, "set");
  if (!document || !fields.set) return undefined;
  const inner = scopeOf(document, scope.resolution, scope);
  const set = setOf(inner, document, rate);
  reportBrokenReference(scope, fields.set, inner.problems);
  return isTorn(document) ? undefined : set;
}

/** Axes and turntables share one space of names in a move. */
function reportNameClash(scope: Scope, { set: reference }: MoveFields, rig: ResolvedRig, set: ResolvedSet): void {
  const names = new Set(rig.joints.map((joint) => joint.name));
  for (const { name } of set.turntables) {
    if (!names.has(name) || !reference) continue;
    const message = `\`${name}\` is an axis of the rig and a turntable of the set: a move cannot tell them apart. Rename one.`;
    report(scope, "duplicate-name", reference.span, message, { axis: name });
  }
}
