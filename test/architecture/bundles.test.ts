import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import path from "node:path";
import { buildAll } from "../../scripts/build.mjs";
import { bundles } from "../../scripts/bundles.mjs";
import { root } from "./project-files.ts";

/** What the bundles that run in an editor must not hold: text run as code, and connections. */
const FORBIDDEN: readonly { readonly what: string; readonly pattern: RegExp }[] = [
  { what: "eval", pattern: /(?<![\w.$])eval\s*\(/ },
  { what: "Function", pattern: /\bnew\s+Function\b|[=(,:]\s*Function\s*[,;)]/ },
  { what: "fetch", pattern: /(?<![\w.$])(?:(?:self|window|globalThis)\.)?fetch\s*\(/ },
  { what: "XMLHttpRequest", pattern: /\bnew\s+XMLHttpRequest\b/ },
  { what: "WebSocket", pattern: /\bnew\s+WebSocket\b/ },
  { what: "node:http", pattern: /require\("(?:node:)?(?:https?|http2|tls|dgram)"\)/ },
];

/** What a library brings along though the product never calls it, with the reason why it can't do harm. */
const KNOWN: Readonly<Record<string, Readonly<Record<string, string>>>> = {};

describe("bundles", () => {
  before(() => buildAll({ ifStale: true }));

  for (const { out } of bundles.filter((bundle) => !bundle.out.startsWith("dist/cli/"))) {
    it(`${out} runs no text as code and opens no connection`, () => {
      const text = readFileSync(path.join(root, out), "utf8");
      const found = FORBIDDEN.filter(({ what, pattern }) => pattern.test(text) && KNOWN[out]?.[what] === undefined);
      assert.deepEqual(
        found.map(({ what, pattern }) => `${what}: ${excerpt(text, pattern)}`),
        [],
      );
    });
  }

  it("that run in a browser reach for no module of Node", () => {
    for (const { out } of bundles.filter(({ options }) => options.platform === "browser")) {
      const text = readFileSync(path.join(root, out), "utf8");
      assert.doesNotMatch(text, /require\("(?:node:)?(?:fs|path|child_process|os|net|worker_threads)"\)/, out);
    }
  });
});

function excerpt(text: string, pattern: RegExp): string {
  const at = text.search(pattern);
  return text.slice(Math.max(at - 60, 0), at + 80).replace(/\s+/g, " ");
}
