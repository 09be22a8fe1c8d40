import { findingsOf } from "../core/checks/analysis.ts";
import type { Connection, Hover as LspHover } from "vscode-languageserver";
import type { FileId } from "../core/base/span.ts";
import { markdown } from "./feature-shapes.ts";
import { toOffset } from "./from-lsp.ts";
import { guarded } from "./guard.ts";
import { usersOf } from "./neighbours.ts";
import type { Around } from "./service/hover/around.ts";
import { hoverAt } from "./service/hover.ts";
import { solvedOf } from "./service/view.ts";
import type { Session } from "./session.ts";
import type { SubjectOf } from "./subject.ts";
import { toRange } from "./to-lsp.ts";
import { solvedViewOf } from "./views.ts";

/** How long a hover may search for numbers that are not at hand; after that it is shown without them [ms]. */
const PATIENCE_MS = 700;

export function registerHover(connection: Connection, session: Session, subjectOf: SubjectOf): void {
  connection.onHover(({ textDocument, position }, token) =>
    guarded("hover", session.log, token, async (): Promise<LspHover | null> => {
      const subject = await subjectOf(textDocument.uri, solvedViewOf);
      if (!subject) return null;
      const { view, document } = subject;
      const offset = toOffset(document, position);
      const around: Around = { users: usersOf(session, view), moveOf: (file) => knownMove(session, file) };
      let isLate = false;
      const timer = setTimeout(() => (isLate = true), PATIENCE_MS);
      const wanted = () => !isLate && !token.isCancellationRequested;
      const searched = await session.run(hoverAt(view, offset, around, true), "shown", wanted);
      clearTimeout(timer);
      if (searched.state === "failed") throw searched.error;
      if (token.isCancellationRequested) return null;
      const outcome =
        searched.state === "done"
          ? searched
          : await session.run(hoverAt(view, offset, around, false), "shown", () => true);
      if (outcome.state === "failed") throw outcome.error;
      const hover = outcome.state === "done" ? outcome.value : undefined;
      return hover ? { contents: markdown(hover.markdown), range: toRange(document, hover.span) } : null;
    }),
  );
}

/** What is known of another move without any work. */
function knownMove({ analyses }: Session, file: FileId): ReturnType<Around["moveOf"]> {
  const current = analyses.current(file);
  const good = analyses.lastGood(file);
  return {
    ...(good ? { solved: solvedOf(good.analysis) } : {}),
    ...(current?.whole ? { findings: findingsOf(current.analysis) } : {}),
  };
}
