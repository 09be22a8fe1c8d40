import { plainWords } from "../../core/base/plain-words.ts";
import { GitFailure } from "./git-failure.ts";
import { isNotFetched, notFetched, refusal, type Repository } from "./repository.ts";
import { runGit, type GitAnswer } from "./run-git.ts";

/** Most that is asked for at once [bytes]. */
const AT_ONCE = 64 * 1024 * 1024;

/** Sizes of objects [bytes]; those that are not here are left out. */
export function blobSizes({ top }: Repository, objects: readonly string[]): Map<string, number> {
  const args = ["cat-file", "--batch-check=%(objectname) %(objecttype) %(objectsize)"];
  const { output } = batch(top, args, objects);
  const lines = output.toString("latin1").split("\n");
  const found = lines.map((line) => /^([0-9a-f]+) blob (\d+)$/.exec(line));
  return new Map(found.flatMap((match) => (match ? [[match[1], Number(match[2])] as const] : [])));
}

/**
 * Contents of objects by their ids, as they are committed: no filter of the repository is run on them. Asked for by id, so
 * names never reach git. Objects that are not here, or are larger than `most` bytes, are left out.
 */
export function readBlobs(repository: Repository, objects: readonly string[], most: number): Map<string, Buffer> {
  const contents = new Map<string, Buffer>();
  let chunk: string[] = [];
  let bytes = 0;
  const readOn = (): void => {
    for (const [object, content] of readChunk(repository.top, chunk, bytes)) contents.set(object, content);
    chunk = [];
    bytes = 0;
  };
  for (const [object, size] of blobSizes(repository, [...new Set(objects)])) {
    if (size > most) continue;
    if (AT_ONCE < bytes + size && chunk.length > 0) readOn();
    chunk.push(object);
    bytes += size;
  }
  if (chunk.length > 0) readOn();
  return contents;
}

/** The first `most` bytes of an object of any size; `undefined` when it is not here. */
export function readBlobStart({ top }: Repository, object: string, most: number): Buffer | undefined {
  const answer = runGit(top, ["cat-file", "blob", object], { most, isCut: true });
  return answer.status === 0 ? answer.output.subarray(0, most) : undefined;
}

/** Objects of which each has a line `ID TYPE SIZE`, its bytes, and a newline. */
function* readChunk(top: string, objects: readonly string[], bytes: number): Generator<[string, Buffer]> {
  const { output } = batch(top, ["cat-file", "--batch"], objects, bytes + 200 * objects.length);
  for (let at = 0; at < output.length;) {
    const end = output.indexOf(0x0a, at);
    if (end < 0) break;
    const [object, , size] = output.subarray(at, end).toString("latin1").split(" ");
    const start = end + 1;
    const length = Number(size);
    // `ID missing` has no size and no bytes.
    if (size === undefined) at = start;
    else {
      yield [object, output.subarray(start, start + length)];
      at = start + length + 1;
    }
  }
}

function batch(top: string, args: readonly string[], objects: readonly string[], most?: number): GitAnswer {
  if (objects.length === 0) return { status: 0, output: Buffer.alloc(0), said: "" };
  const answer = runGit(top, args, { input: `${objects.join("\n")}\n`, ...(most === undefined ? {} : { most }) });
  if (answer.status === 0) return answer;
  if (isNotFetched(answer.said)) throw notFetched(plainWords(top));
  throw refusal(top, args, answer);
}

/** Throws `GitFailure` for an object that its tree names and that is not here. */
export function absent({ top }: Repository, shown: string): GitFailure {
  return new GitFailure(
    `${shown} is not in this clone, which is partial or broken: get it with \`git fetch --refetch --no-filter\`, or look at it with \`git fsck\` (${plainWords(top)})`,
  );
}
