import { baseName } from "../core/base/path.ts";
import type { FileId } from "../core/base/span.ts";
import type { Surroundings } from "./service/completion.ts";
import { namesOfView } from "./service/names/definition.ts";
import type { User } from "./service/hover/around.ts";
import { solvedOf, type View } from "./service/view.ts";
import { withUsed, type NamedDocument } from "./service/names/written-names.ts";
import type { Session } from "./session.ts";

/** Names and files that completion proposes. */
export async function completionSurroundings(session: Session, view: View): Promise<Surroundings> {
  const documents = withUsed(namesOfView(view), session.names);
  return {
    files: [...(await session.files.all()), ...(await assetsFor(session, view))],
    names: (kind) =>
      documents.flatMap(({ file, names }) =>
        names
          .filter((each) => each.role === "definition" && each.kind === kind)
          .map(({ name }) => ({ name, from: file === view.file ? "in this document" : baseName(file) })),
      ),
  };
}

/** Rigs, sets and moves name files that are no documents. */
async function assetsFor(session: Session, { kind }: View): Promise<readonly FileId[]> {
  return kind === "rig" || kind === "set" || kind === "move" ? session.assets.all() : [];
}

/** Names of all documents of the workspace and of those that are open. */
export async function workspaceNames(session: Session): Promise<readonly NamedDocument[]> {
  const files = new Set([...(await session.files.all()), ...session.texts.openFiles()]);
  await session.texts.load([...files]);
  return [...files].flatMap((file) => session.names(file) ?? []);
}

/** Solved moves that use the document, as far as they are known without work. */
export function usersOf(session: Session, view: View): readonly User[] {
  if (view.kind === "move") return [];
  const { analyses } = session;
  return analyses.dependents([view.file]).flatMap((file) => {
    const good = file === view.file ? undefined : analyses.lastGood(file);
    const solved = good && solvedOf(good.analysis);
    return solved ? [{ title: solved.move.title, solved }] : [];
  });
}
