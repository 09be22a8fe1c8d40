import {
  DocumentDiagnosticReportKind,
  type CancellationToken,
  type DocumentDiagnosticReport,
  type WorkspaceDiagnosticReport,
  type WorkspaceDocumentDiagnosticReport,
} from "vscode-languageserver";
import type { FileId } from "../core/base/span.ts";
import { documentKind } from "../core/model/document-kind.ts";
import { reportOf, type Report } from "./diagnostics.ts";
import { fileOfUri } from "./file-uri.ts";
import type { Session } from "./session.ts";

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
  await Promise.race([whole, delay(GRACE_MS)]);
  const known = analyses.current(file) ?? (await analyses.text(file));
  if (!known.whole) void whole.then(later);
  const report = reportOf(session, file, known);
  if (report.resultId === previous) return { kind: DocumentDiagnosticReportKind.Unchanged, resultId: report.resultId };
  return { kind: DocumentDiagnosticReportKind.Full, resultId: report.resultId, items: report.items() };
}

/**
 * Answers for every document of the workspace that is not open; open ones are asked for one by one. Where `give` takes
 * each document as it is ready, the request is kept until something differs from what the client has, so that a client
 * that asks again and again costs nothing.
 */
export async function pullWorkspace(
  session: Session,
  previous: ReadonlyMap<FileId, string>,
  token: CancellationToken,
  give: ((report: WorkspaceDocumentDiagnosticReport) => void) | undefined,
): Promise<WorkspaceDiagnosticReport> {
  const items: WorkspaceDocumentDiagnosticReport[] = [];
  for (;;) {
    const changed = session.changed.next(token);
    const found = await workspaceItems(session, previous, token, give);
    items.push(...found.items);
    if (!give) return { items };
    if (found.differ || token.isCancellationRequested) return { items: [] };
    await changed;
  }
}

async function workspaceItems(
  session: Session,
  previous: ReadonlyMap<FileId, string>,
  token: CancellationToken,
  give: ((report: WorkspaceDocumentDiagnosticReport) => void) | undefined,
): Promise<{ readonly items: readonly WorkspaceDocumentDiagnosticReport[]; readonly differ: boolean }> {
  const files = session.settings.checkWorkspace ? await session.files.all() : [];
  const items: WorkspaceDocumentDiagnosticReport[] = [];
  let differ = false;
  const add = (item: WorkspaceDocumentDiagnosticReport) => {
    items.push(item);
    differ ||= item.kind === DocumentDiagnosticReportKind.Full;
    // What the client already has is told only at the end, and only to a client that waits for everything at once.
    if (item.kind === DocumentDiagnosticReportKind.Full) give?.(item);
  };
  for (const file of files) {
    if (token.isCancellationRequested) break;
    if (session.texts.isOpen(file)) continue;
    const known = await session.analyses.whole(file, "background");
    if (!session.texts.isOpen(file))
      add(workspaceItem(session, file, reportOf(session, file, known), previous.get(file)));
  }
  for (const [file, resultId] of previous) {
    if (!files.includes(file) && !session.texts.isOpen(file) && resultId !== GONE) add(goneItem(session, file));
  }
  return { items, differ };
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

function delay(timeMs: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, timeMs));
}
