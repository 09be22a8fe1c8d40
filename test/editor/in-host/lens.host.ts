import assert from "node:assert/strict";
import * as vscode from "vscode";
import { activated, demoUri, until } from "./extension.ts";

const MOVE = "moves/over-the-lid.move.yaml";
const ENOUGH = 100;

describe("code lenses in the editor", () => {
  before(async () => (await activated()).ready);
  after(() => vscode.commands.executeCommand("workbench.action.closeAllEditors"));

  /** The lens of a title, as soon as the move is solved; a click on it is its command. */
  const lens = (uri: vscode.Uri, title: RegExp, nth = 0): Promise<vscode.Command> =>
    until(`a lens ${String(title)}`, async () => {
      const lenses = await vscode.commands.executeCommand<vscode.CodeLens[]>(
        "vscode.executeCodeLensProvider",
        uri,
        ENOUGH,
      );
      return lenses.flatMap(({ command }) => (command && title.test(command.title) ? [command] : []))[nth];
    });
  const click = ({ command, arguments: args = [] }: vscode.Command): Thenable<unknown> =>
    vscode.commands.executeCommand(command, ...(args as unknown[]));

  it("play from a key on the stage, which they open", async () => {
    const { document } = await vscode.window.showTextDocument(demoUri(MOVE));
    const play = await lens(document.uri, /^Play from here$/, 1);
    const [, from] = play.arguments as [string, number];
    assert.ok(from > 0);
    await click(play);
    const api = await activated();
    const state = await until("the stage plays", async () => {
      const now = await api.stageReport().catch(() => undefined);
      return now?.playing && now.time > from ? now : undefined;
    });
    assert.equal(state.uri, document.uri.toString());
    await vscode.commands.executeCommand("workbench.action.closeAllEditors");
  });

  it("lead from a rig to the move that needs an axis most", async () => {
    const { document } = await vscode.window.showTextDocument(demoUri(MOVE));
    await lens(document.uri, /^\S+ s: speed \d+ %/);
    const rig = /rig: (\S+)/.exec(document.getText())?.[1];
    assert.ok(rig);
    const kit = vscode.Uri.joinPath(document.uri, "..", rig);
    await vscode.window.showTextDocument(kit);
    assert.ok(await lens(kit, /^Used by \d+ moves?/));
    await click(await lens(kit, /^Most used by /));
    await until("the move in front", async () =>
      vscode.window.activeTextEditor?.document.uri.path.endsWith(".move.yaml") ? true : undefined,
    );
  });
});
