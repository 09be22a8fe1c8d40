import { resolve } from "node:path";
import { isRecord } from "../../core/base/is-record.ts";
import { readJson } from "../../core/base/read-json.ts";
import { plainWords } from "../../core/base/plain-words.ts";
import type { CheckedDocument } from "../../core/exchange/checked-document.ts";
import { isCheckedDocument } from "../../core/exchange/checked-shape.ts";
import { renameFiles } from "../../core/exchange/rename-files.ts";
import { fileOfPath, pathOfFile } from "../../host/file-path.ts";
import { readWhole } from "../../host/disk-sources.ts";
import { writeAnswer } from "../../host/write-answer.ts";
import { WriteRefused } from "../../host/write-file.ts";
import { Failure } from "../failure.ts";
import { placeOf, type Shard } from "./shard.ts";

/** Version of the file's shape. */
const VERSION = 1;
const START = `{"movewright-result":${VERSION},`;
const MOST_BYTES = 400_000_000;

/** What one machine found, for another one that puts all together. */
export interface ShardResult {
  readonly shard: Shard;
  /** Which program made it: results of two do not go together. */
  readonly program: string;
  /** Documents of all shards together, and their sum. */
  readonly all: { readonly count: number; readonly sum: string };
  readonly documents: readonly ResultDocument[];
}

export interface ResultDocument {
  /** Its position among all. */
  readonly index: number;
  /** As it was given. */
  readonly path: string;
  readonly checked: CheckedDocument;
}

/** Writes a result, files by their paths from the folder that the command runs in. Throws `Failure` where it can't. */
export function writeResult(path: string, result: ShardResult, force: boolean): void {
  const { shard, program, all } = result;
  const documents = result.documents.map((one) => ({ ...one, checked: renameFiles(one.checked, placeOf) }));
  const fields = JSON.stringify({ program, shard, all, documents }).slice(1);
  try {
    writeAnswer({ path, content: `${START}${fields}\n`, isOurs: (start) => start.startsWith(START), force });
  } catch (error) {
    if (error instanceof WriteRefused) throw new Failure(error.message);
    throw error;
  }
}

/** Reads what `writeResult` wrote, maybe on another machine, files by where they are on this one. Throws `Failure` for any other file. */
export function readResult(path: string): ShardResult {
  const shown = plainWords(path);
  const bytes = readWhole(path, MOST_BYTES);
  if (!bytes) throw new Failure(`${shown} is not there or may not be read; write it with --result`);
  const data = readJson(Buffer.from(bytes).toString("utf8"));
  if (!isRecord(data) || !("movewright-result" in data)) {
    throw new Failure(`${shown} is no whole result of a check; it is written with --result`);
  }
  if (data["movewright-result"] !== VERSION) throw new Failure(`${shown} is a result of another version of movewright`);
  if (!isResult(data)) throw new Failure(`${shown} is a result that somebody changed; write it anew with --result`);
  const idOf = (place: string): string => fileOfPath(resolve(pathOfFile(place)));
  return { ...data, documents: data.documents.map((one) => ({ ...one, checked: renameFiles(one.checked, idOf) })) };
}

const isCount = (value: unknown): value is number => Number.isSafeInteger(value) && (value as number) >= 0;

function isResult(data: unknown): data is ShardResult {
  if (!isRecord(data)) return false;
  const { shard, program, all, documents } = data;
  return (
    isRecord(shard) &&
    isCount(shard.number) &&
    isCount(shard.of) &&
    typeof program === "string" &&
    isRecord(all) &&
    isCount(all.count) &&
    typeof all.sum === "string" &&
    Array.isArray(documents) &&
    documents.every(isResultDocument)
  );
}

const isResultDocument = (value: unknown): value is ResultDocument =>
  isRecord(value) && isCount(value.index) && typeof value.path === "string" && isCheckedDocument(value.checked);
