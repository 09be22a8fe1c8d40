import type { Connection } from "vscode-languageserver";
import type { FileId } from "../../core/base/span.ts";
import { indexLines } from "../../core/syntax/lines.ts";
import {
  TEMPLATE_REQUEST,
  type TemplateFile,
  type TemplateKind,
  type TemplateParams,
  type TemplateResult,
} from "../../protocol/templates.ts";
import { fileOfUri, uriOfFile } from "../files/file-uri.ts";
import { guarded } from "../guard.ts";
import type { WrittenDocument } from "../service/templates/templates-text.ts";
import { cameraTemplate, rigTemplate, setTemplate, templateText } from "../service/templates/templates.ts";
import type { Session } from "../session.ts";
import { searchMove, searchShoot, type Begun } from "./template-search.ts";
import { openShop, type Shop } from "./template-shop.ts";

/** Begins new documents: their texts, which the client puts where it wants them. */
export function registerTemplates(connection: Connection, session: Session): void {
  connection.onRequest(TEMPLATE_REQUEST, (params: TemplateParams, token) =>
    guarded("a template", session.log, token, async () =>
      begin(await openShop(session, fileOfUri(params.uri), token), params),
    ),
  );
}

async function begin(shop: Shop, { kind, uri, together }: TemplateParams): Promise<TemplateResult> {
  const needs = await missingFor(shop, kind);
  if (needs.length > 0 && together !== true)
    return { state: "missing", kinds: needs, reason: missingWords(kind, needs) };
  for (const each of needs) {
    const file = shop.freeName(each);
    const begun = await documentOf(shop, each, file);
    if (begun) shop.begun.set(file, begun.written);
  }
  const begun = await documentOf(shop, kind, shop.file);
  if (!begun) {
    const reason = `No rig and camera of this workspace could be put together in a new ${kind}.`;
    return { state: "missing", kinds: ["rig", "camera"], reason };
  }
  const toFile = (of: string, { text, cursor }: WrittenDocument): TemplateFile => ({
    uri: of,
    text,
    cursor: indexLines(text).position(cursor),
  });
  const others = [...shop.begun].map(([file, written]) => toFile(uriOfFile(file), written));
  return { state: "written", files: [toFile(uri, begun.written), ...others], errors: begun.errors };
}

async function documentOf(shop: Shop, kind: TemplateKind, file: FileId): Promise<Begun | undefined> {
  if (kind === "move") return searchMove(shop, file);
  if (kind === "shoot") return searchShoot(shop, file);
  const make = { rig: rigTemplate, camera: cameraTemplate, set: setTemplate }[kind];
  return { written: templateText(kind, shop.format, make(shop.stem)), errors: 0 };
}

/** Kinds that a new document needs and that the workspace has no sound document of, in the order of who needs whom. */
async function missingFor(shop: Shop, kind: TemplateKind): Promise<readonly TemplateKind[]> {
  const lacks = async (each: TemplateKind): Promise<boolean> => (await shop.sound(each, 1)).length === 0;
  if (kind === "shoot") return (await lacks("move")) ? [...(await missingFor(shop, "move")), "move"] : [];
  if (kind !== "move") return [];
  const out: TemplateKind[] = [];
  for (const each of ["rig", "camera", "set"] as const) if (await lacks(each)) out.push(each);
  return out;
}

function missingWords(kind: TemplateKind, kinds: readonly TemplateKind[]): string {
  const last = kinds[kinds.length - 1];
  const list = kinds.length === 1 ? last : `${kinds.slice(0, -1).join(", ")} or ${last}`;
  return `A ${kind} uses other documents, and this workspace has no ${list} without errors.`;
}
