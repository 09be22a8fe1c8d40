import * as vscode from "vscode";
import type { SaveKind } from "../protocol/stage-save.ts";
import type { SavePlaces } from "./save-file.ts";
import { writeAside } from "./write-aside.ts";

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
    async put(place, bytes) {
      const aside = place.with({ path: `${place.path}.${crypto.randomUUID()}.part` });
      await writeAside(vscode.workspace.fs, { place, aside }, bytes);
      return vscode.workspace.asRelativePath(place);
    },
  };
}
