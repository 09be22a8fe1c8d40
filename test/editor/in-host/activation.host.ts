import assert from "node:assert/strict";
import * as vscode from "vscode";
import { activated } from "./extension.ts";

describe("the extension", () => {
  it("activates when a move is opened, and its server answers", async () => {
    const api = await activated();
    await api.ready;
    const commands = await vscode.commands.getCommands(true);
    assert.ok(commands.includes("movewright.openStage"));
  });
});
