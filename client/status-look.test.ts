import assert from "node:assert/strict";
import type { MoveStatus } from "../protocol/status.ts";
import type { ServerState } from "./server-health.ts";
import { statusLook, type StatusLook } from "./status-look.ts";

const place = {
  uri: "file:///a.move.yaml",
  range: { start: { line: 1, character: 2 }, end: { line: 1, character: 5 } },
};

function status(more: Partial<MoveStatus>): MoveStatus {
  const base = { state: "solved", label: "pan speed 96 %", over: false, errors: 0, warnings: 0 } as const;
  return { ...base, checksStopped: false, lines: ["Solved."], place, ...more };
}

/** What is seen, and whether the editor's colour for attention is behind it. */
const ROWS: readonly (readonly [
  what: string,
  server: ServerState,
  status: MoveStatus | undefined,
  text: string,
  alert: StatusLook["alert"],
])[] = [
  ["a solved move", "running", status({}), "$(pulse) pan speed 96 %", undefined],
  [
    "one over a limit that is no error",
    "running",
    status({ over: true, label: "pan speed 131 %, over the limit" }),
    "$(error) pan speed 131 %, over the limit",
    "warning",
  ],
  [
    "one with errors",
    "running",
    status({ errors: 2, label: "pan speed 96 %, 2 errors" }),
    "$(error) pan speed 96 %, 2 errors",
    "error",
  ],
  [
    "one that is being solved",
    "running",
    status({ state: "solving" }),
    "$(sync~spin) pan speed 96 %, solving",
    undefined,
  ],
  [
    "one with the last good figures",
    "running",
    status({ state: "last-good", label: "pan speed 96 % (last good), 1 error", errors: 1 }),
    "$(history) pan speed 96 % (last good), 1 error",
    "error",
  ],
  [
    "one that was never solved",
    "running",
    status({ state: "unsolved", label: "not solved, 1 error", errors: 1 }),
    "$(error) not solved, 1 error",
    "error",
  ],
  ["one that nobody has asked about yet", "running", undefined, "$(sync~spin) Solving the move", undefined],
  ["a server that starts", "starting", status({}), "$(sync~spin) Movewright starting", undefined],
  ["a server that is gone", "stopped", status({}), "$(circle-slash) Movewright server not running", "error"],
  [
    "an axis called like an icon",
    "running",
    status({ label: "$(x) speed 96 %" }),
    "$(pulse) $ (x) speed 96 %",
    undefined,
  ],
];

describe("the look of the status bar item", () => {
  for (const [what, server, given, text, alert] of ROWS) {
    it(`tells ${what} in words`, () => {
      const look = statusLook(server, given);
      assert.equal(look.text, text);
      assert.equal(look.alert, alert);
      // A screen reader hears the same words, without icons and signs.
      const words = text
        .replace(/^\$\([\w~-]+\) /, "")
        .replaceAll("%", "percent")
        .replace("$ (", "$(");
      assert.ok(look.spoken.startsWith(`Movewright: ${words}.`), look.spoken);
      assert.ok(look.tooltip.length > 0);
    });
  }

  it("says that a click leads somewhere only where it does", () => {
    assert.match(statusLook("running", status({})).tooltip, /Click to go/);
    assert.doesNotMatch(statusLook("running", status({ place: undefined })).tooltip, /Click/);
  });
});
