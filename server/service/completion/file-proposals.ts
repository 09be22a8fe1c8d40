import { relativeReference } from "../../../core/base/path.ts";
import { assetKind } from "../../../core/model/asset-kind.ts";
import { documentKind } from "../../../core/model/document-kind.ts";
import type { ReferenceKind } from "../../../core/schema/facts.ts";
import type { Asked, Proposal } from "./proposal.ts";

/** Files of a kind, as this document names them. */
export function fileProposals({ view, around }: Asked, to: ReferenceKind): readonly Proposal[] {
  return around.files
    .filter((file) => file !== view.file && (documentKind(file)?.kind ?? assetKind(file)) === to)
    .map((file) => ({ label: relativeReference(view.file, file), kind: "file", detail: to }));
}

/** Keys of the moves of the workspace whose text is known, with their files. */
export function moveKeyProposals({ view, around }: Asked): readonly Proposal[] {
  return around.files.flatMap((file) => {
    const names = documentKind(file)?.kind === "move" ? (view.names(file)?.names ?? []) : [];
    const keys = names.filter(({ kind, role }) => kind === "key" && role === "definition");
    return keys.map(({ name }): Proposal => ({
      label: `${relativeReference(view.file, file)}#${name}`,
      kind: "name",
      detail: "key",
    }));
  });
}
