import * as vscode from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import {
  REVIEW_DROPPED,
  REVIEW_REQUEST,
  type ReviewDroppedParams,
  type ReviewParams,
  type ReviewResult,
} from "../../protocol/review.ts";
import type { GitRepository } from "../git-repository.ts";
import { gitApi, repositoryOf } from "../repository-of.ts";
import type { Ask } from "../server-link.ts";
import { findBase, type FoundBase } from "./review-base.ts";

/** What is known of the changes in one folder of the workspace. */
export interface FolderReview {
  readonly folder: vscode.WorkspaceFolder;
  readonly found: FoundBase;
  /** Absent until the server answered, and where there is no base. */
  readonly result?: ReviewResult;
}

export interface FolderReviews extends vscode.Disposable {
  all(): readonly FolderReview[];
  /** The one that holds a document. */
  of(uri: vscode.Uri): FolderReview | undefined;
  /**
   * Asks the server what is changed; the base and what the disk has otherwise are looked for anew where `again` says so, and
   * for folders that were not looked at. One call is over before the next begins.
   */
  refresh(again: boolean): Promise<void>;
}

/** What the reviews of all folders need. */
export interface ReviewParts {
  readonly client: BaseLanguageClient;
  readonly ask: Ask;
  /** The name of a base that a person chose for a folder. */
  chosen(folder: vscode.Uri): string | undefined;
  /** Whether anybody wants to know of a folder. */
  isWanted(folder: vscode.Uri): boolean;
  /** Git tells of another state. */
  gitChanged(): void;
}

export function createFolderReviews({ client, ask, chosen, isWanted, gitChanged }: ReviewParts): FolderReviews {
  let reviews: readonly FolderReview[] = [];
  const watched = new Map<unknown, vscode.Disposable>();

  const watch = (one: unknown, listen: () => { dispose(): void }) => {
    if (!watched.has(one)) watched.set(one, listen());
  };

  const baseOf = async ({ uri }: vscode.WorkspaceFolder): Promise<FoundBase> => {
    const git = await gitApi();
    if (!("problem" in git)) {
      watch(git, () =>
        vscode.Disposable.from(git.onDidOpenRepository(gitChanged), git.onDidCloseRepository(gitChanged)),
      );
    }
    const repository = await repositoryOf(uri);
    if ("problem" in repository) return repository;
    watch(rootOf(repository), () => repository.state.onDidChange(gitChanged));
    try {
      return await findBase(repository, uri.toString(), chosen(uri));
    } catch (error) {
      return { problem: `The repository can't be read. ${error instanceof Error ? error.message : String(error)}` };
    }
  };

  const askServer = async (review: FolderReview): Promise<FolderReview> => {
    const { folder, found } = review;
    const of = folder.uri.toString();
    if ("problem" in found) {
      const params: ReviewDroppedParams = { of };
      await client.sendNotification(REVIEW_DROPPED, params);
      return review;
    }
    const { base, changed } = found;
    const params: ReviewParams = { base, changed, marks: chosen(folder.uri) !== undefined };
    return { ...review, result: await ask<ReviewResult>(REVIEW_REQUEST, params) };
  };

  return {
    all: () => reviews,
    of: (uri) => {
      const home = vscode.workspace.getWorkspaceFolder(uri)?.uri.toString();
      return reviews.find(({ folder }) => folder.uri.toString() === home);
    },
    async refresh(again) {
      const folders = (vscode.workspace.workspaceFolders ?? []).filter(({ uri }) => isWanted(uri));
      const located = await Promise.all(
        folders.map(async (folder): Promise<FolderReview> => {
          const known = reviews.find((each) => each.folder.uri.toString() === folder.uri.toString());
          return known && !again ? known : { folder, found: await baseOf(folder), result: known?.result };
        }),
      );
      // Kept even if the server does not answer: what Git says is still so.
      reviews = located;
      reviews = await Promise.all(located.map(askServer));
    },
    dispose: () => vscode.Disposable.from(...watched.values()).dispose(),
  };
}

const rootOf = ({ rootUri }: GitRepository): string => rootUri.fsPath;
