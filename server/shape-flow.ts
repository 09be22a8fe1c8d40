import type { Connection } from "vscode-languageserver";
import type { FileId } from "../core/base/span.ts";
import { documentKind } from "../core/model/document-kind.ts";
import { SHAPE_REQUEST, type ShapeParams, type ShapeResult } from "../protocol/stage-shape.ts";
import type { Known } from "./analyses.ts";
import { fileOfUri } from "./files/file-uri.ts";
import { guarded } from "./guard.ts";
import { movesUsing } from "./service/code-lens/lens-uses.ts";
import { createShaper, type Shaper, type Written } from "./service/shape/shaper.ts";
import type { Session } from "./session.ts";
import { toTextEdits } from "./to-lsp.ts";
import { solvedViewOf } from "./views.ts";

const CHANGED = "The text changed meanwhile: the stage shows it as soon as it is solved.";
const UNSOLVED = "The move can't be solved as its text stands: mend what it says first.";

/** What is shaped now, as it was before: it serves as long as no text that it was made from is another. */
interface Shaping {
  readonly file: FileId;
  readonly known: Known;
  readonly shaper: Shaper;
}

/** The request of the stage that shapes a move. Of previews only the newest is solved. */
export function registerShape(connection: Connection, session: Session): void {
  let shaping: Shaping | undefined;
  let newest = 0;

  const shaperOf = async (file: FileId): Promise<Shaper | undefined> => {
    const { analyses } = session;
    if (shaping?.file === file && analyses.current(file) === shaping.known) return shaping.shaper;
    const view = await solvedViewOf(session, file);
    const known = analyses.current(file);
    if (!view?.solved || view.solved.stale || !known?.whole) return undefined;
    const shaper = createShaper({ ...view, solved: view.solved }, analyses.aside(), analyses.tree);
    shaping = { file, known, shaper };
    return shaper;
  };

  const shape = async ({ uri, version, phase, intent }: ShapeParams): Promise<ShapeResult> => {
    const turn = (newest += 1);
    const file = fileOfUri(uri);
    const shaper = documentKind(file)?.kind === "move" ? await shaperOf(file) : undefined;
    if (!shaper) return { refusal: UNSOLVED };
    if ((session.texts.version(file) ?? 0) !== version) return { refusal: CHANGED };
    if (phase === "commit") return written(session, shaper.edits(intent));
    const outcome = await session.run(shaper.preview(intent), "shown", () => turn === newest);
    if (outcome.state === "failed") throw outcome.error;
    if (outcome.state === "dropped") return { superseded: true };
    return "refusal" in outcome.value ? outcome.value : { preview: outcome.value };
  };

  connection.onRequest(SHAPE_REQUEST, (params: ShapeParams, token) =>
    guarded("a shaped move", session.log, token, () => shape(params)),
  );
}

async function written(session: Session, made: Written | { readonly refusal: string }): Promise<ShapeResult> {
  if ("refusal" in made) return made;
  const { texts } = session;
  const document = texts.document(made.file);
  if (!document) return { refusal: "The document that would change is not known here." };
  const version = texts.version(made.file);
  const write = {
    uri: texts.uri(made.file),
    ...(version === undefined ? {} : { version }),
    edits: toTextEdits(document, made.edits),
  };
  const note = documentKind(made.file)?.kind === "set" ? await sharedNote(session, made.file) : "";
  return { write, made: made.says + note, ...(made.stop ? { stop: made.stop } : {}) };
}

/** How many moves a change of a set goes to, this one counted. */
async function sharedNote({ files, names, run }: Session, set: FileId): Promise<string> {
  const all = await files.all();
  const outcome = await run(movesUsing(set, all, names), "asked", () => true);
  const count = outcome.state === "done" ? outcome.value.length : 0;
  return count > 1 ? ` ${count} moves use this set and go along.` : "";
}
