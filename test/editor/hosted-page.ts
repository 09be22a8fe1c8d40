import { chromium, type Page } from "playwright-core";
import { chromiumFlags, findChromium } from "../../scripts/testing/chromium.mjs";

const SIZE = { width: 1600, height: 1000 };

/** Opens a headless browser with one page; whoever opens it closes it. */
export async function openPage(): Promise<{ readonly page: Page; readonly close: () => Promise<void> }> {
  const browser = await chromium.launch({ executablePath: findChromium(), args: chromiumFlags });
  return { page: await browser.newPage({ viewport: SIZE }), close: () => browser.close() };
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
