import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { chromium, type Browser, type Page } from "playwright-core";
import type { FromStage, StageAnswer, StageState, ToStage } from "../../protocol/stage.ts";
import { stagePage } from "../../protocol/stage-page.ts";
import { chromiumFlags, findChromium } from "../../scripts/testing/chromium.mjs";
import { editorScript } from "./editor-script.ts";
import { stageBuild } from "./stage-build.ts";
import { themeCss, type Theme } from "./themes.ts";

export interface StageHost {
  /** A page as the editor would open it, listening. */
  open(options?: PageOptions): Promise<StageTab>;
  close(): Promise<void>;
}

export interface PageOptions {
  readonly width?: number;
  readonly height?: number;
  readonly ratio?: number;
  readonly theme?: Theme;
  /** What the editor kept from before. */
  readonly kept?: unknown;
  readonly answer?: StageAnswer;
  readonly webgl?: boolean;
  /** A script that runs in the page before all others. */
  readonly before?: string;
}

/** A running stage and the editor's end of its channel. */
export interface StageTab {
  readonly page: Page;
  send(message: ToStage): Promise<void>;
  state(): Promise<StageState>;
  /** Asks until the state is as wanted; fails after a while. */
  until(wanted: (state: StageState) => boolean): Promise<StageState>;
  /** Messages of the stage so far, without answers to `state`. */
  messages(): Promise<readonly FromStage[]>;
  kept(): Promise<unknown>;
  /** Complaints of the page: errors, refused resources. */
  readonly complaints: readonly string[];
  /** Waits until nothing is to be drawn any more. */
  settle(): Promise<void>;
  close(): Promise<void>;
}

/** Times that `until` asks: software drawing on a busy machine takes its time. */
const PATIENCE = 400;

/** What the page has as `acquireVsCodeApi`, and the test's view of it. */
interface Channel {
  readonly sent: FromStage[];
  kept: unknown;
}
declare global {
  interface Window {
    editorChannel: Channel;
  }
}

/** One browser and one server for a suite. The page, its policy and its script are the product's own. */
export async function startStageHost(): Promise<StageHost> {
  const built = await stageBuild();
  const themes = new Map<string, string>();
  const server = createServer((request, response) => {
    const name = new URL(request.url ?? "/", "http://127.0.0.1").pathname;
    const give = (type: string, text: string): void => {
      response.writeHead(200, { "content-type": `${type}; charset=utf-8` });
      response.end(text);
    };
    if (name === "/stage.js") give("text/javascript", built.script);
    else if (name === "/stage.css") give("text/css", built.style);
    else if (name === "/favicon.ico") response.writeHead(204).end();
    else give("text/html", pageOf(server, themes.get(name) ?? ""));
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const browser = await chromium.launch({ executablePath: findChromium(), args: chromiumFlags });
  let count = 0;
  return {
    async open(options = {}) {
      const name = `/page-${++count}`;
      themes.set(name, options.theme ?? "dark");
      return openTab(browser, `${originOf(server)}${name}`, options);
    },
    async close() {
      await browser.close();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}

const originOf = (server: Server): string => `http://127.0.0.1:${(server.address() as AddressInfo).port}`;

/** The product's page, with the class of the editor's theme on its body as the editor sets it. */
function pageOf(server: Server, theme: string): string {
  const origin = originOf(server);
  const parts = { scriptUri: `${origin}/stage.js`, styleUri: `${origin}/stage.css`, cspSource: origin };
  return stagePage({ ...parts, nonce: "a".repeat(32) }).replace("<body>", `<body class="vscode-${theme}">`);
}

async function openTab(browser: Browser, address: string, options: PageOptions): Promise<StageTab> {
  const context = await browser.newContext({
    viewport: { width: options.width ?? 720, height: options.height ?? 680 },
    deviceScaleFactor: options.ratio ?? 1,
  });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(String(error)));
  page.on("requestfailed", (request) => complaints.push(`request failed: ${request.url()}`));
  const { kept, theme = "dark", webgl = true, before } = options;
  if (before !== undefined) await page.addInitScript({ content: before });
  await page.addInitScript({ content: editorScript({ kept, css: themeCss(theme), webgl }) });
  await page.goto(address);
  await page.waitForFunction(() => window.editorChannel.sent.some((message) => message.type === "ready"));
  let asked = 0;
  const tab: StageTab = {
    page,
    complaints,
    send: (message) =>
      page.evaluate((data) => window.dispatchEvent(new MessageEvent("message", { data })), message).then(),
    async state() {
      const id = ++asked;
      await tab.send({ type: "report", id });
      const answer = await page.waitForFunction(
        (wanted) => window.editorChannel.sent.find((message) => message.type === "state" && message.id === wanted),
        id,
      );
      const message = (await answer.jsonValue()) as FromStage;
      if (message.type !== "state") throw new Error("not a state");
      return message.state;
    },
    async until(wanted) {
      for (let tries = 0; tries < PATIENCE; tries++) {
        const state = await tab.state();
        if (wanted(state)) return state;
        await page.waitForTimeout(50);
      }
      throw new Error(`The stage did not come to the wanted state; it is ${JSON.stringify(await tab.state())}`);
    },
    messages: () => page.evaluate(() => window.editorChannel.sent.filter((message) => message.type !== "state")),
    kept: () => page.evaluate(() => window.editorChannel.kept),
    settle: () =>
      page.evaluate(
        () =>
          new Promise<void>((done) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done, 20)))),
      ),
    close: () => context.close(),
  };
  if (options.answer) {
    await tab.send({ type: "take", answer: options.answer });
    await tab.settle();
  }
  return tab;
}
