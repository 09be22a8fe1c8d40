import * as vscode from "vscode";
import { exists, pickFolder } from "./where.ts";

export const OPEN_SAMPLE_COMMAND = "movewright.openSample";
const FOLDER = "movewright-sample";
/** By name: an editor that is a web page gets the extension's files one by one, and cannot list them. */
export const SAMPLE_FILES = [
  "kit/a-cam.camera.yaml",
  "kit/slider.rig.yaml",
  "moves/past-the-teapot.move.yaml",
  "pottery.set.yaml",
] as const;
const MOVE = SAMPLE_FILES[2];

/** Copies the sample into a folder of its own, within the workspace or a folder that is chosen, and opens its move. */
export async function openSample(extension: vscode.Uri, parent?: vscode.Uri): Promise<vscode.Uri | undefined> {
  const [only, ...others] = vscode.workspace.workspaceFolders ?? [];
  const into = parent ?? (only && others.length === 0 ? only.uri : await pickFolder("Put the Sample Here"));
  if (!into) return undefined;
  const target = vscode.Uri.joinPath(into, FOLDER);
  const move = vscode.Uri.joinPath(target, ...MOVE.split("/"));
  // What a person changed in an earlier copy is theirs.
  if (!(await exists(target)) && !(await copySample(vscode.Uri.joinPath(extension, "media", "sample"), target))) {
    void vscode.window.showErrorMessage(`The sample could not be put into ${into.path}.`);
    return undefined;
  }
  if (!(await exists(move))) {
    void vscode.window.showErrorMessage(`${target.path} is there, but it is not the sample: choose another folder.`);
    return undefined;
  }
  await vscode.window.showTextDocument(move);
  // Its documents refer to each other: they are read only within a folder that is open. A first folder may start the
  // extension anew, so this is last.
  if (!vscode.workspace.getWorkspaceFolder(move)) {
    vscode.workspace.updateWorkspaceFolders(vscode.workspace.workspaceFolders?.length ?? 0, 0, { uri: target });
  }
  return move;
}

/** In one edit, which one undo takes back. The extension's own files and the workspace may be of different file systems. */
async function copySample(from: vscode.Uri, to: vscode.Uri): Promise<boolean> {
  const edit = new vscode.WorkspaceEdit();
  try {
    for (const file of SAMPLE_FILES) {
      const contents = await vscode.workspace.fs.readFile(vscode.Uri.joinPath(from, ...file.split("/")));
      edit.createFile(vscode.Uri.joinPath(to, ...file.split("/")), { overwrite: false, contents });
    }
    return await vscode.workspace.applyEdit(edit);
  } catch (error) {
    console.error(`Movewright's sample: ${String(error)}`);
    return false;
  }
}
