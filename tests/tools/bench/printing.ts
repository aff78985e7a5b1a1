/** How long sheets take, against the least time that printing can take. */

import { readFile } from 'node:fs/promises';
import { pathToFileURL } from 'node:url';
import { type FoundBrowser, findBrowser } from '../../../lib/paper/engine/find-browser.ts';
import { endBrowser, launchBrowser } from '../../../lib/paper/engine/launch-browser.ts';
import type { Paper } from '../../../lib/paper/engine/sheet.ts';
import { PDF_OPTIONS, SheetTab } from '../../../lib/paper/engine/tab.ts';

export interface PrintingTimes {
  readonly browser: string;
  readonly sheets: number;
  /** Median time of one sheet with pages laid out, in a warm tab. */
  readonly sheet_ms: number;
  /** Median time of the same file with its scripts switched off, in a warm tab. */
  readonly plain_ms: number;
  readonly ratio: number;
  readonly sheetsPerSecond: number;
}

/**
 * Prints the same files with and without pagination, each in one tab, and compares the medians.
 *
 * Both tabs print the whole list once before the clock starts. Throws when no browser is found.
 */
export async function measureAgainstPlainPrinting(
  htmlPaths: readonly string[],
  { paper = 'a4', browser }: { paper?: Paper; browser?: FoundBrowser } = {},
): Promise<PrintingTimes> {
  const found = browser ?? (await findBrowser());
  if ('missing' in found) throw new Error(found.missing);
  const running = await launchBrowser(found);
  try {
    const tab = await SheetTab.open(running.context);
    const context = await running.browser.newContext({ javaScriptEnabled: false, offline: true });
    const plain = await context.newPage();
    const printSheet = async (path: string): Promise<void> => {
      await tab.print(path, await readFile(path, 'utf8'), paper);
    };
    const printPlain = async (path: string): Promise<void> => {
      await plain.goto(pathToFileURL(path).href);
      await plain.pdf(PDF_OPTIONS);
    };
    await timesOf(htmlPaths, printSheet);
    await timesOf(htmlPaths, printPlain);
    const sheet_ms = median(await timesOf(htmlPaths, printSheet));
    const plain_ms = median(await timesOf(htmlPaths, printPlain));
    return {
      browser: running.browser.version(),
      sheets: htmlPaths.length,
      sheet_ms,
      plain_ms,
      ratio: sheet_ms / plain_ms,
      sheetsPerSecond: 1000 / sheet_ms,
    };
  } finally {
    await endBrowser(running);
  }
}

async function timesOf(paths: readonly string[], print: (path: string) => Promise<void>): Promise<number[]> {
  const times: number[] = [];
  for (const path of paths) {
    const start = performance.now();
    await print(path);
    times.push(performance.now() - start);
  }
  return times;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}
