/** One browser tab that prints sheet after sheet. */

import { pathToFileURL } from 'node:url';
import type { BrowserContext, Page } from 'playwright-core';
import { SheetFaultError, sheetFault } from './faults.ts';
import { installInPage, type PageAnswer, type PageReport, type PageWindow } from './in-page.ts';
import { packPdf } from './pack-pdf.ts';
import { countPages, settleBytes } from './pdf-bytes.ts';
import { PAPER_MM, type Paper, type PrintedSheet } from './sheet.ts';

/** How a page is printed; part of the cache key. */
export const PDF_OPTIONS = {
  preferCSSPageSize: true,
  printBackground: true,
  tagged: true,
  outline: true,
} as const;

const PT_PER_MM = 72 / 25.4;

/** Browsers round a page to whole CSS pixels (0.26 mm). */
const PAPER_SLACK_MM = 0.5;

/** A style sheet of its own would still be on its way when the sheet that brings it is laid out. */
const LINKED_STYLE = /<link\b[^>]*stylesheet|@import/i;

export class SheetTab {
  readonly #page: Page;
  #printed = 0;
  #missing: string[] = [];

  private constructor(page: Page) {
    this.#page = page;
    page.on('requestfailed', (request) => {
      // A picture of the sheet before, taken away while it was read, is nothing that is missing here.
      if (request.failure()?.errorText !== 'net::ERR_ABORTED') this.#missing.push(request.url());
    });
  }

  /** Opens a tab in a context made by `openContext`. */
  static async open(context: BrowserContext): Promise<SheetTab> {
    return new SheetTab(await context.newPage());
  }

  get printed(): number {
    return this.#printed;
  }

  /**
   * Prints one sheet; `html` is the text of the file. A tab that threw must be closed and not used again.
   *
   * The first sheet is loaded as a file. A later one that brings the same scripts is put in its place in the
   * open page, which saves compiling the paginator again, by far the longest part of the work.
   */
  async print(htmlPath: string, html: string, paper: Paper): Promise<PrintedSheet> {
    this.#missing = [];
    this.#printed += 1;
    const url = pathToFileURL(htmlPath).href;
    const laid = accepted((await this.#feed(html, url)) ?? (await this.#load(url)), htmlPath);
    this.#refuseMissing(htmlPath);
    refuseOtherPaper(laid, paper, htmlPath);
    const pdf = settleBytes(await this.#page.pdf(PDF_OPTIONS));
    const pages = countPages(pdf);
    if (pages !== laid.pages) {
      const facts = { sheet: htmlPath, laid: laid.pages, printed: pages };
      throw new SheetFaultError(sheetFault('sheet-pages', facts));
    }
    const { width, height } = PAPER_MM[paper];
    const packed = packPdf(pdf, { width: width * PT_PER_MM, height: height * PT_PER_MM });
    return { pdf: packed, pages, fields: laid.fields, overflow: laid.overflow };
  }

  async close(): Promise<void> {
    await this.#page.close();
  }

  async #feed(html: string, url: string): Promise<PageAnswer | undefined> {
    if (this.#printed === 1 || LINKED_STYLE.test(html)) return undefined;
    return this.#page.evaluate(
      ([text, at]) => (window as unknown as PageWindow).kettlesideEngine.next(text, at),
      [html, url] as const,
    );
  }

  async #load(url: string): Promise<PageAnswer> {
    await this.#page.goto(url, { waitUntil: 'commit' });
    return this.#page.evaluate(() => (window as unknown as PageWindow).kettlesideEngine.loaded());
  }

  #refuseMissing(htmlPath: string): void {
    const [first] = this.#missing;
    if (first === undefined) return;
    throw new SheetFaultError(sheetFault('sheet-asset', { sheet: htmlPath, asset: first }));
  }
}

/** A context whose pages have the engine in them and reach no network. */
export async function openContext(browser: {
  newContext(options: object): Promise<BrowserContext>;
}): Promise<BrowserContext> {
  const context = await browser.newContext({
    offline: true,
    serviceWorkers: 'block',
    acceptDownloads: false,
  });
  await context.addInitScript(installInPage);
  return context;
}

function accepted(answer: PageAnswer, htmlPath: string): PageReport {
  if (answer.kind === 'laid') return answer;
  throw new SheetFaultError(sheetFault('sheet-layout', { sheet: htmlPath, reason: answer.reason }));
}

function refuseOtherPaper(laid: PageReport, paper: Paper, htmlPath: string): void {
  const { width, height } = PAPER_MM[paper];
  const off = Math.max(Math.abs(laid.width_mm - width), Math.abs(laid.height_mm - height));
  if (off <= PAPER_SLACK_MM) return;
  const facts = { laid: `${laid.width_mm} × ${laid.height_mm}`, paper: `${width} × ${height} mm (${paper})` };
  throw new SheetFaultError(sheetFault('sheet-paper', { sheet: htmlPath, ...facts }));
}
