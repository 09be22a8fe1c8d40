import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import type { Connection } from "vscode-languageserver";
import { tell } from "./tell.ts";

describe("messages to people", () => {
  const sent: unknown[] = [];
  const connection = (refuses: boolean) =>
    ({
      sendNotification: async (_: unknown, params: unknown) => {
        if (refuses) throw new Error("closed");
        sent.push(params);
      },
    }) as unknown as Connection;

  it("are notifications, and one that can't be sent is noted", async () => {
    const lines: string[] = [];
    tell(connection(false), { log: (line) => lines.push(line) }, "It was not done.");
    tell(connection(true), { log: (line) => lines.push(line) }, "It was not done.");
    await new Promise((resolve) => setImmediate(resolve));
    assert.deepEqual(sent, [{ type: 3, message: "It was not done." }]);
    assert.deepEqual(lines, ["Telling failed: Error: closed"]);
  });

  it("are nowhere the library's requests, whose refusal would end the server", () => {
    const files = readdirSync(import.meta.dirname).filter((file) => file.endsWith(".ts") && !file.endsWith(".test.ts"));
    const asking = files.filter((file) =>
      /window\s*\.\s*show(?:Information|Warning|Error)Message\s*\(/.test(
        readFileSync(path.join(import.meta.dirname, file), "utf8"),
      ),
    );
    assert.deepEqual(asking, []);
  });
});
