import type { FileId } from "../core/base/span.ts";
import type { Task } from "../core/base/task.ts";
import type { AnalysisMemo } from "../core/checks/memo.ts";
import type { Analysis } from "../core/checks/analysis.ts";
import { documentKind } from "../core/model/document-kind.ts";
import type { SourceState, Sources } from "../core/model/sources.ts";
import type { ReviewSide } from "../core/review/review-side.ts";
import type { Tree } from "../core/syntax/tree.ts";
import { fingerprintOf } from "./fingerprint.ts";
import type { Scheduler, Urgency } from "./scheduler.ts";
import { setAsideAnalysis } from "./set-aside.ts";
import type { Snapshot, Texts } from "./files/texts.ts";

/** An analysis with the texts it was made from. */
export interface Known {
  readonly analysis: Analysis;
  /** All texts that were looked at, by file. */
  readonly texts: ReadonlyMap<FileId, SourceState>;
  /** Equal for equal texts, and only then. */
  readonly fingerprint: string;
  /** False while only the text has been looked at, not the motion. */
  readonly whole: boolean;
}

/** The steps of core; tests give others. */
export interface Engine {
  analyseText(file: FileId, sources: Sources): Analysis;
  analyse(file: FileId, sources: Sources): Task<Analysis>;
  /** The same for a text that is only tried out. */
  trial(file: FileId, sources: Sources): Task<Analysis>;
  /** For texts that are tried out one after the other: begins with the documents as they are read, and keeps nothing of them here. */
  aside(): AnalysisMemo;
  /** The tree of a text of this document, be it only tried out: quick for one that differs little from the last one. */
  tree(file: FileId, text: string): Tree;
  /** What a review compares, of an analysis that was made from these sources. */
  side(analysis: Analysis, sources: Sources): ReviewSide;
  /** Lets go of what is kept of a document. */
  forget(file: FileId): void;
}

export interface Analyses {
  /** The findings of the text at the newest version; quick. */
  text(file: FileId): Promise<Known>;
  /** The whole analysis at the newest version. Starts again when a text changes under it. */
  whole(file: FileId, urgency: Urgency): Promise<Known>;
  /** What is known now and still true, without any work. */
  current(file: FileId): Known | undefined;
  /** The last analysis that had a trajectory, whatever became of the text since. */
  lastGood(file: FileId): Known | undefined;
  /** Calls `listener` with each document whose whole analysis was made anew. */
  onWhole(listener: (file: FileId) => void): void;
  /** Documents whose last answer depended on one of `files`, themselves included. */
  dependents(files: readonly FileId[]): readonly FileId[];
  /** The whole analysis as if the document had another text; `undefined` when it failed or a text changed meanwhile. */
  trial(file: FileId, text: string): Promise<Analysis | undefined>;
  /** See `Engine`. */
  aside(): AnalysisMemo;
  /** The tree of a text of this document, be it only tried out. */
  tree(file: FileId, text: string): Tree;
  /** What a review compares of a document. */
  side(known: Known): ReviewSide;
  /** Lets go of all that is known of a document that nobody will ask for: asked for all the same, it is looked at anew. */
  forget(file: FileId): void;
}

/** Rounds of "read what is missing, ask again" before an answer is taken as it is: far above any real depth of references. */
const READ_ROUNDS = 32;
/** A document that made a stage throw so often is set aside until a text changes. */
const FAILURES_CAP = 2;

interface Entry {
  text?: { readonly known: Known; readonly snapshot: Snapshot };
  whole?: { readonly known: Known; readonly snapshot: Snapshot };
  good?: Known;
  inputs: readonly FileId[];
  running?: Promise<Known>;
}

export function createAnalyses(
  texts: Texts,
  engine: Engine,
  scheduler: Scheduler,
  onFailure: (file: FileId, error: unknown) => void,
): Analyses {
  const entries = new Map<FileId, Entry>();
  const listeners: ((file: FileId) => void)[] = [];

  const entryOf = (file: FileId): Entry => {
    const known = entries.get(file);
    if (known) return known;
    const entry: Entry = { inputs: [file] };
    entries.set(file, entry);
    return entry;
  };

  const keep = (entry: Entry, analysis: Analysis, snapshot: Snapshot, whole: boolean): Known => {
    const known: Known = { analysis, texts: snapshot.given, fingerprint: nameOf(snapshot.given, entry), whole };
    entry.inputs = [...new Set([...analysis.inputs, ...snapshot.given.keys()])];
    if (whole) entry.whole = { known, snapshot };
    else entry.text = { known, snapshot };
    if (analysis.trajectory) entry.good = known;
    if (whole) for (const tell of listeners) tell(analysis.file);
    return known;
  };

  const fresh = (kept: Entry["text"]): Known | undefined => (kept?.snapshot.isFresh() ? kept.known : undefined);

  const setAside = (file: FileId, error: unknown, snapshot: Snapshot, whole: boolean): Known => {
    onFailure(file, error);
    // The text itself must be among what was looked at, or the next edit would not lift the verdict.
    snapshot.read(file);
    return keep(entryOf(file), setAsideAnalysis(file, documentKind(file)?.kind, error), snapshot, whole);
  };

  const text = async (file: FileId): Promise<Known> => {
    const entry = entryOf(file);
    await texts.load([file]);
    for (let round = 0, failures = 0; ; round += 1) {
      const known = fresh(entry.whole) ?? fresh(entry.text);
      if (known) return known;
      const snapshot = texts.snapshot();
      try {
        const analysis = engine.analyseText(file, snapshot);
        if (analysis.unread.length === 0 || round >= READ_ROUNDS) return keep(entry, analysis, snapshot, false);
        await texts.load(analysis.unread);
      } catch (error) {
        failures += 1;
        if (failures >= FAILURES_CAP) return setAside(file, error, snapshot, false);
      }
    }
  };

  const runWhole = async (file: FileId, urgency: Urgency): Promise<Known> => {
    const entry = entryOf(file);
    for (let round = 0, failures = 0; ; round += 1) {
      const before = await text(file);
      const known = fresh(entry.whole);
      if (known) return known;
      if (isSetAside(before)) return before;
      const snapshot = texts.snapshot();
      const outcome = await scheduler.run(engine.analyse(file, snapshot), urgency, () => snapshot.isFresh());
      if (outcome.state === "failed") {
        failures += 1;
        if (failures >= FAILURES_CAP) return setAside(file, outcome.error, snapshot, true);
      }
      if (outcome.state !== "done") continue;
      if (!snapshot.isFresh()) continue;
      if (outcome.value.unread.length > 0 && round < READ_ROUNDS) await texts.load(outcome.value.unread);
      else return keep(entry, outcome.value, snapshot, true);
    }
  };

  return {
    text,
    whole(file, urgency) {
      const entry = entryOf(file);
      const known = fresh(entry.whole);
      if (known) return Promise.resolve(known);
      entry.running ??= runWhole(file, urgency).finally(() => (entry.running = undefined));
      return entry.running;
    },
    current: (file) => fresh(entries.get(file)?.whole) ?? fresh(entries.get(file)?.text),
    lastGood: (file) => entries.get(file)?.good,
    onWhole: (listener) => void listeners.push(listener),
    dependents: (files) =>
      [...entries].filter(([, entry]) => entry.inputs.some((input) => files.includes(input))).map(([file]) => file),
    aside: () => engine.aside(),
    tree: (file, text) => engine.tree(file, text),
    side: ({ analysis, texts: given }) =>
      engine.side(analysis, { read: (file) => given.get(file) ?? { state: "missing" } }),
    forget(file) {
      entries.delete(file);
      engine.forget(file);
    },
    async trial(file, text) {
      const snapshot = texts.snapshot();
      const sources: Sources = { read: (each) => (each === file ? { state: "text", text } : snapshot.read(each)) };
      const outcome = await scheduler.run(engine.trial(file, sources), "asked", () => snapshot.isFresh());
      return outcome.state === "done" ? outcome.value : undefined;
    },
  };
}

/** Texts are long: those that were named just now are not gone through again. */
function nameOf(texts: Known["texts"], { text }: Entry): string {
  const named = text?.known;
  const isSame =
    named?.texts.size === texts.size && [...texts].every(([file, state]) => named.texts.get(file) === state);
  return isSame ? named.fingerprint : fingerprintOf(texts);
}

function isSetAside(known: Known): boolean {
  return known.analysis.textFindings.some((finding) => finding.code === "internal-error");
}
