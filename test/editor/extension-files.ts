import { createReadStream, statSync } from "node:fs";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import path from "node:path";
import { root } from "./paths.ts";

const TYPES: Readonly<Record<string, string>> = {
  ".js": "text/javascript",
  ".css": "text/css",
  ".json": "application/json",
};

/** Serves the extension's files as a marketplace for web editors would. A web editor lets workers come from localhost. */
export async function serveExtensionFiles(): Promise<{ readonly authority: string; readonly close: () => void }> {
  const server = createServer((request, response) => {
    const file = path.join(root, decodeURIComponent(new URL(request.url ?? "/", "http://localhost").pathname));
    const found = file.startsWith(root) && statSync(file, { throwIfNoEntry: false })?.isFile();
    response.setHeader("Access-Control-Allow-Origin", "*");
    response.setHeader("Content-Type", TYPES[path.extname(file)] ?? "text/plain");
    if (found) createReadStream(file).pipe(response);
    else response.writeHead(404).end();
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return { authority: `localhost:${(server.address() as AddressInfo).port}`, close: () => server.close() };
}
