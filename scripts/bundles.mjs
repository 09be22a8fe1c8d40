// Every bundle of the product: where it starts, where it goes, what it runs in.
import { readFile } from "node:fs/promises";

/**
 * The schema library can compile its schemas by running text as code, and carries its messages in every language. The
 * product does neither: an editor may forbid the one, and problems are worded by the product itself.
 */
const plainSchemas = {
  name: "plain-schemas",
  setup({ onLoad }) {
    onLoad({ filter: /zod[\\/]v4[\\/]locales[\\/]index\.js$/ }, () => ({ contents: "export {};" }));
    onLoad({ filter: /zod[\\/]v4[\\/]core[\\/](util|doc|compile)\.js$/ }, async ({ path }) => {
      const text = await readFile(path, "utf8");
      const contents = text.replace("const F = Function;", "const F = undefined;");
      if (contents === text) throw new Error(`${path} makes functions in another way than it did.`);
      return { contents };
    });
  },
};

/** The 3D library's file loaders go to the network; the stage hands them what they need and may go nowhere itself. */
const noNetwork = {
  name: "no-network",
  setup({ onLoad }) {
    onLoad({ filter: /three[\\/]build[\\/]three\.core\.js$/ }, async ({ path }) => {
      const text = await readFile(path, "utf8");
      const contents = text.replaceAll(/\bfetch\(/g, "refuseToFetch(");
      if (contents === text) throw new Error(`${path} goes to the network in another way than it did.`);
      const refuse = 'function refuseToFetch() { return Promise.reject(new Error("The stage has no network.")); }';
      return { contents: `${contents}\n${refuse}\n` };
    });
  },
};

const shared = {
  bundle: true,
  target: "es2022",
  legalComments: "none",
  plugins: [plainSchemas, noNetwork],
  // Without it a bundle would keep debug paths of libraries that ask for it.
  define: { "process.env.NODE_ENV": '"production"' },
};
const onNode = { ...shared, platform: "node", format: "cjs", target: "node20" };
const inBrowser = { ...shared, platform: "browser" };

export const bundles = [
  { entry: "client/extension.ts", out: "dist/client/extension.cjs", options: { ...onNode, external: ["vscode"] } },
  {
    entry: "client/extension-browser.ts",
    out: "dist/client/extension-browser.js",
    options: { ...inBrowser, format: "cjs", external: ["vscode"] },
  },
  { entry: "server/main-browser.ts", out: "dist/server/main-browser.js", options: { ...inBrowser, format: "iife" } },
  { entry: "webview/main.ts", out: "dist/webview/stage.js", options: { ...inBrowser, format: "iife" } },
  {
    entry: "cli/main.ts",
    out: "dist/cli/main.cjs",
    // What draws PNG is as large as all the rest: it stays beside the program, and the packed extension does without it.
    options: { ...onNode, banner: { js: "#!/usr/bin/env node" }, external: ["@resvg/resvg-wasm"] },
  },
];

/** The entry whose bundle holds the engine, and the one whose bundle takes it from there. */
export const sharing = ["server/main-browser.ts", "cli/main.ts"];

/** Style sheets come out beside the script that imports them; the product can't do without this one. */
export const styleSheets = ["dist/webview/stage.css"];

/** Folders and files whose change makes a build stale. */
export const sources = [
  ...[
    "cli",
    "client",
    "core",
    "host",
    "protocol",
    "server",
    "webview",
    "scripts/build.mjs",
    "scripts/bundles.mjs",
    "scripts/shared-engine.mjs",
  ],
  ...["package.json", "package-lock.json"],
];
