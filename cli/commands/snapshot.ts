import { statSync } from "node:fs";
import { basename, dirname } from "node:path";
import { plainWords } from "../../core/base/plain-words.ts";
import { runToEnd } from "../../core/base/task.ts";
import { analyseText, createMemo, type AnalysisMemo } from "../../core/checks/analyse.ts";
import { snapshotSamples } from "../../core/draw/snapshot-samples.ts";
import { drawSnapshot, SNAPSHOT_FORM, snapshotForm } from "../../core/draw/snapshot.ts";
import { snapshotTable } from "../../core/exchange/snapshot-table.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import type { Sources } from "../../core/model/sources.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import { readText } from "../../host/disk-sources.ts";
import { writeAnswer } from "../../host/write-answer.ts";
import { makeFolder, WriteRefused } from "../../host/write-file.ts";
import { findDocuments, sourcesFor, type Given } from "../documents.ts";
import { Failure, type Outcome } from "../failure.ts";
import { ANSWER_VERSION, renderJson } from "../json.ts";
import { goneSnapshots, sharedSnapshots, snapshotFiles } from "../snapshot-files.ts";
import { unsolvable } from "./solve.ts";

export interface SnapshotOptions {
  readonly validate?: true;
  readonly out?: string;
  readonly force?: true;
  readonly format: "text" | "json";
}

type State = "written" | "unchanged" | "stale" | "missing" | "gone" | "unread" | "unwritten";

/** What became of one file of a snapshot, or of a move of which none could be made. */
interface Told {
  readonly path: string;
  readonly state: State;
  readonly reason?: string;
  /** Findings, for stderr. */
  readonly notes?: readonly string[];
}

/**
 * `movewright snapshot`: a picture and a table beside each move, which code hosts show before and after a change. With
 * `validate` nothing is written, and exit code 1 says that some are not those of their moves. 1 also where a move cannot be
 * read, 2 where a file could not be written, the others being done all the same.
 */
export function snapshotCommand(paths: readonly string[], options: SnapshotOptions): Outcome {
  const given = paths.length === 0 ? ["."] : paths;
  const documents = findDocuments(given);
  const moves = documents.filter(({ path }) => documentKind(path)?.kind === "move");
  if (moves.length === 0)
    throw new Failure(`${given.join(", ")}: no move is among the documents; snapshots are of moves`);
  const [sources, memo, shared] = [sourcesFor(documents), createMemo(), sharedSnapshots(moves, options.out)];
  const told = moves.flatMap((move): readonly Told[] => {
    const other = shared.get(move);
    if (!other) return snapshotOf(move, sources, memo, options);
    const reason = `would have the same snapshot as ${other.path}; give one of them another name`;
    return [{ path: move.path, state: "unwritten", reason }];
  });
  const folders = given.filter((path) => statSync(path).isDirectory());
  const gone = goneSnapshots(folders, options.out, moves).map((path): Told => ({
    path,
    state: "gone",
    reason: "its move is not there any more; delete it, or bring the move back",
  }));
  return outcomeOf([...told, ...gone], options);
}

function snapshotOf(move: Given, sources: Sources, memo: AnalysisMemo, options: SnapshotOptions): readonly Told[] {
  const analysis = analyseText(move.file, sources, memo);
  if (!analysis.move) {
    const { notes } = unsolvable(move, analysis, sources.read(move.file));
    return [
      {
        path: move.path,
        state: "unread",
        reason: "cannot be solved before its errors are mended",
        ...(notes && { notes: notes.slice(0, -1) }),
      },
    ];
  }
  const trajectory = runToEnd(planTrajectory(analysis.move));
  const samples = runToEnd(snapshotSamples(trajectory));
  const files = snapshotFiles(move, options.out);
  const made = [
    { path: files.picture, content: drawSnapshot(trajectory, samples) },
    { path: files.table, content: snapshotTable(trajectory, samples, basename(files.picture)) },
  ];
  return made.map(({ path, content }) =>
    options.validate ? validated(path, content) : written(path, content, options),
  );
}

/** The text that stands there; hosts and editors may have given its lines other ends. */
const standing = (path: string): string | undefined => readText(path)?.replaceAll("\r\n", "\n");

function validated(path: string, content: string): Told {
  const stands = standing(path);
  if (stands === content) return { path, state: "unchanged" };
  if (stands === undefined) return { path, state: "missing", reason: "is not there; run movewright snapshot" };
  const form = snapshotForm(stands);
  if (form === undefined) return { path, state: "stale", reason: "is there and is no snapshot; give it another name" };
  if (form !== SNAPSHOT_FORM) {
    const reason = `was made in form ${form}, and this program makes form ${SNAPSHOT_FORM}; run movewright snapshot`;
    return { path, state: "stale", reason };
  }
  const [was, is] = [stands.split("\n"), content.split("\n")];
  const line = is.findIndex((text, i) => text !== was[i]);
  const from = `differs from line ${(line < 0 ? is.length : line) + 1} on`;
  return { path, state: "stale", reason: `${from}: the move, or what it names, has changed; run movewright snapshot` };
}

function written(path: string, content: string, { out, force }: SnapshotOptions): Told {
  if (standing(path) === content) return { path, state: "unchanged" };
  try {
    if (out !== undefined) makeFolder(dirname(path));
    writeAnswer({ path, content, isOurs: (start) => snapshotForm(start) !== undefined, force: force === true });
  } catch (error) {
    if (!(error instanceof WriteRefused)) throw error;
    return { path, state: "unwritten", reason: error.message.replace(`${path} `, "") };
  }
  return { path, state: "written" };
}

function outcomeOf(told: readonly Told[], { format, validate }: SnapshotOptions): Outcome {
  const has = (...states: readonly State[]): boolean => told.some(({ state }) => states.includes(state));
  const failing: readonly State[] = validate ? ["stale", "missing", "gone", "unread"] : ["unread"];
  const files = told.map(({ path, state, reason }) => ({ path, state, ...(reason !== undefined && { reason }) }));
  return {
    output:
      format === "json"
        ? renderJson({ version: ANSWER_VERSION, form: SNAPSHOT_FORM, files })
        : renderText(told, validate === true),
    exit: has("unwritten") ? 2 : has(...failing) ? 1 : 0,
    notes: told.flatMap(({ notes }) => notes ?? []),
  };
}

const WORDS: Readonly<Record<State, string>> = {
  written: "written",
  unchanged: "up to date",
  stale: "stale",
  missing: "missing",
  gone: "without a move",
  unread: "not to be solved",
  unwritten: "not written",
};

function renderText(told: readonly Told[], isValidated: boolean): string {
  const lines = told
    .filter(({ state }) => state !== "unchanged")
    .map(({ path, state, reason }) => `${plainWords(path)}: ${plainWords(reason ?? WORDS[state])}`);
  const counts = (Object.keys(WORDS) as State[])
    .map((state) => ({ state, count: told.filter((one) => one.state === state).length }))
    .filter(({ count }) => count > 0)
    .map(({ state, count }) => `${count} ${WORDS[state]}`);
  return `${[...lines, `snapshots${isValidated ? " looked at" : ""}: ${counts.join(", ")}`].join("\n")}\n`;
}
