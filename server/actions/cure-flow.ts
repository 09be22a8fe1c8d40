import { findingsOf } from "../../core/checks/analysis.ts";
import { CodeActionKind, type CodeAction, type WorkspaceEdit } from "vscode-languageserver";
import type { ActionPlace, ActionSource, EditOf, OfferedAction } from "./action-source.ts";
import { createKeptSearch } from "./kept-search.ts";
import { isClearable } from "../service/cures/clear-ground.ts";
import { findClearings, type Clearing } from "../service/cures/clear-search.ts";
import { findEase } from "../service/cures/ease-search.ts";
import { findingsTouching, offerStretch, writeStretch, type StretchOffer } from "../service/cures/fixes.ts";
import { isStretchable, type Stretch } from "../service/cures/stretch-search.ts";
import { textCures } from "../service/cures/text-cures.ts";
import type { View } from "../service/view.ts";
import type { Session } from "../session.ts";
import { shownDiagnostic } from "../diagnostics/shown-diagnostic.ts";

/** Most findings of one place for which cures are searched: each search plans the move many times. */
const SEARCHES_CAP = 3;
/** Values that are offered for a finding that time or pace cures too. */
const VALUES_BESIDE = 2;

/** A stretch found for a finding. */
export interface StretchRef {
  readonly finding: number;
  readonly stretch: Stretch;
}

/** What was found for one finding by the time that an answer can wait. */
interface Found {
  readonly stretch?: StretchOffer;
  readonly ease?: Clearing;
  readonly values: readonly Clearing[];
}

/**
 * Cures of single findings: those that a finding brings, more time, another ease, another value. The one that changes the least
 * while the picture stays is the preferred one.
 */
export function createCures(session: Session, editOf: EditOf): ActionSource<StretchRef> {
  const finding = (view: View, id: number) => findingsOf(view.analysis)[id];
  const stretches = createKeptSearch(session, "asked", (view, id: number) => offerStretch(view, finding(view, id)));
  // Many plans of the move: whatever else is asked for goes before them.
  const eases = createKeptSearch(session, "background", (view, id: number) => findEase(view, finding(view, id)));
  const values = createKeptSearch(session, "background", (view, id: number) => findClearings(view, finding(view, id)));

  const searched = async (view: View, id: number): Promise<Found> => {
    const timed = isStretchable(finding(view, id));
    const [stretch, ease, found] = await Promise.all([
      timed ? stretches.soon(view, id) : undefined,
      timed ? eases.soon(view, id) : undefined,
      isClearable(finding(view, id)) ? values.soon(view, id) : undefined,
    ]);
    const most = (stretch?.found ?? ease?.found) ? VALUES_BESIDE : Infinity;
    return { stretch: stretch?.found, ease: ease?.found, values: (found?.found ?? []).slice(0, most) };
  };

  const actionsFor = (view: View, id: number, base: Base, found: Found): OfferedAction<StretchRef>[] => {
    const brought = finding(view, id).cures;
    const elsewhere = brought.filter(({ file }) => file !== view.file);
    const cures = [...textCures(view, finding(view, id)), ...elsewhere];
    const own = cures.flatMap(({ title, file, edits }) => {
      const edit = editOf(file, edits);
      return edit ? [{ action: { ...base, title, edit, isPreferred: cures.length === 1 } }] : [];
    });
    const { stretch, ease } = found;
    const made: OfferedAction<StretchRef>[] = [...own];
    // Of a finding that brings one cure, that one is meant; else what keeps the picture, time before all.
    let isOpen = cures.length !== 1;
    const prefer = (keeps: boolean): { isPreferred?: boolean } => {
      const isPreferred = isOpen && keeps;
      if (isPreferred) isOpen = false;
      return isPreferred ? { isPreferred } : {};
    };
    if (stretch) {
      const ref = { finding: id, stretch: stretch.stretch };
      made.push({ action: { ...base, title: stretch.title, ...prefer(true) }, ref });
    }
    for (const one of [...(ease ? [ease] : []), ...found.values]) {
      const edit = editOf(view.file, one.edits);
      if (edit) made.push({ action: { ...base, title: one.title, edit, ...prefer(one.keepsPicture) } });
    }
    return made;
  };

  return {
    async actions({ view, document, span, wants }: ActionPlace) {
      if (!wants(CodeActionKind.QuickFix)) return [];
      const touched = findingsTouching(view, span);
      const isSolved = view.solved !== undefined && !view.solved.stale;
      const searchable = isSolved
        ? touched.filter(({ finding: one }) => isStretchable(one) || isClearable(one)).slice(0, SEARCHES_CAP)
        : [];
      const found = new Map(
        await Promise.all(searchable.map(async ({ id }) => [id, await searched(view, id)] as const)),
      );
      const offered = touched.flatMap(({ id, finding: one }) => {
        const diagnostics = [shownDiagnostic(session, view, document, one)];
        return actionsFor(view, id, { kind: CodeActionKind.QuickFix, diagnostics }, found.get(id) ?? { values: [] });
      });
      return eachOnce(offered);
    },
    async edit(view, { finding: id, stretch }): Promise<WorkspaceEdit | undefined> {
      const outcome = await session.run(writeStretch(view, finding(view, id), stretch), "asked", () => true);
      if (outcome.state === "failed") throw outcome.error;
      return outcome.state === "done" && outcome.value ? editOf(view.file, outcome.value) : undefined;
    },
  };
}

/**
 * Actions of one title as one: where a limit is passed twice on one way, the same change cures both, and a list that says it
 * twice asks a person for a choice that there is none of.
 */
function eachOnce(offered: readonly OfferedAction<StretchRef>[]): OfferedAction<StretchRef>[] {
  const kept = new Map<string, OfferedAction<StretchRef>>();
  for (const one of offered) {
    const { title, diagnostics = [], isPreferred } = one.action;
    const first = kept.get(title);
    if (!first) kept.set(title, one);
    else {
      const action = { ...first.action, diagnostics: [...(first.action.diagnostics ?? []), ...diagnostics] };
      if (isPreferred) action.isPreferred = true;
      kept.set(title, { ...first, action });
    }
  }
  return [...kept.values()];
}

type Base = Pick<CodeAction, "kind" | "diagnostics">;
