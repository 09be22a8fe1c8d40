import { CodeLensRefreshRequest, type CodeLens, type Command, type Connection } from "vscode-languageserver";
import type { FileId } from "../core/base/span.ts";
import {
  OPEN_STAGE_COMMAND,
  PLAY_FROM_COMMAND,
  SHOW_PLACES_COMMAND,
  type PlayFromArguments,
  type ShowPlacesArguments,
} from "../protocol/requests.ts";
import { guarded } from "./guard.ts";
import { axisLens, isUsed, movesUsing, useLenses, type KnownUse } from "./service/code-lens/lens-uses.ts";
import { moveLenses, peaksLens, type Lens, type LensAbout, type LensAction } from "./service/code-lens/lens.ts";
import { solvedOf, type View } from "./service/view.ts";
import type { Session } from "./session.ts";
import { subjectsOf, type Subject } from "./subject.ts";
import { toLocation } from "./to-lsp.ts";
import { readyViewOf, solvedViewOf, viewOf } from "./views.ts";

/** Lenses are drawn again at most this often while moves are checked [ms]. */
const REFRESH_MS = 500;

/** What a lens without a title carries until it is asked for. */
interface LensData {
  readonly uri: string;
  readonly about: LensAbout;
}

/**
 * Code lenses. They are answered with what is known and start no work of their own: where moves are still to be checked, the
 * client is told to ask again as that is done.
 */
export function registerLenses(connection: Connection, session: Session): void {
  const { analyses, client, log } = session;
  const subjectOf = subjectsOf(session);
  const awaited = new Set<FileId>();
  let timer: ReturnType<typeof setTimeout> | undefined;

  const refresh = () => {
    timer = undefined;
    connection
      .sendRequest(CodeLensRefreshRequest.type)
      .catch((error: unknown) => log(`Refreshing lenses failed: ${String(error)}`));
  };
  if (client.refreshesLenses) {
    analyses.onWhole((file) => {
      // The answer to the refresh awaits it again.
      if (awaited.delete(file)) timer ??= setTimeout(refresh, REFRESH_MS);
    });
  }

  connection.onCodeLens(({ textDocument: { uri } }, token) =>
    guarded("code lenses", log, token, async () => {
      const subject = await subjectOf(uri, solvedViewOf);
      if (!subject) return null;
      const { view } = subject;
      const lenses = view.kind === "move" ? ofMove(session, view, awaited) : await ofUsed(session, view, awaited);
      return lenses.flatMap((lens) => toCodeLens(session, subject, uri, lens));
    }),
  );
  connection.onCodeLensResolve((lens, token) =>
    guarded("a code lens", log, token, async () => {
      const { uri, about } = lens.data as LensData;
      const subject = await subjectOf(uri, about.what === "peaks" ? readyViewOf : viewOf);
      const found = subject && (await aboutOf(session, subject.view, about));
      // A lens that has nothing to say any more: the client is about to ask for all of them again.
      if (!subject || !found?.title) return { ...lens, command: { title: "", command: "" } };
      return { ...lens, command: toCommand(session, uri, lens, found.title, found.action) };
    }),
  );
}

function ofMove({ analyses, settings }: Session, view: View, awaited: Set<FileId>): readonly Lens[] {
  const choice = {
    stage: settings["codeLens.stage"],
    peaks: settings["codeLens.peaks"],
    play: settings["codeLens.play"],
  };
  const checked = analyses.current(view.file)?.whole === true;
  if (!checked) awaited.add(view.file);
  return moveLenses(view, choice, checked);
}

async function ofUsed(session: Session, view: View, awaited: Set<FileId>): Promise<readonly Lens[]> {
  if (!session.settings["codeLens.uses"]) return [];
  const uses = await usesOf(session, view);
  for (const { file } of uses) awaited.add(file);
  return useLenses(view, uses);
}

async function aboutOf(
  session: Session,
  view: View,
  about: LensAbout,
): Promise<Pick<Lens, "title" | "action"> | undefined> {
  if (about.what === "axis") return axisLens(about.name, await usesOf(session, view));
  return view.solved && peaksLens(view.solved, view.file);
}

/** Moves of the workspace that use a rig, camera or set, with what is known of them without any work. */
async function usesOf(session: Session, { file, kind }: View): Promise<readonly KnownUse[]> {
  if (!isUsed(kind)) return [];
  const { analyses, texts } = session;
  const files = [...new Set([...(await session.files.all()), ...texts.openFiles()])];
  await texts.load(files);
  const outcome = await session.run(movesUsing(file, files, session.names), "asked", () => true);
  if (outcome.state === "failed") throw outcome.error;
  if (outcome.state === "dropped") return [];
  return outcome.value.map((use) => {
    const current = analyses.current(use.file);
    const good = analyses.lastGood(use.file);
    return {
      ...use,
      ...(current?.whole ? { checked: current.analysis } : {}),
      ...(good ? { solved: solvedOf(good.analysis) } : {}),
    };
  });
}

function toCodeLens(session: Session, { document }: Subject, uri: string, lens: Lens): CodeLens[] {
  const start = document.positionAt(lens.span.start);
  // A lens stands above one line.
  const lineEnd = document.offsetAt({ line: start.line + 1, character: 0 });
  const range = { start, end: document.positionAt(Math.min(lens.span.end, Math.max(lens.span.start, lineEnd - 1))) };
  if (lens.about) {
    const data: LensData = { uri, about: lens.about };
    return [{ range, data }];
  }
  const isDone = lens.action?.does === "open-stage" || lens.action?.does === "play";
  const command = toCommand(session, uri, { range }, lens.title ?? "", lens.action);
  // Where the client has no such command, a lens that is nothing but one is left out.
  return isDone && command.command === "" ? [] : [{ range, command }];
}

/** The title alone where the client can do nothing with a click. */
function toCommand(
  { client, texts }: Session,
  uri: string,
  { range }: Pick<CodeLens, "range">,
  title: string,
  action: LensAction | undefined,
): Command {
  const made = (command: string, args: readonly unknown[]): Command =>
    client.commands.has(command) ? { title, command, arguments: [...args] } : { title, command: "" };
  switch (action?.does) {
    case "open-stage":
      return made(OPEN_STAGE_COMMAND, [uri]);
    case "play": {
      const args: PlayFromArguments = [uri, action.time];
      return made(PLAY_FROM_COMMAND, args);
    }
    case "show": {
      const places = action.places.map((place) => toLocation(texts, place));
      const args: ShowPlacesArguments = [uri, range.start, places];
      return made(SHOW_PLACES_COMMAND, args);
    }
    case undefined:
      return { title, command: "" };
  }
}
