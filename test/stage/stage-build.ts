import { build } from "esbuild";
import path from "node:path";
import { bundles } from "../../scripts/bundles.mjs";

const root = path.resolve(import.meta.dirname, "../..");

export interface StageBuild {
  readonly script: string;
  readonly style: string;
}

let made: Promise<StageBuild> | undefined;

/** The stage's bundle as the product builds it, in memory, once a test run. */
export function stageBuild(): Promise<StageBuild> {
  return (made ??= buildStage());
}

async function buildStage(): Promise<StageBuild> {
  const bundle = bundles.find(({ entry }) => entry === "webview/main.ts");
  if (bundle === undefined) throw new Error("scripts/bundles.mjs has no bundle for webview/main.ts");
  const result = await build({
    ...(bundle.options as object),
    absWorkingDir: root,
    entryPoints: [bundle.entry],
    outfile: "dist/webview/stage.js",
    write: false,
    logLevel: "silent",
  });
  const text = (end: string): string => {
    const file = result.outputFiles.find((output) => output.path.endsWith(end));
    if (file === undefined) throw new Error(`The stage's bundle has no ${end}`);
    return file.text;
  };
  return { script: text(".js"), style: text(".css") };
}
