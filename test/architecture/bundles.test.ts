import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import path from "node:path";
import { buildAll } from "../../scripts/build.mjs";
import { bundles } from "../../scripts/bundles.mjs";
import { root } from "./project-files.ts";

/** What no bundle may hold: text run as code, and connections to other machines. */
const FORBIDDEN: readonly { readonly what: string; readonly pattern: RegExp }[] = [
  { what: "eval", pattern: /(?<![\w.$])eval\s*\(/ },
  { what: "Function", pattern: /\bnew\s+Function\b|[=(,:]\s*Function\s*[,;)]/ },
  { what: "fetch", pattern: /(?<![\w.$])(?:(?:self|window|globalThis)\.)?fetch\s*\(/ },
  { what: "XMLHttpRequest", pattern: /\bnew\s+XMLHttpRequest\b/ },
  { what: "WebSocket", pattern: /\bnew\s+WebSocket\b/ },
  { what: "EventSource", pattern: /\bnew\s+EventSource\b/ },
  { what: "sendBeacon", pattern: /\.sendBeacon\s*\(/ },
  { what: "importScripts", pattern: /\bimportScripts\s*\(/ },
  { what: "import of an address", pattern: /(?<![\w.$])import\s*\(\s*["'`](?:https?|data|blob):/ },
  { what: "node:http", pattern: /require\("(?:node:)?(?:https?|http2|tls|dgram)"\)/ },
];

const STARTS_SERVER = "the client library starts our own server, as a process of this machine";
const TALKS_TO_SERVER = "the protocol's library can carry its messages over a pipe or a socket of this machine";
const KNOWS_PATHS = "libraries and we ourselves put paths together";

/** Every module of Node that a bundle reaches for, and what for. Names are without `node:`. */
const MODULES: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  "dist/client/extension.cjs": {
    vscode: "the editor",
    child_process: STARTS_SERVER,
    net: TALKS_TO_SERVER,
    crypto: "names for pipes to the server that nobody can guess",
    fs: "the client library looks whether the server's file is there",
    os: "the folder for pipes",
    path: KNOWS_PATHS,
    util: "the protocol's library reads bytes as text",
  },
  "dist/client/extension-browser.js": { vscode: "the editor" },
  "dist/server/main-browser.js": {},
  "dist/webview/stage.js": {},
  "dist/cli/main.cjs": {
    "../server/main-browser.js":
      "the engine, which is shipped once: the worker of a browser and Node load the same file",
    fs: "reads documents, and writes where a person gave the command to",
    path: KNOWS_PATHS,
    os: "the folder for pipes",
    url: "the server's library reads addresses of files",
    util: "libraries read bytes as text",
    process: "arguments, exit codes, and the end of the client's process",
    events: "the library of commands",
    crypto: "names for pipes and for files aside that nobody can guess",
    module: "finds the packages that draw PNG, where they are installed beside the program",
    net: TALKS_TO_SERVER,
    worker_threads: "checks many documents with all cores, in threads of this same file",
    "timers/promises": "lets progress and an abort in between two documents",
    zlib: "packs the page that is handed round",
    child_process:
      "starts the user's git, and nothing else, to compare with a revision; the library of commands could start commands that are programs of their own, of which there are none; the server's library could look for modules, which it is never asked to",
  },
};

describe("bundles", () => {
  before(() => buildAll({ ifStale: true }));

  for (const { out } of bundles) {
    it(`${out} runs no text as code and opens no connection`, () => {
      const text = readFileSync(path.join(root, out), "utf8");
      const found = FORBIDDEN.filter(({ pattern }) => pattern.test(text));
      assert.deepEqual(
        found.map(({ what, pattern }) => `${what}: ${excerpt(text, pattern)}`),
        [],
      );
    });

    it(`${out} reaches for modules that have a reason, and for no other`, () => {
      const text = readFileSync(path.join(root, out), "utf8");
      const named = [...text.matchAll(/\brequire\("(?:node:)?([^"]+)"\)/g)].map((match) => match[1]);
      assert.deepEqual([...new Set(named)].sort(), Object.keys(MODULES[out] ?? {}).sort());
    });
  }
});

function excerpt(text: string, pattern: RegExp): string {
  const at = text.search(pattern);
  return text.slice(Math.max(at - 60, 0), at + 80).replace(/\s+/g, " ");
}
