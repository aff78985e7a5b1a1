/** Tabs of one browser, opened again whenever a tab or the browser can no longer print. */

import { SheetFaultError, sheetFault } from './faults.ts';
import type { FoundBrowser } from './find-browser.ts';
import { endBrowser, inTime, launchBrowser, type RunningBrowser, whileRunning } from './launch-browser.ts';
import type { Paper, PrintedSheet } from './sheet.ts';
import { SheetTab } from './tab.ts';

/** After so many sheets a tab is closed: what its pages left behind in memory goes with it. */
const SHEETS_PER_TAB = 50;
const TAB_CLOSE_LIMIT_MS = 2_000;

/** The browser of one run; started when the first sheet really needs it. */
export class BrowserHolder {
  readonly #found: FoundBrowser;
  #running: Promise<RunningBrowser> | undefined;
  /** A browser that does not start once is not tried again for every sheet. */
  #hopeless: unknown;

  constructor(found: FoundBrowser) {
    this.#found = found;
  }

  async get(): Promise<RunningBrowser> {
    if (this.#hopeless !== undefined) throw this.#hopeless;
    const before = this.#running;
    if (before) {
      const running = await before;
      if (running.browser.isConnected()) return running;
      // Of several workers that find it gone, only the first one forgets it.
      if (this.#running === before) this.#running = undefined;
    }
    this.#running ??= this.#start();
    return this.#running;
  }

  async #start(): Promise<RunningBrowser> {
    try {
      return await launchBrowser(this.#found);
    } catch (thrown) {
      this.#hopeless = thrown;
      throw thrown;
    }
  }

  async end(): Promise<void> {
    const running = await this.#running?.catch(() => undefined);
    this.#running = undefined;
    if (running) await endBrowser(running);
  }
}

/** One worker's tab. */
export class Printer {
  readonly #holder: BrowserHolder;
  readonly #limit_ms: number;
  #tab: SheetTab | undefined;

  constructor(holder: BrowserHolder, limit_ms: number) {
    this.#holder = holder;
    this.#limit_ms = limit_ms;
  }

  /** Prints one sheet within the time limit; throws a `SheetFaultError`, or what the browser said when it died. */
  async print(htmlPath: string, html: string, paper: Paper): Promise<PrintedSheet> {
    const { browser, context } = await this.#holder.get();
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<never>((_, fail) => {
      timer = setTimeout(() => fail(timeoutFault(htmlPath, this.#limit_ms)), this.#limit_ms);
    });
    let givenUp = false;
    const work = async (): Promise<PrintedSheet> => {
      const tab = this.#tab ?? (await SheetTab.open(context));
      if (givenUp) {
        await tab.close();
        throw timeoutFault(htmlPath, this.#limit_ms);
      }
      this.#tab = tab;
      return tab.print(htmlPath, html, paper);
    };
    const printing = whileRunning(browser, work);
    // Once it is late, what becomes of it is of no interest any more.
    printing.catch(() => undefined);
    try {
      const sheet = await Promise.race([printing, late]);
      if (this.#tab && this.#tab.printed >= SHEETS_PER_TAB) await this.close();
      return sheet;
    } catch (thrown) {
      givenUp = true;
      await this.close();
      throw thrown;
    } finally {
      clearTimeout(timer);
    }
  }

  /** Closes the tab; where even that hangs, the browser goes. */
  async close(): Promise<void> {
    const tab = this.#tab;
    this.#tab = undefined;
    if (tab && !(await inTime(tab.close(), TAB_CLOSE_LIMIT_MS))) await this.#holder.end();
  }
}

const timeoutFault = (htmlPath: string, limit_ms: number): SheetFaultError =>
  new SheetFaultError(sheetFault('sheet-timeout', { sheet: htmlPath, limit: limit_ms / 1000 }));
