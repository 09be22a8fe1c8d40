import { dirname, join } from "node:path";
import type { FileId } from "../../core/base/span.ts";
import { runToEnd } from "../../core/base/task.ts";
import { analyse, createMemo } from "../../core/checks/analyse.ts";
import { findingsOf, type Analysis } from "../../core/checks/analysis.ts";
import { checkedDocument, failedDocument } from "../../core/exchange/check-document.ts";
import type { CheckedDocument } from "../../core/exchange/checked-document.ts";
import { textBook } from "../../core/exchange/text-book.ts";
import { diskSources } from "../../host/disk-sources.ts";
import { GitFailure } from "../../host/git/git-failure.ts";
import { attempt, makeFolder, writeWhole, WriteRefused } from "../../host/write-file.ts";
import type { Job } from "../../host/pool/job.ts";
import { programVersion } from "../../host/program-version.ts";
import type { ChangeSetting } from "../diff/change-setting.ts";
import { openChange } from "../diff/open-change.ts";
import { pageData } from "../stage-page/page-data.ts";
import { pageProgram } from "../stage-page/page-program.ts";
import { withinRoom } from "../stage-page/page-room.ts";
import { movePage } from "./move-page.ts";
import { nameFrom } from "./name-from.ts";

export interface ReportSetting {
  readonly roots: readonly string[];
  /** Folder that is written to. */
  readonly folder: string;
  /** Folder from which files are named. */
  readonly from: string;
  /** The change that is shown, and what people call its side before. */
  readonly change?: { readonly setting: ChangeSetting; readonly before: string };
}

/** A move, the name of its pages, what changed in it as HTML, and its file at the base. */
export interface ReportInput {
  readonly file: FileId;
  readonly name: string;
  readonly change?: string;
  readonly was?: FileId;
}

export interface ReportOutput {
  readonly checked: CheckedDocument;
  /** Files that were written, from the report's folder [bytes]. */
  readonly files: readonly { readonly path: string; readonly bytes: number }[];
  /** What had no room. Sentences. */
  readonly notes: readonly string[];
}

/** Writes the pages of moves, one by one. */
export const reportJob: Job<ReportSetting, ReportInput, ReportOutput> = {
  open({ roots, folder, from, change }) {
    const sources = diskSources(roots);
    const opened = change && openChange(change.setting);
    const program = pageProgram();
    const memo = createMemo();
    const texts = textBook(sources, memo);
    const nameOf = nameFrom(from);
    const baseOf = (was: FileId | undefined): Analysis | undefined => {
      if (!opened || was === undefined) return undefined;
      const analysis = runToEnd(analyse(was, opened.before.sources, opened.before.memo));
      opened.before.memo.forget(was);
      return analysis.trajectory ? analysis : undefined;
    };
    return {
      work({ file, name, change: told, was }) {
        const analysis = runToEnd(analyse(file, sources, memo));
        memo.forget(file);
        const checked = checkedDocument(analysis, texts);
        const base = baseOf(was);
        const against = base && change && { analysis: base, label: change.before };
        const findings = findingsOf(analysis).sort((a, b) => a.place.span.start - b.place.span.start);
        const stage = withinRoom(pageData(analysis, findings, sources, programVersion(), against), program);
        const made = movePage({
          name,
          path: nameOf(file),
          checked,
          nameOf,
          ...(analysis.trajectory ? { trajectory: analysis.trajectory } : {}),
          ...(base?.trajectory ? { before: base.trajectory } : {}),
          ...(told === undefined ? {} : { change: told }),
        });
        const files = [
          { path: `moves/${name}.html`, text: made.page },
          { path: `stages/${name}.html`, text: stage.text },
          ...made.pictures.map(({ path, svg }) => ({ path, text: svg })),
        ];
        for (const { path, text } of files) put(join(folder, path), text);
        return {
          checked,
          files: files.map(({ path, text }) => ({ path, bytes: Buffer.byteLength(text) })),
          notes: stage.left.map((left) => `stages/${name}.html: ${left}`),
        };
      },
    };
  },
  failed({ file }, error) {
    // A disk that is full or a revision that can't be read is no fault of a move.
    if (error instanceof GitFailure || error instanceof WriteRefused) throw error;
    return { checked: failedDocument(file, "Reporting this move", error), files: [], notes: [] };
  },
};

function put(path: string, text: string): void {
  makeFolder(dirname(path));
  attempt(path, () => writeWhole(path, text));
}
