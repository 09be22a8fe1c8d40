import { LSP_METHODS, type MethodGroup, type MethodRow } from "./lsp-methods.ts";

const OFFERED: Readonly<Record<MethodRow["offered"], string>> = {
  yes: "yes",
  able: "if the client can",
  no: "no",
};

/** The feature matrix as Markdown; written to `docs/reference/features.md` by the generator. */
export function renderMethodsPage(): string {
  return [
    "# What the language server offers",
    "",
    "<!-- Generated from server/lsp-methods.ts by `npm run generate`. Do not edit. -->",
    "",
    "Every method of the Language Server Protocol 3.17. A test compares this page with the server's own answer to",
    "`initialize`, and asks for each request. Methods of our own begin with `movewright/`; they serve the stage and",
    "editors without a disk, and a client needs none of them.",
    "",
    ...LSP_METHODS.flatMap(table),
  ].join("\n");
}

function table({ title, rows }: MethodGroup): string[] {
  const lines = Object.entries(rows).map(
    ([method, { offered, note }]) => `| ${method} | ${OFFERED[offered]} | ${note} |`,
  );
  return [`## ${title}`, "", "| method | offered | |", "| --- | --- | --- |", ...lines, ""];
}
