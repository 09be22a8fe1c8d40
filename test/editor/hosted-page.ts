import { chromium, type Page } from "playwright-core";
import { chromiumFlags, findChromium } from "../../scripts/testing/chromium.mjs";

const SIZE = { width: 1600, height: 1000 };
/** Long enough where other programs take most of the processor [ms]. */
export const PATIENCE_MS = 90_000;

/** Opens a headless browser with one page; whoever opens it closes it. */
export async function openPage(): Promise<{ readonly page: Page; readonly close: () => Promise<void> }> {
  const browser = await chromium.launch({ executablePath: findChromium(), args: chromiumFlags });
  const page = await browser.newPage({ viewport: SIZE });
  page.setDefaultTimeout(PATIENCE_MS);
  return { page, close: () => browser.close() };
}

/** Opens a page, gives it to `work`, and closes it whatever happens. */
export async function withPage<T>(work: (page: Page) => Promise<T>): Promise<T> {
  const { page, close } = await openPage();
  try {
    return await work(page);
  } finally {
    await close();
  }
}
