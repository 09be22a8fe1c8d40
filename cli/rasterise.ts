import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { programPackage } from "../host/program-package.ts";
import { Failure } from "./failure.ts";
import { lettersWithout } from "./font-letters.ts";

/** Packages that draw PNG. They are beside the program where it was installed with its dependencies, and not in it. */
const RASTERISER = "@resvg/resvg-wasm";
const FONTS = "dejavu-fonts-ttf";
/** The family that pictures name and whose letters are in every PNG, so that it looks the same on each machine. */
const FAMILY = "DejaVu Sans";
const FACES = ["DejaVuSans.ttf", "DejaVuSans-Bold.ttf", "DejaVuSans-Oblique.ttf"];

export interface Rasterised {
  readonly png: Uint8Array;
  /** Letters of its texts that the font does not have; boxes stand for them. */
  readonly missing: readonly string[];
}

/**
 * A PNG of an SVG document, `width` px wide; the same text gives the same bytes. Throws `Failure` where the packages that
 * draw it are not installed.
 */
export async function rasterise(svg: string, width: number, out: string): Promise<Rasterised> {
  const { engine, fonts, resvg } = await load(out);
  await resvg.initWasm(engine);
  const drawn = new resvg.Resvg(svg, {
    font: { fontBuffers: fonts, defaultFontFamily: FAMILY },
    fitTo: { mode: "width", value: width },
  }).render();
  const words = [...svg.matchAll(/>([^<]*)<\/text>/g)].map(([, text]) => text).join("");
  return { png: drawn.asPng(), missing: lettersWithout(fonts[0], words) };
}

async function load(out: string) {
  const folder = programPackage()?.folder ?? process.cwd();
  const { resolve } = createRequire(join(folder, "package.json"));
  try {
    return {
      engine: readFileSync(resolve(`${RASTERISER}/index_bg.wasm`)),
      fonts: FACES.map((face) => readFileSync(resolve(`${FONTS}/ttf/${face}`))),
      // Loaded only now: every other command does without it, and so does the packed extension.
      resvg: await import("@resvg/resvg-wasm"),
    };
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code !== "MODULE_NOT_FOUND" && code !== "ERR_MODULE_NOT_FOUND" && code !== "ENOENT") throw error;
    throw new Failure(
      `--out ${out}: PNG needs the packages ${RASTERISER} and ${FONTS}, which are not beside this program; name a file that ends in .svg, or run \`npm install --no-save ${RASTERISER}@${versionOf(folder, RASTERISER)} ${FONTS}@${versionOf(folder, FONTS)}\` in ${folder}`,
    );
  }
}

/** The version that the program states for a package that it can do without. */
function versionOf(folder: string, name: string): string {
  const stated = JSON.parse(readFileSync(join(folder, "package.json"), "utf8")) as {
    readonly dependencies?: Readonly<Record<string, string>>;
  };
  return stated.dependencies?.[name] ?? "latest";
}
