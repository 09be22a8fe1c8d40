import * as vscode from "vscode";
import type { SaveKind } from "../protocol/stage-save.ts";
import type { SavePlaces } from "./save-file.ts";

const KINDS: Readonly<Record<SaveKind, string>> = { png: "PNG picture", webm: "WebM film" };

/** Asks where a file is to go, beside the move at first, and puts it there. @param move Address of the move that is shown. */
export function savePlaces(move: () => string | undefined): SavePlaces<vscode.Uri> {
  return {
    async choose({ name, kind }) {
      const at = move();
      const beside = at === undefined ? undefined : vscode.Uri.joinPath(vscode.Uri.parse(at), "..", name);
      // A text without a file has no folder to save beside.
      const defaultUri = beside?.scheme === "untitled" ? undefined : beside;
      return vscode.window.showSaveDialog({ defaultUri, filters: { [KINDS[kind]]: [kind] }, title: `Save ${name}` });
    },
    /** Written aside first: a file that is there stays whole until the new one is. */
    async put(place, bytes) {
      const { fs } = vscode.workspace;
      const aside = place.with({ path: `${place.path}.part` });
      try {
        await fs.writeFile(aside, bytes);
        await fs.rename(aside, place, { overwrite: true });
      } catch (error) {
        await fs.delete(aside).then(undefined, () => undefined);
        throw error;
      }
      return vscode.workspace.asRelativePath(place);
    },
  };
}
