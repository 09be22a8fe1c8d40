import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium, type Page } from "playwright-core";
import { pageData } from "../../cli/stage-page/page-data.ts";
import { renderPage } from "../../cli/stage-page/render-page.ts";
import { runToEnd } from "../../core/base/task.ts";
import { analyse } from "../../core/checks/analyse.ts";
import { diskSources } from "../../host/disk-sources.ts";
import { fileOfPath } from "../../host/file-path.ts";
import type { AlonePage } from "../../protocol/alone-page.ts";
import type { FromStage, StageState, ToStage } from "../../protocol/stage.ts";
import { chromiumFlags, findChromium } from "../../scripts/testing/chromium.mjs";
import { KIT } from "../fixtures/kit.ts";
import { stageBuild } from "./stage-build.ts";

/** What the page offers to its tests, as `webview/alone/start-alone.ts` has it. */
declare global {
  interface Window {
    movewrightStage?: { say(message: ToStage): void; readonly told: FromStage[] };
  }
}

type ContextOptions = Parameters<Awaited<ReturnType<typeof chromium.launch>>["newContext"]>[0];

export interface MadePage {
  readonly path: string;
  readonly html: string;
  readonly data: AlonePage;
}

/** A page that was opened from the disk by a browser without any network. */
export interface AloneTab {
  readonly page: Page;
  /** Errors and warnings of the page, and addresses that it asked for beside its own. */
  readonly complaints: readonly string[];
  /** Once the stage runs. */
  state(): Promise<StageState>;
  until(wanted: (state: StageState) => boolean): Promise<StageState>;
  close(): Promise<void>;
}

export interface AloneHost {
  /**
   * Writes documents and the page of the first of them into a folder of their own; the kit lies in `kit/`.
   *
   * @param against One of them that it is compared with.
   */
  make(files: Readonly<Record<string, string | Uint8Array>>, against?: string): Promise<MadePage>;
  /** Without `webgl` nothing is drawn, which takes a browser without a graphics card most of its time. */
  open(
    path: string,
    options?: ContextOptions & { readonly webgl?: boolean; readonly before?: string },
  ): Promise<AloneTab>;
  close(): Promise<void>;
}

const NO_WEBGL = `{
  const get = HTMLCanvasElement.prototype.getContext;
  HTMLCanvasElement.prototype.getContext = function (kind, ...rest) {
    return kind.startsWith("webgl") ? null : get.call(this, kind, ...rest);
  };
}`;

export async function startAloneHost(): Promise<AloneHost> {
  const browser = await chromium.launch({ executablePath: findChromium(), args: chromiumFlags });
  const root = mkdtempSync(join(tmpdir(), "alone-"));
  let count = 0;
  return {
    async make(files, against) {
      const folder = join(root, `page-${++count}`);
      const kit = Object.entries(KIT).map(([name, text]) => [`kit/${name}`, text] as const);
      for (const [name, content] of [...kit, ...Object.entries(files)]) {
        mkdirSync(dirname(join(folder, name)), { recursive: true });
        writeFileSync(join(folder, name), content);
      }
      const sources = diskSources([folder]);
      const analysisOf = (name: string) => runToEnd(analyse(fileOfPath(join(folder, name)), sources));
      const analysis = analysisOf(Object.keys(files)[0]);
      const compared = against === undefined ? undefined : { analysis: analysisOf(against), label: against };
      const findings = [...analysis.textFindings, ...analysis.motionFindings];
      const data = pageData(analysis, findings, sources, "1.2.3", compared);
      const html = renderPage(data, await stageBuild());
      const path = join(folder, "page.html");
      writeFileSync(path, html);
      return { path, html, data };
    },
    async open(path, { webgl = false, before = "", ...options } = {}) {
      const context = await browser.newContext({ viewport: { width: 1280, height: 760 }, offline: true, ...options });
      const page = await context.newPage();
      const complaints: string[] = [];
      page.on("console", (message) => {
        if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
      });
      page.on("pageerror", (error) => complaints.push(String(error)));
      const address = pathToFileURL(path).href;
      page.on("request", (request) => {
        if (request.url() !== address) complaints.push(`asked for ${request.url()}`);
      });
      await page.addInitScript({ content: before + (webgl ? "" : NO_WEBGL) });
      await page.goto(address);
      let asked = 0;
      const tab: AloneTab = {
        page,
        complaints,
        async state() {
          await page.waitForFunction(() => window.movewrightStage !== undefined);
          const answer = await page.waitForFunction((id) => {
            const stage = window.movewrightStage;
            if (!stage?.told.some((one) => one.type === "state" && one.id === id)) stage?.say({ type: "report", id });
            return stage?.told.find((one) => one.type === "state" && one.id === id);
          }, ++asked);
          const message = await answer.jsonValue();
          if (message?.type !== "state") throw new Error("not a state");
          return message.state;
        },
        async until(wanted) {
          for (let tries = 0; tries < 300; tries++) {
            const state = await tab.state();
            if (wanted(state)) return state;
            await page.waitForTimeout(50);
          }
          throw new Error(`The stage did not come to the wanted state; it is ${JSON.stringify(await tab.state())}`);
        },
        close: () => context.close(),
      };
      return tab;
    },
    async close() {
      await browser.close();
      rmSync(root, { recursive: true, force: true });
    },
  };
}
