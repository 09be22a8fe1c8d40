import type { PlacedFinding } from "../core/checks/finding.ts";
import { placeProblem } from "../core/checks/place-finding.ts";
import type { ResolvedOptics } from "../core/lens/resolved-optics.ts";
import { resolveOptics } from "../core/model/resolve-optics.ts";
import { resolveRig } from "../core/model/resolve-rig.ts";
import type { Sources } from "../core/model/sources.ts";
import type { ResolvedRig } from "../core/rig/resolved-rig.ts";
import { findDocument, sourcesFor, type Given } from "./documents.ts";
import { Failure, type Outcome } from "./failure.ts";
import { describeFindings } from "./finding-lines.ts";

/** A rig of the command line and, where a camera was named, a lens of it. */
export interface RigDocument {
  readonly given: Given;
  readonly text: string;
  readonly rig: ResolvedRig;
  readonly optics?: ResolvedOptics;
  readonly problems: ReturnType<typeof resolveRig>["problems"];
  readonly origins: ReturnType<typeof resolveRig>["origins"];
}

/** Reads a rig, and a lens when `camera` and `lens` name one. Gives an outcome in its place for a document with errors. */
export function readRig(
  path: string,
  { camera, lens }: { readonly camera?: string; readonly lens?: string },
): RigDocument | Outcome {
  if ((camera === undefined) !== (lens === undefined)) {
    throw new Failure("--camera and --lens go together: the one names the document, the other a lens in it");
  }
  const given = findDocument(path, "rig");
  const cameraFile = camera === undefined ? undefined : findDocument(camera, "camera");
  const sources = sourcesFor(cameraFile ? [given, cameraFile] : [given]);
  const text = textOf(given, sources);
  const { rig, problems, origins } = resolveRig(given.file, sources);
  if (!rig) return unreadable(given, text, problems.map(placeProblem));
  if (!cameraFile || lens === undefined) return { given, text, rig, problems, origins };
  const found = resolveOptics(cameraFile.file, sources);
  const optics = found.optics.get(lens);
  const hasErrors = found.problems.some((problem) => problem.severity === "error");
  if (!optics && hasErrors) {
    return unreadable(cameraFile, textOf(cameraFile, sources), found.problems.map(placeProblem));
  }
  if (!optics) throw new Failure(`${cameraFile.path} has no lens ${lens}; it has ${listed(found.optics)}`);
  return { given, text, rig, optics, problems, origins };
}

export function isOutcome<T extends object>(read: T | Outcome): read is Outcome {
  return "exit" in read;
}

/** The findings of a document that can't be used, on stderr, with exit code 1. */
export function unreadable({ path }: Given, text: string, findings: readonly PlacedFinding[]): Outcome {
  const lines = describeFindings(path, text, findings);
  return { output: "", exit: 1, notes: [...lines, `movewright: ${path} cannot be used before this is mended`] };
}

export function textOf({ file }: Given, sources: Sources): string {
  const state = sources.read(file);
  return state.state === "text" ? state.text : "";
}

const listed = (optics: ReadonlyMap<string, ResolvedOptics>): string => [...optics.keys()].join(", ") || "none";
