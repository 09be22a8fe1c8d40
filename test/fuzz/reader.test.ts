import assert from "node:assert/strict";
import { isDeepStrictEqual } from "node:util";
import { parse, stringify } from "yaml";
import { DOCUMENT_CODES } from "../../core/base/finding-code.ts";
import type { Problem } from "../../core/base/problem.ts";
import { DOCUMENT_KINDS, type DocumentKind } from "../../core/model/document-kind.ts";
import { CONFIG_NAME, resolveConfig, severitiesOf } from "../../core/model/resolve-config.ts";
import { resolveMove } from "../../core/model/resolve-move.ts";
import { resolveOptics } from "../../core/model/resolve-optics.ts";
import { resolveRig } from "../../core/model/resolve-rig.ts";
import { resolveSet } from "../../core/model/resolve-set.ts";
import { resolveShoot } from "../../core/model/resolve-shoot.ts";
import type { DocumentMemo } from "../../core/model/resolution.ts";
import { parseTree } from "../../core/syntax/parse.ts";
import { valueOf, type TreeNode } from "../../core/syntax/tree.ts";
import { memorySources } from "../fixtures/memory-sources.ts";
import { mutateText, mutateValue } from "./mutate.ts";
import { randomChoices, type Random } from "./random.ts";
import { SEEDS, SURROUNDINGS } from "./seeds.ts";

const MUTANTS = 10_000;
const SLOWEST_MS = 2_000;

interface Result {
  readonly value: unknown;
  readonly problems: readonly Problem[];
}

type Format = "yaml" | "json";

/** A config has one name; JSON is YAML as well. */
const fileOf = (kind: DocumentKind, format: Format): string =>
  kind === "config" ? CONFIG_NAME : `fuzzed.${kind}.${format}`;

function resolve(kind: DocumentKind, format: Format, text: string, memo: DocumentMemo): Result {
  const file = fileOf(kind, format);
  const sources = memorySources(new Map([...Object.entries(SURROUNDINGS), [file, text]]));
  switch (kind) {
    case "rig": {
      const { rig, problems } = resolveRig(file, sources, memo);
      return { value: rig, problems };
    }
    case "camera": {
      const { optics, problems } = resolveOptics(file, sources, memo);
      return { value: [...optics], problems };
    }
    case "set": {
      const { set, problems } = resolveSet(file, sources, memo);
      return { value: set, problems };
    }
    case "move": {
      const { move, problems } = resolveMove(file, sources, memo);
      return { value: move, problems };
    }
    case "config": {
      const { problems } = resolveConfig(file, sources, memo);
      return { value: [...severitiesOf(file, sources, memo).severities], problems };
    }
    case "shoot": {
      const { shoot, problems } = resolveShoot(file, sources, memo);
      return { value: shoot, problems };
    }
  }
}

/** A mutant's text, and its format. */
function mutant(kind: DocumentKind, index: number, random: Random): { readonly text: string; readonly format: Format } {
  const format: Format = random.below(2) === 0 ? "yaml" : "json";
  const changes = 1 + random.below(3);
  if (index % 2 === 0) {
    const value = parse(SEEDS[kind]) as unknown;
    for (let i = 0; i < changes; i++) mutateValue(value, random);
    // What JSON cannot hold, such as NaN, becomes null there; YAML keeps it.
    return { text: format === "json" ? JSON.stringify(value, null, 2) : stringify(value), format };
  }
  let text = format === "json" ? JSON.stringify(parse(SEEDS[kind]), null, 2) : SEEDS[kind];
  for (let i = 0; i < changes; i++) text = mutateText(text, random);
  return { text, format };
}

/** What a text says, without places: two texts that say the same must give the same. */
function meaning(text: string, format: Format): unknown {
  const plain = (node: TreeNode | undefined): unknown => {
    const value = valueOf(node);
    if (!value) return undefined;
    if (value.kind === "scalar") return value.value;
    if (value.kind === "list") return value.items.map(plain);
    return value.entries.map((entry) => [entry.name, plain(entry.value)]);
  };
  return plain(parseTree(text, format).root);
}

function checkProblem(problem: Problem, file: string, text: string): void {
  const { code, message, place, cures = [] } = problem;
  assert.ok((DOCUMENT_CODES as readonly string[]).includes(code), code);
  assert.notEqual(code, "internal-error");
  assert.match(message, /^\S[\s\S]*[.?]$/);
  assert.equal(place.file, file);
  const spans = [place.span, ...cures.flatMap((cure) => cure.edits.map((edit) => edit.span))];
  for (const { start, end } of spans) assert.ok(0 <= start && start <= end && end <= text.length, `${start}..${end}`);
}

function checkFinite(value: unknown, where: string): void {
  if (typeof value === "number") assert.ok(Number.isFinite(value), `${where} is ${value}`);
  if (typeof value !== "object" || value === null) return;
  for (const [name, inner] of Object.entries(value)) checkFinite(inner, `${where}.${name}`);
}

describe("fuzz of the document reader", () => {
  it("starts from documents without an error", () => {
    for (const kind of DOCUMENT_KINDS) {
      assert.deepEqual(resolve(kind, "yaml", SEEDS[kind], new Map()).problems, [], kind);
    }
  });

  it(`gives a finding or an unchanged result for each of ${MUTANTS} mutants, in time, without a throw`, function () {
    this.timeout(900_000);
    const memo: DocumentMemo = new Map();
    const meanings = Object.fromEntries(DOCUMENT_KINDS.map((kind) => [kind, meaning(SEEDS[kind], "yaml")]));
    const originals = Object.fromEntries(
      DOCUMENT_KINDS.map((kind) => [kind, resolve(kind, "yaml", SEEDS[kind], memo).value]),
    );
    const counts = { found: 0, unchanged: 0, other: 0 };
    for (let index = 0; index < MUTANTS; index++) {
      const kind = DOCUMENT_KINDS[index % DOCUMENT_KINDS.length];
      const { text, format } = mutant(kind, Math.floor(index / DOCUMENT_KINDS.length), randomChoices(1000 + index));
      try {
        const begun = performance.now();
        const { value, problems } = resolve(kind, format, text, memo);
        assert.ok(performance.now() - begun < SLOWEST_MS, "too slow");
        for (const problem of problems) checkProblem(problem, fileOf(kind, format), text);
        checkFinite(value, kind);
        if (problems.length > 0) {
          counts.found += 1;
          continue;
        }
        if (isDeepStrictEqual(meaning(text, format), meanings[kind])) {
          counts.unchanged += 1;
          assert.deepEqual(plainOf(value), plainOf(originals[kind]));
          continue;
        }
        // A right document that says something else: its result is that of the same content written anew, all of it read.
        counts.other += 1;
        const anew = resolve(kind, "json", JSON.stringify(contentOf(text, format)), new Map());
        assert.deepEqual(anew.problems, []);
        assert.deepEqual(plainOf(anew.value), plainOf(value));
      } catch (error) {
        throw new Error(`mutant ${index} of ${kind} as ${format}:\n${text}`, { cause: error });
      }
    }
    assert.ok(counts.found > MUTANTS / 2 && counts.unchanged > 50, JSON.stringify(counts));
  });
});

/** The default name is the file's own. */
const plainOf = (value: unknown): unknown => JSON.parse(JSON.stringify(value ?? null).replaceAll("fuzzed", ""));

function contentOf(text: string, format: Format): unknown {
  const plain = (node: TreeNode | undefined): unknown => {
    const value = valueOf(node);
    if (!value || value.kind === "scalar") return value?.value;
    if (value.kind === "list") return value.items.map(plain);
    return Object.fromEntries(value.entries.map((entry) => [entry.name, plain(entry.value)]));
  };
  return plain(parseTree(text, format).root);
}
