import assert from "node:assert/strict";
import { importsOf, targetOf } from "./module-imports.ts";
import { projectFiles, readProjectFile } from "./project-files.ts";

/** Functions of `node:fs` that only look. */
const LOOKING = new Set([
  ...[
    "accessSync",
    "closeSync",
    "constants",
    "Dirent",
    "existsSync",
    "fstatSync",
    "lstatSync",
    "openSync",
    "readdirSync",
  ],
  ...["PathLike", "readFileSync", "readSync", "realpathSync", "statSync", "Stats"],
]);
/** The only file of the product that writes, for commands of the command line that say so. */
const WRITER = "host/write-file.ts";
/** What puts a folder of such files in the place of an older one. */
const FOLDERS = "host/write-folder.ts";
/** What writes, marks and removes what the command line keeps from run to run, in the cache's own folder. */
const CACHE = ["host/cache/cache-files.ts", "host/cache/open-cache.ts", "host/cache/sweep.ts"];
/** The only file of the product that starts a program: the user's git, for commands of the command line that ask it. */
const RUNNER = "host/git/run-git.ts";
/** The only file of the extension that writes, where a person named the place in the editor's own dialog: pictures and films. */
const SAVER = "client/write-aside.ts";

const PRODUCT = projectFiles(".ts").filter(
  (file) => /^(cli|client|core|host|protocol|server|webview)\//.test(file) && !file.endsWith(".test.ts"),
);

/** Imports of a file that holds one of these words at all: parsing every file takes long. */
const importing = (file: string, ...words: readonly string[]) =>
  words.some((word) => readProjectFile(file).includes(word)) ? importsOf(file) : [];

describe("what the product writes", () => {
  it("is written by one file alone, what is kept from run to run aside", () => {
    const found = PRODUCT.filter((file) => file !== WRITER && file !== FOLDERS && !CACHE.includes(file)).flatMap(
      (file) => {
        const text = readProjectFile(file);
        const imports = [
          ...text.matchAll(/import\s+(?:type\s+)?(?:\{([^}]*)\}|(\S+[^;]*?))\s+from\s+"(?:node:)?fs[^"]*"/g),
        ];
        const names = imports.flatMap(([, named, whole]) =>
          named === undefined ? [whole] : named.split(",").map((name) => name.replace(/\btype\b| as .*/g, "").trim()),
        );
        const writing = names.filter((name) => name !== "" && !LOOKING.has(name));
        const opened = [...text.matchAll(/openSync\([^)]*\)/g)]
          .map(([call]) => call)
          .filter((call) => !/, "r"\)/.test(call));
        return [...writing, ...opened].map((what) => `${file}: ${what}`);
      },
    );
    assert.deepEqual(found, []);
    assert.match(readProjectFile(WRITER), /from "node:fs"/);
  });

  it("is never written by the server, nor by the extension but as edits that can be undone, and where a person is asked", () => {
    const inEditor = PRODUCT.filter((file) => /^(client|core|protocol|server|webview)\//.test(file));
    const writers = inEditor.filter((file) =>
      importing(file, "write-").some(({ specifier }) =>
        /^host\/write-/.test(specifier.startsWith(".") ? targetOf(file, specifier) : ""),
      ),
    );
    assert.deepEqual(writers, []);
    assert.deepEqual(
      inEditor.filter((file) => /host\/(cache|pool)\//.test(readProjectFile(file))),
      [],
    );
    const direct = inEditor.filter((file) =>
      /\bfs\s*\.\s*(?:writeFile|delete|rename|copy|createDirectory)\b/.test(readProjectFile(file)),
    );
    assert.deepEqual(direct, [SAVER]);
    const callers = inEditor.filter((file) => importing(file, "write-aside").length > 0 && /write-aside\.ts"/.test(readProjectFile(file))); // prettier-ignore
    assert.deepEqual(callers, ["client/save-places.ts"]);
    assert.match(readProjectFile("client/save-places.ts"), /showSaveDialog/);
  });

  it("starts no program but the server and, on the command line, the user's git: no other file names a way to", () => {
    const reaching = (...modules: readonly string[]): readonly string[] =>
      PRODUCT.filter((file) =>
        importing(file, ...modules).some(({ specifier }) => modules.includes(specifier.replace(/^node:/, ""))),
      );
    assert.deepEqual(reaching("child_process", "cluster", "vm"), [RUNNER]);
    // A thread of our own is no program; whole workspaces are looked through on all cores.
    assert.deepEqual(
      reaching("worker_threads").filter((file) => !file.startsWith("host/pool/")),
      [],
    );
    // What the editor runs has no way to git.
    const asking = PRODUCT.filter((file) => /^(client|core|protocol|server|webview)\//.test(file)).filter((file) =>
      importing(file, "git/").some(
        ({ specifier }) => specifier.startsWith(".") && targetOf(file, specifier).startsWith("host/git/"),
      ),
    );
    assert.deepEqual(asking, []);
    assert.match(readProjectFile(RUNNER), /shell: false/);
  });

  it("trusts no command in what it shows: no text of the extension is marked as trusted", () => {
    const trusting = PRODUCT.filter((file) => /isTrusted|supportHtml|enableCommandUris/.test(readProjectFile(file)));
    assert.deepEqual(trusting, []);
  });

  it("needs no trust: the package says that restricted mode and virtual file systems are served in full", () => {
    const { capabilities } = JSON.parse(readProjectFile("package.json"));
    assert.deepEqual(capabilities, { untrustedWorkspaces: { supported: true }, virtualWorkspaces: true });
  });
});
