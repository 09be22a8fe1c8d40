import { resolveReference } from "../../../core/base/path.ts";
import { resolveOptics } from "../../../core/model/resolve-optics.ts";
import { nodeAt } from "../../../core/syntax/locate.ts";
import { entryOf, valueOf } from "../../../core/syntax/tree.ts";
import { closeFocusWords, focalWords, viewWords } from "../lens-words.ts";
import { namesOf } from "./name-proposals.ts";
import type { Asked, Proposal } from "./proposal.ts";

/** Lenses of the camera that is named beside the cursor, with focal length and field of view. */
export function lensProposals({ view, cursor, around }: Asked): readonly Proposal[] {
  const names = namesOf("lens", around);
  const use = valueOf(entryOf(nodeAt(view.tree, cursor.path.slice(0, -1)), "use")?.value);
  const named = use?.kind === "scalar" && typeof use.value === "string" ? use.value.trim() : "";
  // While the text is broken, the camera of the last good one will do.
  const file = named === "" ? names.length > 0 && cameraOf(view) : resolveReference(view.file, named);
  if (!file) return names;
  const { optics } = resolveOptics(file, view.sources);
  return names.map((proposal): Proposal => {
    const lens = optics.get(proposal.label);
    if (!lens) return proposal;
    return { ...proposal, detail: `${focalWords(lens)}, ${viewWords(lens)}, ${closeFocusWords(lens)}` };
  });
}

function cameraOf({ names, file }: Asked["view"]): string | undefined {
  return names(file)?.references.find(({ to }) => to === "camera")?.file;
}
