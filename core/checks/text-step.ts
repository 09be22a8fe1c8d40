import { sameData } from "../base/same-data.ts";
import type { FileId } from "../base/span.ts";
import { resolveConfig, severitiesOf, type Severities } from "../model/resolve-config.ts";
import { documentKind, type DocumentKind } from "../model/document-kind.ts";
import { resolveMove } from "../model/resolve-move.ts";
import { resolveOptics } from "../model/resolve-optics.ts";
import { resolveRig } from "../model/resolve-rig.ts";
import { resolveSet } from "../model/resolve-set.ts";
import { resolveShoot } from "../model/resolve-shoot.ts";
import type { ResolvedShoot } from "../model/resolved-shoot.ts";
import type { ResolutionFacts } from "../model/resolution.ts";
import type { Sources, SourceState } from "../model/sources.ts";
import { treeOf } from "../model/tree-of.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import { applyAllows, readAllows, type Allow } from "./allow.ts";
import type { Analysis } from "./analysis.ts";
import type { PlacedFinding } from "./finding.ts";
import { trimDocuments, type AnalysisMemo } from "./memo.ts";
import { placeProblem } from "./place-finding.ts";
import { applySeverities } from "./severity.ts";

/** What the text says, before the motion is looked at. */
export interface TextStep {
  readonly analysis: Analysis;
  /** Findings of the text before any allow. */
  readonly textFindings: readonly PlacedFinding[];
  readonly allows: readonly Allow[];
  /** What the configs above the document say. */
  readonly severities: Severities;
}

/** A step and the states of the files that it was made from. */
export interface TextStepMade {
  readonly step: TextStep;
  readonly from: ReadonlyMap<FileId, SourceState>;
}

/** The text step of a file; the last one again when no file that it looked at has changed. */
export function textStep(file: FileId, sources: Sources, memo: AnalysisMemo): TextStep {
  const last = memo.lastStep;
  if (
    last?.step.analysis.file === file &&
    [...last.from].every(([each, state]) => isSameState(sources.read(each), state))
  ) {
    return last.step;
  }
  const step = makeStep(file, sources, memo);
  const from = new Map(step.analysis.inputs.map((each) => [each, sources.read(each)]));
  memo.lastStep = { step, from };
  return step;
}

/** True when a file is as it was. */
export const isSameState = (one: SourceState, other: SourceState): boolean => one === other || sameData(one, other);

function makeStep(file: FileId, sources: Sources, memo: AnalysisMemo): TextStep {
  const known = documentKind(file);
  const source = sources.read(file);
  if (!known || source.state !== "text") {
    const analysis = { file, kind: known?.kind, textFindings: [], motionFindings: [], inputs: [file], unread: [] };
    if (source.state === "unread") return bare({ ...analysis, unread: [file] });
    return bare({ ...analysis, textFindings: [notRead(file, source.state)] });
  }
  const { move, shoot, origins, problems, ...read } = resolve(known.kind, file, sources, memo);
  const { severities, ...configs } = severitiesOf(file, sources, memo.documents);
  const inputs = [...new Set([...read.inputs, ...configs.inputs])];
  const unread = [...new Set([...read.unread, ...configs.unread])];
  const own = problems.filter((problem) => problem.place.file === file).map(placeProblem);
  const allows = readAllows(source.text, treeOf(memo.documents, file, source.text));
  trimDocuments(memo);
  const { findings, faults } = applyAllows(file, allows, own, false);
  return {
    analysis: {
      file,
      kind: known.kind,
      textFindings: applySeverities([...findings, ...faults], severities),
      motionFindings: [],
      inputs,
      unread,
      origins,
      ...(move && unread.length === 0 ? { move } : {}),
      ...(shoot && unread.length === 0 ? { shoot } : {}),
    },
    textFindings: own,
    allows,
    severities,
  };
}

const bare = (analysis: Analysis): TextStep => ({
  analysis,
  textFindings: analysis.textFindings,
  allows: [],
  severities: new Map(),
});

function notRead(file: FileId, state: SourceState["state"]): PlacedFinding {
  const message = state === "missing" ? "This file is not there." : "This is no document that may be read here.";
  return { code: "missing-file", severity: "error", message, place: atStart(file), related: [], cures: [] };
}

const atStart = (file: FileId): PlacedFinding["place"] => ({ file, span: { start: 0, end: 0 } });

type Resolved = ResolutionFacts & { readonly move?: ResolvedMove; readonly shoot?: ResolvedShoot };

function resolve(kind: DocumentKind, file: FileId, sources: Sources, { documents }: AnalysisMemo): Resolved {
  switch (kind) {
    case "move":
      return resolveMove(file, sources, documents);
    case "rig":
      return resolveRig(file, sources, documents);
    case "camera":
      return resolveOptics(file, sources, documents);
    case "set":
      return resolveSet(file, sources, documents);
    case "config":
      return resolveConfig(file, sources, documents);
    case "shoot":
      return resolveShoot(file, sources, documents);
  }
}
