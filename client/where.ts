import * as vscode from "vscode";

/** The folder in front: that of the document that is edited, else the only one of the workspace, else one that is chosen. */
export async function chosenFolder(): Promise<vscode.Uri | undefined> {
  const front = vscode.window.activeTextEditor?.document.uri;
  if (front && vscode.workspace.getWorkspaceFolder(front)) return vscode.Uri.joinPath(front, "..");
  const folders = vscode.workspace.workspaceFolders ?? [];
  if (folders.length === 1) return folders[0].uri;
  if (folders.length > 1) return (await vscode.window.showWorkspaceFolderPick())?.uri;
  return pickFolder("Put It Here");
}

/** A folder of any file system that the editor has. */
export async function pickFolder(openLabel: string): Promise<vscode.Uri | undefined> {
  const options = { canSelectFiles: false, canSelectFolders: true, canSelectMany: false, openLabel };
  return (await vscode.window.showOpenDialog(options))?.[0];
}

export async function exists(uri: vscode.Uri): Promise<boolean> {
  try {
    await vscode.workspace.fs.stat(uri);
    return true;
  } catch {
    // Whatever keeps the editor from looking keeps it from making the file too, and says so then.
    return false;
  }
}
