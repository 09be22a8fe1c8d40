import { findingsOf } from "../../core/checks/analysis.ts";
import type { CancellationToken } from "vscode-languageserver";
import { baseName, relativeReference } from "../../core/base/path.ts";
import type { FileId } from "../../core/base/span.ts";
import { documentKind, type TextFormat } from "../../core/model/document-kind.ts";
import type { TemplateKind } from "../../protocol/templates.ts";
import type { WrittenDocument } from "../service/templates/templates-text.ts";
import type { Session } from "../session.ts";
import { createTrials, type Trials } from "./template-trials.ts";

/** Documents that are looked at for each that is wanted: far ones may cost more than they are worth. */
const LOOKS = 20;

/** What one request for a new document works with: what is around it, and what is begun with it. */
export interface Shop {
  readonly file: FileId;
  readonly format: TextFormat;
  /** The new file's name without its endings. */
  readonly stem: string;
  /** Documents that are begun too, in the order in which they are needed. */
  readonly begun: Map<FileId, WrittenDocument>;
  readonly trials: Trials;
  readonly isCancelled: () => boolean;
  /**
   * Documents of a kind that have no errors: those begun here, then the nearest, those with warnings last; at most `most`.
   */
  sound(kind: TemplateKind, most: number): Promise<readonly FileId[]>;
  /** Lenses that a camera defines. */
  lensesIn(file: FileId): readonly string[];
  /** A file beside the new one that the workspace does not have. */
  freeName(kind: TemplateKind): FileId;
}

export async function openShop(session: Session, file: FileId, token: CancellationToken): Promise<Shop> {
  const begun = new Map<FileId, WrittenDocument>();
  const files = new Set([...(await session.files.all()), ...session.texts.openFiles()]);
  const around = [...files].filter((each) => each !== file).sort(byDistance(file));
  const format = documentKind(file)?.format ?? "yaml";
  const stem = baseName(file).replace(/\.[^.]+\.(yaml|yml|json)$/i, "");
  const folder = file.slice(0, file.length - baseName(file).length);
  const ending = /\.([^.]+)$/.exec(file)?.[1] ?? "yaml";
  return {
    file,
    format,
    stem,
    begun,
    trials: createTrials(session, begun),
    isCancelled: () => token.isCancellationRequested,
    async sound(kind, most) {
      const out = [...begun.keys()].filter((each) => documentKind(each)?.kind === kind);
      const doubtful: FileId[] = [];
      for (const each of around.filter((one) => documentKind(one)?.kind === kind).slice(0, LOOKS * most)) {
        if (out.length >= most || token.isCancellationRequested) break;
        const { analysis } = await session.analyses.whole(each, "asked");
        const has = (sort: string) => findingsOf(analysis).some(({ severity }) => severity === sort);
        if (has("error")) continue;
        if (has("warning")) doubtful.push(each);
        else out.push(each);
      }
      return [...out, ...doubtful].slice(0, most);
    },
    lensesIn(each) {
      // The templates' own lens: they are not among the texts that the server knows.
      if (begun.has(each)) return ["prime-35"];
      const names = session.names(each)?.names ?? [];
      return names.filter((name) => name.role === "definition" && name.kind === "lens").map(({ name }) => name);
    },
    freeName(kind) {
      for (let count = 1; ; count += 1) {
        const name = `${folder}${stem}${count === 1 ? "" : `-${count}`}.${kind}.${ending}`;
        if (!files.has(name) && name !== file) return name;
      }
    },
  };
}

/** Fewer folders between them first, then by name. */
function byDistance(from: FileId): (one: FileId, other: FileId) => number {
  const steps = (to: FileId): number => relativeReference(from, to).split("/").length;
  return (one, other) => steps(one) - steps(other) || (one < other ? -1 : 1);
}
