import * as vscode from "vscode";
import {
  TEMPLATE_KINDS,
  TEMPLATE_REQUEST,
  type TemplateKind,
  type TemplateParams,
  type TemplateResult,
} from "../protocol/templates.ts";
import { documentFileName, exampleName, nameProblem } from "./document-name.ts";
import type { Ask } from "./server-link.ts";
import { chosenFolder, exists } from "./where.ts";

export const NEW_DOCUMENT_COMMAND = "movewright.newDocument";

/** Answers that are given beforehand, by a key binding or a test: what is there is not asked. */
export interface NewDocumentArguments {
  readonly kind?: TemplateKind;
  /** Uri of the folder that the document goes into. */
  readonly folder?: string;
  readonly name?: string;
  /** Also begin the documents that it needs and that the workspace lacks. */
  readonly together?: boolean;
}

/** In the order of the list that is chosen from: what is begun most often first. */
const KINDS: readonly (readonly [kind: TemplateKind, detail: string])[] = [
  ["move", "Keys in time for a rig, a camera and a set"],
  ["rig", "Axes from the base to the camera, with their limits"],
  ["camera", "A body and its lenses"],
  ["set", "What is in front of the camera: targets and obstacles"],
  ["shoot", "Moves in the order of a day"],
];

/** Begins a document, after asking what is not given; gives the uri of what was made. */
export async function newDocument(ask: Ask, given: NewDocumentArguments): Promise<vscode.Uri | undefined> {
  const kind = given.kind ?? (await askKind());
  const folder = kind && (given.folder === undefined ? await chosenFolder() : vscode.Uri.parse(given.folder));
  const name = folder && (given.name ?? (await askName(kind, folder)));
  if (!kind || !folder || name === undefined) return undefined;
  const uri = vscode.Uri.joinPath(folder, documentFileName(name, kind));
  const problem = nameProblem(name, kind) ?? (await taken(uri));
  if (problem !== undefined) return refuse(problem);
  const made = await template(ask, { kind, uri: uri.toString(), together: given.together });
  return made && write(uri, made);
}

/** What the explorer's menu and key bindings hand over: a place, or answers. */
export async function readArguments(first: unknown): Promise<NewDocumentArguments> {
  if (!(first instanceof vscode.Uri)) return wellFormed(first);
  const { type } = await vscode.workspace.fs.stat(first);
  const isFolder = (type & vscode.FileType.Directory) !== 0;
  return { folder: (isFolder ? first : vscode.Uri.joinPath(first, "..")).toString() };
}

/** Key bindings are written by people, and menus of the editor hand over what they like: the rest is asked for. */
function wellFormed(given: unknown): NewDocumentArguments {
  const { kind, folder, name, together } = (typeof given === "object" && given !== null ? given : {}) as Readonly<
    Record<keyof NewDocumentArguments, unknown>
  >;
  const known = TEMPLATE_KINDS.find((each) => each === kind);
  return {
    ...(known ? { kind: known } : {}),
    ...(typeof folder === "string" ? { folder } : {}),
    ...(typeof name === "string" ? { name } : {}),
    together: together === true,
  };
}

async function askKind(): Promise<TemplateKind | undefined> {
  const items = KINDS.map(([begins, detail]) => ({ label: capital(begins), detail, begins }));
  const title = "New Movewright Document";
  return (await vscode.window.showQuickPick(items, { title, placeHolder: "What is it to be?" }))?.begins;
}

function askName(kind: TemplateKind, folder: vscode.Uri): Thenable<string | undefined> {
  return vscode.window.showInputBox({
    title: `New ${capital(kind)}`,
    prompt: `Its name. The file becomes NAME.${kind}.yaml; end the name in .json to have it in JSON.`,
    placeHolder: exampleName(kind),
    validateInput: async (written) =>
      nameProblem(written, kind) ?? (await taken(vscode.Uri.joinPath(folder, documentFileName(written, kind)))),
  });
}

async function taken(uri: vscode.Uri): Promise<string | undefined> {
  return (await exists(uri)) ? `${shown(uri)} is there already: choose another name.` : undefined;
}

/** The texts, once it is clear that what they need is there or is to be made with them. */
async function template(ask: Ask, params: TemplateParams): Promise<Written | undefined> {
  const progress = { location: vscode.ProgressLocation.Window, title: `Beginning a ${params.kind}` };
  const result = await vscode.window.withProgress(progress, () => ask<TemplateResult>(TEMPLATE_REQUEST, params));
  if (result.state === "written") return result;
  if (params.together === true) return refuse(result.reason);
  const make = result.kinds.length === 1 ? `Make the ${result.kinds[0]} Too` : "Make Them Too";
  const detail = "Begin them beside it, with invented figures to be replaced?";
  const choice = await vscode.window.showInformationMessage(result.reason, { modal: true, detail }, make);
  return choice === make ? template(ask, { ...params, together: true }) : undefined;
}

type Written = Extract<TemplateResult, { state: "written" }>;

/** One edit makes all files, so that one undo takes them back. */
async function write(uri: vscode.Uri, { files, errors }: Written): Promise<vscode.Uri | undefined> {
  const edit = new vscode.WorkspaceEdit();
  for (const file of files) {
    const target = vscode.Uri.parse(file.uri);
    const problem = await taken(target);
    if (problem !== undefined) return refuse(problem);
    edit.createFile(target, { overwrite: false, contents: new TextEncoder().encode(file.text) });
  }
  if (!(await vscode.workspace.applyEdit(edit))) return refuse(`${shown(uri)} could not be made.`);
  const { line, character } = files[0].cursor;
  await vscode.window.showTextDocument(uri, { selection: new vscode.Range(line, character, line, character) });
  if (errors > 0) {
    const few = errors === 1 ? "1 error" : `${errors} errors`;
    void vscode.window.showWarningMessage(`${shown(uri)} has ${few} to mend, because of the documents that it uses.`);
  }
  return uri;
}

function refuse(problem: string): undefined {
  void vscode.window.showErrorMessage(problem);
}

const capital = (word: string): string => word[0].toUpperCase() + word.slice(1);
const shown = (uri: vscode.Uri): string => vscode.workspace.asRelativePath(uri);
