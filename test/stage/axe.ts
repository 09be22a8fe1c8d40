import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
/** WCAG 2.2 up to AA, and axe's own good practice. */
const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

interface AxeResult {
  readonly violations: readonly {
    readonly id: string;
    readonly nodes: readonly { readonly html: string; readonly failureSummary: string }[];
  }[];
  readonly passes: readonly { readonly id: string }[];
}

/** What axe complains of, one line each. It is run as a tool of the browser is, past the page's policy. */
export async function complaintsOf(page: Page, where: string): Promise<string[]> {
  const session = await page.context().newCDPSession(page);
  const expression = `${AXE};axe.run(document, ${JSON.stringify({ runOnly: RULES })})`;
  const { result, exceptionDetails } = await session.send("Runtime.evaluate", {
    expression,
    awaitPromise: true,
    returnByValue: true,
  });
  assert.equal(exceptionDetails, undefined);
  await session.detach();
  const { violations, passes } = result.value as AxeResult;
  assert.ok(passes.length > 10, `${where}: axe looked at ${passes.length} rules`);
  return violations.flatMap(({ id, nodes }) =>
    nodes.map((node) => `${where}: ${id}: ${node.html.slice(0, 160)}: ${node.failureSummary.replace(/\s+/g, " ")}`),
  );
}
