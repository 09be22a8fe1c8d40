import {
  DocumentDiagnosticReportKind,
  type CancellationToken,
  type DocumentDiagnosticReport,
  type ProgressToken,
  type WorkspaceDiagnosticReport,
  type WorkspaceDocumentDiagnosticReport,
} from "vscode-languageserver";
import type { FileId } from "../../core/base/span.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import { reportOf, type Report } from "./diagnostics.ts";
import { fileOfUri } from "../files/file-uri.ts";
import { inTime } from "../patience.ts";
import type { Session } from "../session.ts";

/** How long a document's answer waits for the motion, so that its findings don't flicker while typing [ms]. */
export const GRACE_MS = 120;

/**
 * Answers for one document: the findings of its text at once, those of the motion with them when they are ready in time.
 * `later` is called when the motion is ready after the answer went out.
 */
export async function pullDocument(
  session: Session,
  uri: string,
  previous: string | undefined,
  later: () => void,
): Promise<DocumentDiagnosticReport> {
  const file = fileOfUri(uri);
  if (!documentKind(file)) return { kind: DocumentDiagnosticReportKind.Full, items: [] };
  const { analyses } = session;
  await analyses.text(file);
  const whole = analyses.whole(file, "shown");
  await inTime(whole, GRACE_MS);
  const known = analyses.current(file) ?? (await analyses.text(file));
  if (!known.whole) void whole.then(later);
  const report = reportOf(session, file, known);
  if (report.resultId === previous) return { kind: DocumentDiagnosticReportKind.Unchanged, resultId: report.resultId };
  return { kind: DocumentDiagnosticReportKind.Full, resultId: report.resultId, items: report.items() };
}

/** How a client asks for the workspace. */
export interface WorkspaceWishes {
  /** Result ids that the client has. */
  readonly previous: ReadonlyMap<FileId, string>;
  readonly token: CancellationToken;
  readonly progress?: ProgressToken;
  /** Takes each document as it is ready; absent for a client that waits for all. */
  readonly give?: (report: WorkspaceDocumentDiagnosticReport) => void;
}

/**
 * Answers for every document of the workspace that is not open; open ones are asked for one by one. Where `give` takes
 * each document as it is ready, the request is kept until something differs from what the client has, so that a client
 * that asks again and again costs nothing.
 */
export async function pullWorkspace(session: Session, wishes: WorkspaceWishes): Promise<WorkspaceDiagnosticReport> {
  const { token, give } = wishes;
  for (let progress = wishes.progress; ; progress = undefined) {
    const changed = session.changed.next(token);
    // A token of the client's shows one piece of work, the first.
    const { items, differ } = await workspaceItems(session, { ...wishes, progress });
    if (!give) return { items };
    if (differ || token.isCancellationRequested) return { items: [] };
    await changed;
  }
}

async function workspaceItems(
  session: Session,
  { previous, token, progress, give }: WorkspaceWishes,
): Promise<{ readonly items: WorkspaceDocumentDiagnosticReport[]; readonly differ: boolean }> {
  const { texts, background } = session;
  const files = await background.files();
  const items = new Map<FileId, WorkspaceDocumentDiagnosticReport>();
  let differ = false;
  const add = (file: FileId, item: WorkspaceDocumentDiagnosticReport) => {
    items.set(file, item);
    differ ||= item.kind === DocumentDiagnosticReportKind.Full;
    // What the client already has is told only at the end, and only to a client that waits for everything at once.
    if (item.kind === DocumentDiagnosticReportKind.Full) give?.(item);
  };
  const closed = files.filter((file) => !texts.isOpen(file));
  await background.check(closed, {
    token,
    progress,
    follows: give !== undefined,
    took(file, known) {
      if (texts.isOpen(file)) return;
      add(file, workspaceItem(session, file, reportOf(session, file, known), previous.get(file)));
    },
  });
  for (const [file, resultId] of previous) {
    if (!files.includes(file) && !texts.isOpen(file) && resultId !== GONE) add(file, goneItem(session, file));
  }
  return { items: [...items.values()], differ };
}

/** Result id of a document that is no longer there: its diagnostics are cleared once. */
const GONE = "gone";

function goneItem(session: Session, file: FileId): WorkspaceDocumentDiagnosticReport {
  return {
    kind: DocumentDiagnosticReportKind.Full,
    uri: session.texts.uri(file),
    version: null,
    resultId: GONE,
    items: [],
  };
}

function workspaceItem(
  session: Session,
  file: FileId,
  report: Report,
  previous: string | undefined,
): WorkspaceDocumentDiagnosticReport {
  const { resultId, version } = report;
  const uri = session.texts.uri(file);
  if (resultId === previous) return { kind: DocumentDiagnosticReportKind.Unchanged, uri, version, resultId };
  return { kind: DocumentDiagnosticReportKind.Full, uri, version, resultId, items: report.items() };
}
