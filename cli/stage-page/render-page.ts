import { createHash } from "node:crypto";
import { deflateSync } from "node:zlib";
import {
  CARE,
  DATA_ID,
  PLAIN_ID,
  PLAIN_WHY_ID,
  PROGRAM_ID,
  type AlonePage,
  type AlonePlace,
} from "../../protocol/alone-page.ts";
import type { StageFinding } from "../../protocol/stage.ts";
import { indexLines } from "../../core/syntax/lines.ts";
import { LOADER } from "./loader.ts";
import type { PageProgram } from "./page-program.ts";

/** How a page of ours begins to say so. */
const MARK = '<meta name="generator" content="Movewright ';
/** The mark stands within these first characters. */
const HEAD = 2000;

/** True for a text that a page of ours begins with. */
export const isStagePage = (text: string): boolean => text.slice(0, HEAD).includes(MARK);

/**
 * The page as one file that needs no other and no network: its policy lets the two scripts and the one style run that are
 * in it, told by their hashes, and nothing else. Without scripts it still lists the findings.
 */
export function renderPage(page: AlonePage, { script, style }: PageProgram): string {
  const { answer, sources, version } = page;
  const title = "take" in answer ? answer.take.title : sources[0].name;
  const { findings } = "take" in answer ? answer.take : answer.problem;
  const policy = [
    "default-src 'none'",
    `script-src '${hash(LOADER)}' '${hash(script)}'`,
    `style-src '${hash(style)}'`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
  const message = "problem" in answer ? `<p>${escaped(answer.problem.message)}</p>\n` : "";
  const rows = findings.map((one, id) => `<li>${escaped(findingWords(one, page.findings[id], sources))}</li>\n`);
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
${MARK}${escaped(version)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)}</title>
<style>${style}</style>
</head>
<body class="alone">
<main id="${PLAIN_ID}" class="plain">
<h1>${escaped(title)}</h1>
<p id="${PLAIN_WHY_ID}" role="alert">The stage needs scripts; this page runs none but its own and opens no connection.</p>
${message}<ul>
${rows.join("") || "<li>No findings.</li>\n"}</ul>
<p>Made by Movewright ${escaped(version)} from ${escaped(sources[0].name)}. ${escaped(CARE)}</p>
</main>
<script type="text/plain" id="${DATA_ID}">${packed(JSON.stringify(page))}</script>
<script type="text/plain" id="${PROGRAM_ID}">${packed(script)}</script>
<script>${LOADER}</script>
</body>
</html>
`;
}

function findingWords(finding: StageFinding, place: AlonePlace | null, sources: AlonePage["sources"]): string {
  const { severity, code, message } = finding;
  if (!place) return `${severity}: ${code}: ${message}`;
  const { name, text } = sources[place.source];
  const { line, character } = indexLines(text).position(place.start);
  return `${name}:${line + 1}:${character + 1}: ${severity}: ${code}: ${message}`;
}

/** As policies name a script or a style by its text (CSP 3, section 2.3.1). */
const hash = (text: string): string => `sha256-${createHash("sha256").update(text).digest("base64")}`;

const packed = (text: string): string => deflateSync(text, { level: 9 }).toString("base64");

const ENTITIES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" };

const escaped = (text: string): string => text.replace(/[&<>"]/g, (letter) => ENTITIES[letter]);
