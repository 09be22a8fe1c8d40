import * as vscode from "vscode";
import type { GitApi, GitExtension, GitRepository } from "./git-repository.ts";

/** How long the editor has to find the repositories of its folders [ms]. */
const PATIENCE_MS = 10_000;

/** Why there is no repository to read from, as a sentence. */
export type NoRepository = { readonly problem: string };

const WITHOUT_GIT =
  "This editor has no Git of its own (an editor that is a web page has none, as a rule), so there are no revisions to compare with. Compare with another move.";
const GIT_OFF =
  "Git is turned off or not installed, so there are no revisions to compare with. Turn on `git.enabled`, or compare with another move.";

/** The repository that holds a file, from the editor's own Git extension; nothing of ours starts a program. */
export async function repositoryOf(uri: vscode.Uri): Promise<GitRepository | NoRepository> {
  const git = await gitApi();
  if ("problem" in git) return git;
  const found = git.getRepository(uri);
  if (found) return found;
  const name = uri.path.slice(uri.path.lastIndexOf("/") + 1);
  return {
    problem: `${name} is in no Git repository that the editor has open, so it has no revisions to compare with.`,
  };
}

/** Asked for at each use: it can be turned on and off while the editor runs. */
export async function gitApi(): Promise<GitApi<vscode.Uri> | NoRepository> {
  const extension = vscode.extensions.getExtension<GitExtension<vscode.Uri>>("vscode.git");
  if (!extension) return { problem: WITHOUT_GIT };
  let api: GitApi<vscode.Uri>;
  try {
    const git = await extension.activate();
    if (!git.enabled) return { problem: GIT_OFF };
    api = git.getAPI(1);
  } catch {
    // It throws where there is no Git on the machine.
    return { problem: GIT_OFF };
  }
  if (api.state !== "initialized") await initialized(api);
  return api;
}

function initialized(api: GitApi<vscode.Uri>): Promise<void> {
  return new Promise((resolve) => {
    const over = (): void => {
      listening.dispose();
      clearTimeout(timer);
      resolve();
    };
    const listening = api.onDidChangeState((state) => void (state === "initialized" && over()));
    const timer = setTimeout(over, PATIENCE_MS);
  });
}
