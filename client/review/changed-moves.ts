import * as vscode from "vscode";
import { SHOW_CHANGE_COMMAND, type ReviewedMove } from "../../protocol/review.ts";
import type { FolderReview } from "./folder-reviews.ts";
import { moreWords, rowOf } from "./review-rows.ts";

/** A folder, a move, a line about a move, or what is not shown. */
export type ReviewNode =
  | { readonly kind: "folder"; readonly review: FolderReview }
  | { readonly kind: "move"; readonly review: FolderReview; readonly move: ReviewedMove }
  | { readonly kind: "line"; readonly text: string };

/** The rows of the view, from what is known. Folders have rows of their own where there are several. */
export function createChangedMoves(all: () => readonly FolderReview[]): vscode.TreeDataProvider<ReviewNode> & {
  changed(): void;
} {
  const changes = new vscode.EventEmitter<void>();
  return {
    onDidChangeTreeData: changes.event,
    changed: () => changes.fire(),
    getTreeItem: treeItem,
    getChildren(node) {
      if (!node) {
        const reviews = all();
        if (reviews.length === 1) return movesOf(reviews[0]);
        return reviews.map((review) => ({ kind: "folder", review }));
      }
      if (node.kind === "folder") return movesOf(node.review);
      return node.kind === "move" ? node.move.lines.map(lineNode) : [];
    },
  };
}

const lineNode = (text: string): ReviewNode => ({ kind: "line", text });

function movesOf(review: FolderReview): ReviewNode[] {
  const { found, result } = review;
  if ("problem" in found) return [lineNode(found.problem)];
  if (!result) return [];
  if (result.problem !== undefined) return [lineNode(result.problem)];
  const more = moreWords(result);
  return [
    ...result.moves.map((move): ReviewNode => ({ kind: "move", review, move })),
    ...(more === undefined ? [] : [lineNode(more)]),
  ];
}

function treeItem(node: ReviewNode): vscode.TreeItem {
  if (node.kind === "folder") return folderItem(node.review);
  if (node.kind === "line") {
    const item = new vscode.TreeItem(node.text);
    item.tooltip = node.text;
    return item;
  }
  const { move, review } = node;
  const { label, description, tooltip, spoken, icon } = rowOf(move);
  const path = vscode.workspace.asRelativePath(vscode.Uri.parse(move.uri));
  const item = new vscode.TreeItem(
    isAlone(review, move) ? label : `${label} (${path})`,
    vscode.TreeItemCollapsibleState.Collapsed,
  );
  item.id = `${review.folder.uri.toString()} ${move.uri}`;
  item.description = description;
  item.tooltip = `${tooltip}\n\n${path}`;
  item.accessibilityInformation = { label: spoken };
  item.iconPath = new vscode.ThemeIcon(
    icon.name,
    icon.color === undefined ? undefined : new vscode.ThemeColor(icon.color),
  );
  item.contextValue = "move";
  item.command = { title: "Show the Change", command: SHOW_CHANGE_COMMAND, arguments: [node] };
  return item;
}

/** Whether no other move of the list has this title. */
const isAlone = ({ result }: FolderReview, { title }: ReviewedMove): boolean =>
  (result?.moves ?? []).filter((each) => each.title === title).length < 2;

function folderItem({ folder, found }: FolderReview): vscode.TreeItem {
  const item = new vscode.TreeItem(folder.name, vscode.TreeItemCollapsibleState.Expanded);
  item.id = folder.uri.toString();
  item.iconPath = vscode.ThemeIcon.Folder;
  if ("about" in found) item.description = `against ${found.about}`;
  return item;
}
