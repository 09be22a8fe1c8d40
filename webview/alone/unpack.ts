import { decodeBase64 } from "../../core/base/base64.ts";
import type { AlonePage } from "../../protocol/alone-page.ts";

/** The data of a page that stands alone, from the text that the page holds. Rejects when it is damaged. */
export async function unpackPage(packed: string): Promise<AlonePage> {
  const bytes = decodeBase64(packed.trim());
  if (!bytes) throw new Error("what it holds is no base64");
  const stream = new Blob([bytes as Uint8Array<ArrayBuffer>]).stream().pipeThrough(new DecompressionStream("deflate"));
  return JSON.parse(await new Response(stream).text()) as AlonePage;
}
