import { CodeActionKind, type CodeAction, type Connection } from "vscode-languageserver";
import type { FindingCode } from "../../core/base/finding-code.ts";
import type { PlacedFinding } from "../../core/checks/finding.ts";
import type { ActionSource, EditOf, OfferedAction } from "./action-source.ts";
import { createKeptSearch } from "./kept-search.ts";
import { countOf, fixAll, fixAllTitle } from "../service/cures/fix-all.ts";
import { fixSource } from "../service/cures/fix-source.ts";
import { findingsTouching } from "../service/cures/fixes.ts";
import { isClearable } from "../service/cures/clear-ground.ts";
import { isStretchable } from "../service/cures/stretch-search.ts";
import { textCures } from "../service/cures/text-cures.ts";
import type { View } from "../service/view.ts";
import type { Session } from "../session.ts";
import { tell } from "../tell.ts";
import { shownDiagnostic } from "../diagnostics/shown-diagnostic.ts";

/** What is run on save changes no motion. */
export const FIX_ALL_KIND = `${CodeActionKind.SourceFixAll}.movewright`;

/** Most codes of one place that are cured throughout: each takes a search of its own. */
const CODES_CAP = 2;

/** Cures of all findings of a code in a document; and, for who runs it on save, of those whose cure changes no motion. */
export function createFixAlls(connection: Connection, session: Session, editOf: EditOf): ActionSource<FindingCode> {
  const all = createKeptSearch(session, "background", fixAll);
  const source = createKeptSearch(session, "asked", (view, _name: "source") => fixSource(view));
  return {
    async actions({ view, document, span, wants, only }) {
      const offered: OfferedAction<FindingCode>[] = [];
      // An editor lists what is run on save apart: it asks for it by its kind.
      if (only && wants(FIX_ALL_KIND)) {
        const made = await source.whole(view, "source");
        const edit = made?.found && editOf(view.file, made.found.edits);
        const title = "Mend what changes no motion";
        if (edit) offered.push({ action: { title, kind: FIX_ALL_KIND, edit } });
      }
      if (!wants(CodeActionKind.QuickFix)) return offered;
      const touched = findingsTouching(view, span).filter(({ finding }) => isCurable(view, finding));
      const codes = [...new Set(touched.map(({ finding }) => finding.code))];
      const several = codes.filter((code) => 1 < countOf(view.analysis, code)).slice(0, CODES_CAP);
      const found = await Promise.all(several.map(async (code) => ({ code, made: await all.soon(view, code) })));
      for (const { code, made } of found) {
        const ofCode = touched.filter(({ finding }) => finding.code === code);
        const diagnostics = ofCode.map(({ finding }) => shownDiagnostic(session, view, document, finding));
        const action = (title: string): CodeAction => ({ title, kind: CodeActionKind.QuickFix, diagnostics });
        if (!made) {
          // Without a second question there is no time to find what is not known yet.
          const title = `Cure what can be cured of the ${countOf(view.analysis, code)} \`${code}\` findings in this document`;
          if (session.client.resolvesActionEdits) offered.push({ action: action(title), ref: code });
          continue;
        }
        const edit = made.found && editOf(view.file, made.found.edits);
        if (made.found && edit) offered.push({ action: { ...action(fixAllTitle(code, made.found)), edit } });
      }
      return offered;
    },
    async edit(view, code, tells) {
      const made = (await all.whole(view, code))?.found;
      if (!made && tells === "tells") {
        tell(connection, session, `No ${code} of this document can be cured by one edit that brings no error.`);
      }
      return made && editOf(view.file, made.edits);
    },
  };
}

/** What some edit may cure, be it one that is searched for in a move that is solved as it stands. */
function isCurable(view: View, finding: PlacedFinding): boolean {
  if (finding.allowed !== undefined) return false;
  if (textCures(view, finding).length > 0) return true;
  return view.solved?.stale === false && (isStretchable(finding) || isClearable(finding));
}
