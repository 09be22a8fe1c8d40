import { build, type BuildOptions } from "esbuild";
import path from "node:path";
import { chromium, type Page } from "playwright-core";
import { bundles } from "../../scripts/bundles.mjs";
import { chromiumFlags, findChromium } from "../../scripts/testing/chromium.mjs";

const root = path.resolve(import.meta.dirname, "../..");

/** What runs in the page: the worker, and the editor's end of its channel. */
interface Channel {
  ask(method: string, params: unknown): Promise<unknown>;
  tell(method: string, params: unknown): void;
  readonly files: Record<string, string>;
  /** Uris that the server asked to read. */
  readonly read: string[];
}
declare global {
  interface Window {
    channel: Channel;
  }
}

export interface WorkerServer {
  ask<T>(method: string, params: unknown): Promise<T>;
  tell(method: string, params: unknown): Promise<void>;
  /** Changes a file of the editor's own file system. */
  put(uri: string, text: string): Promise<void>;
  read(): Promise<readonly string[]>;
  readonly complaints: readonly string[];
  close(): Promise<void>;
}

/** The server as the web editor runs it: its bundle in a web worker of a browser, every file through the client. */
export async function startWorker(files: Readonly<Record<string, string>>): Promise<WorkerServer> {
  const script = await buildWorker();
  const browser = await chromium.launch({ executablePath: findChromium(), args: chromiumFlags });
  const page: Page = await browser.newPage();
  const complaints: string[] = [];
  page.on("pageerror", (error) => complaints.push(String(error)));
  page.on("console", (message) => message.type() === "error" && complaints.push(message.text()));
  try {
    // The test runner's compiler keeps names of functions by a function that the page does not have.
    await page.evaluate("globalThis.__name = (value) => value");
    await page.evaluate(startInPage, { script, files });
  } catch (error) {
    await browser.close();
    throw error;
  }
  return {
    ask: <T>(method: string, params: unknown) =>
      page.evaluate(([name, value]) => window.channel.ask(name as string, value), [method, params]) as Promise<T>,
    tell: (method, params) =>
      page.evaluate(([name, value]) => window.channel.tell(name as string, value), [method, params]),
    put: (uri, text) => page.evaluate(([name, value]) => void (window.channel.files[name] = value), [uri, text]),
    read: () => page.evaluate(() => window.channel.read),
    complaints,
    close: () => browser.close(),
  };
}

async function buildWorker(): Promise<string> {
  const bundle = bundles.find(({ entry }) => entry === "server/main-browser.ts");
  if (!bundle) throw new Error("No bundle begins at server/main-browser.ts.");
  const { outputFiles } = await build({
    ...(bundle.options as BuildOptions),
    absWorkingDir: root,
    entryPoints: [bundle.entry],
    write: false,
  });
  return outputFiles[0].text;
}

/** Runs in the page. */
function startInPage({ script, files }: { script: string; files: Readonly<Record<string, string>> }): void {
  interface Message {
    readonly id?: number;
    readonly method?: string;
    readonly params?: { readonly uri: string };
    readonly result?: unknown;
    readonly error?: { readonly message: string };
  }
  const worker = new Worker(URL.createObjectURL(new Blob([script], { type: "text/javascript" })));
  const waiting = new Map<number, { resolve(value: unknown): void; reject(error: Error): void }>();
  const channel: Channel = {
    files: { ...files },
    read: [],
    ask: (method, params) =>
      new Promise((resolve, reject) => {
        const id = waiting.size + 1 + Math.floor(performance.now() * 1000);
        waiting.set(id, { resolve, reject });
        worker.postMessage({ jsonrpc: "2.0", id, method, params });
      }),
    tell: (method, params) => worker.postMessage({ jsonrpc: "2.0", method, params }),
  };
  const answer = (method: string | undefined, params: Message["params"]): unknown => {
    if (method === "movewright/listFiles") return { uris: Object.keys(channel.files) };
    if (method !== "movewright/readFile" || !params) return null;
    channel.read.push(params.uri);
    const text = channel.files[params.uri];
    return text === undefined ? { state: "missing" } : { state: "text", text };
  };
  worker.onmessage = ({ data }: MessageEvent<Message>) => {
    if (data.method !== undefined) {
      if (data.id === undefined) return;
      worker.postMessage({ jsonrpc: "2.0", id: data.id, result: answer(data.method, data.params) });
      return;
    }
    const entry = waiting.get(data.id ?? -1);
    waiting.delete(data.id ?? -1);
    if (data.error) entry?.reject(new Error(data.error.message));
    else entry?.resolve(data.result);
  };
  worker.onerror = (event) => console.error(`worker: ${event.message}`);
  window.channel = channel;
}
