/** Lays a sheet out in a real browser and measures what stands on each page, in millimetres and points. */
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { openContext } from '../../../lib/paper/engine/tab.ts';
import { openBrowser } from '../../shared.ts';

export interface Box {
  readonly page: number;
  readonly role: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly points: number;
  readonly text: string;
}

export interface Bench {
  readonly browser: Browser;
  readonly page: Page;
  close(): Promise<void>;
}

export async function openBench(): Promise<Bench> {
  const browser = await openBrowser();
  const page = await (await openContext(browser)).newPage();
  return { browser, page, close: () => browser.close() };
}

export async function layOut(page: Page, path: string): Promise<number> {
  await page.goto(pathToFileURL(path).href);
  await page.waitForSelector('html[data-sheet]', { timeout: 60_000 });
  return page.locator('.pagedjs_page').count();
}

/** Every element that a selector finds, page by page, measured from the page's upper left corner. */
export function measure(page: Page, selector: string): Promise<readonly Box[]> {
  return page.evaluate((wanted) => {
    const mm = (px: number): number => (px * 25.4) / 96;
    return [...document.querySelectorAll('.pagedjs_page')].flatMap((sheet, index) => {
      const paper = sheet.getBoundingClientRect();
      return [...sheet.querySelectorAll(wanted)].map((part) => {
        const box = part.getBoundingClientRect();
        return {
          page: index + 1,
          role: part.className.toString(),
          x: mm(box.left - paper.left),
          y: mm(box.top - paper.top),
          width: mm(box.width),
          height: mm(box.height),
          points: Math.round(Number.parseFloat(getComputedStyle(part).fontSize) * 75) / 100,
          text: (part.textContent ?? '').replace(/\s+/g, ' ').trim().slice(0, 60),
        };
      });
    });
  }, selector);
}

/** The font size of every piece of text in points, and the style, weight and colour that it is set in. */
export function texts(page: Page) {
  return page.evaluate(() => {
    const found: { text: string; points: number; style: string; color: string; family: string }[] = [];
    for (const root of document.querySelectorAll('.pagedjs_page_content, .pagedjs_margin-content')) {
      const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
      for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
        const text = (node.textContent ?? '').trim();
        const parent = node.parentElement;
        if (text === '' || parent === null || parent.getClientRects().length === 0) continue;
        const style = getComputedStyle(parent);
        found.push({
          text,
          points: Math.round(Number.parseFloat(style.fontSize) * 75) / 100,
          style: style.fontStyle,
          color: style.color,
          family: style.fontFamily,
        });
      }
    }
    return found;
  });
}
