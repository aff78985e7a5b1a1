/** Draws pages as PNG pictures of a fixed size, in the browser that prints. */
import { createHash } from 'node:crypto';
import { copyFile, mkdir, readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { writeWhole } from '../../archive/write/write-whole.ts';
import { firstLine, SheetFaultError } from './faults.ts';
import type { FoundBrowser } from './find-browser.ts';
import { endBrowser, launchBrowser, type RunningBrowser } from './launch-browser.ts';

export interface PictureJob {
  readonly id: string;
  /** A whole page that brings everything with it. */
  readonly html: string;
  readonly path: string;
}

export interface PictureOrder {
  readonly browser: FoundBrowser;
  readonly size: { readonly width: number; readonly height: number };
  /** Pictures drawn before lie here, by what they were drawn from. */
  readonly cacheDir: string;
}

const LIMIT_MS = 10_000;

/** Draws each picture, or copies it where the same was drawn before; gives what could not be drawn, in words. */
export async function drawPictures(
  jobs: readonly PictureJob[],
  order: PictureOrder,
): Promise<readonly string[]> {
  const faults: string[] = [];
  const wanted: (PictureJob & { readonly cached: string })[] = [];
  for (const job of jobs) {
    const cached = join(order.cacheDir, `${keyOf(job, order)}.png`);
    if (!(await copied(cached, job.path))) wanted.push({ ...job, cached });
  }
  if (wanted.length === 0) return faults;
  let running: RunningBrowser;
  try {
    running = await launchBrowser(order.browser);
  } catch (thrown) {
    if (!(thrown instanceof SheetFaultError)) throw thrown;
    return [`${wanted.map(({ id }) => id).join(', ')}: ${firstLine(thrown)}`];
  }
  try {
    const page = await running.browser.newPage({ viewport: order.size, deviceScaleFactor: 1 });
    page.setDefaultTimeout(LIMIT_MS);
    for (const { id, html, path, cached } of wanted) {
      try {
        await page.setContent(html, { waitUntil: 'load' });
        await page.evaluate('document.fonts.ready');
        const png = await page.screenshot({ type: 'png', animations: 'disabled' });
        await writeWhole(path, png);
        await writeWhole(cached, png);
      } catch (thrown) {
        faults.push(`${id}: ${firstLine(thrown)}`);
      }
    }
  } finally {
    await endBrowser(running);
  }
  return faults;
}

const keyOf = ({ html }: PictureJob, { browser, size }: PictureOrder): string =>
  createHash('sha256')
    .update(JSON.stringify([html, size, browser.path]))
    .digest('hex');

async function copied(from: string, to: string): Promise<boolean> {
  try {
    await readFile(from);
  } catch {
    return false;
  }
  await mkdir(dirname(to), { recursive: true });
  await copyFile(from, to);
  return true;
}
