import { chromium, type Page } from "playwright-core";
import { chromiumFlags, findChromium } from "../../scripts/testing/chromium.mjs";

const SIZE = { width: 1440, height: 900 };

/** Opens a headless browser with one page and gives it to `work`; closes it whatever happens. */
export async function withPage<T>(work: (page: Page) => Promise<T>): Promise<T> {
  const browser = await chromium.launch({ executablePath: findChromium(), args: chromiumFlags });
  try {
    const page = await browser.newPage({ viewport: SIZE });
    return await work(page);
  } finally {
    await browser.close();
  }
}
