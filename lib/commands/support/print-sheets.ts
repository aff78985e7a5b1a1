import { readFile, rm } from 'node:fs/promises';
import { keepPrinted } from '../../archive/printed.ts';
import { writeWhole } from '../../archive/write/write-whole.ts';
import type { Brewery } from '../../batch/types/brewery.ts';
import { sheetFault } from '../../paper/engine/faults.ts';
import type { FoundBrowser } from '../../paper/engine/find-browser.ts';
import { renderSheets } from '../../paper/engine/render-sheets.ts';
import type { SheetResult } from '../../paper/engine/sheet.ts';
import { cacheFolder } from '../../site/paths.ts';
import type { SiteEntry } from '../../site/site.ts';
import { fieldsJson } from './fields-json.ts';
import type { Progress } from './progress.ts';
import { counted } from './report.ts';
import type { SheetPlace } from './sheet-places.ts';

const CACHE = cacheFolder('sheets');

export interface PrintOrder {
  readonly contentDir: string;
  readonly places: readonly SheetPlace[];
  readonly brewery: Brewery;
  readonly paper: Brewery['paper'] | undefined;
  readonly browser: FoundBrowser;
  readonly progress: Progress;
}

/**
 * Prints the pages of sheets to PDF, all in one browser, writes beside them where their blanks are, and keeps what was printed
 * with the brewer's files. Says what was done; true where every sheet was printed. What could not be printed leaves no older PDF behind.
 */
export async function printSheets(order: PrintOrder): Promise<boolean> {
  const { places, brewery, browser, progress } = order;
  const paper = order.paper ?? brewery.paper;
  const jobs = places.map(({ entry, file, htmlPath, pdfPath }) => ({
    id: `${entry.batch.slug}/${file}`,
    htmlPath,
    pdfPath,
    paper,
  }));
  const { results, notes } = await renderSheets(jobs, {
    browser,
    cacheDir: CACHE,
    onProgress: ({ id, done, total }) => progress.say(`sheet ${done} of ${total}: ${id}`),
  });
  progress.end();
  for (const [at, { status }] of results.entries()) {
    if (status === 'failed') await rm(places[at]?.pdfPath ?? '', { force: true });
  }
  await writeFields(order, paper, results);
  return tell(results, notes);
}

async function writeFields(
  { contentDir, places }: PrintOrder,
  paper: Brewery['paper'],
  results: readonly SheetResult[],
): Promise<void> {
  const byPath = new Map<string, { entry: SiteEntry; file: SheetPlace['file']; result: SheetResult }[]>();
  for (const [at, { entry, file, fieldsPath }] of places.entries()) {
    const result = results[at];
    if (result !== undefined)
      byPath.set(fieldsPath, [...(byPath.get(fieldsPath) ?? []), { entry, file, result }]);
  }
  for (const [path, [one, ...more]] of byPath) {
    if (one === undefined) continue;
    const sheets = [one, ...more];
    if (sheets.some(({ result }) => result.status === 'failed')) {
      await rm(path, { force: true });
      continue;
    }
    const fields = fieldsJson(one.entry.plan, paper, sheets);
    await writeWhereNew(path, `${JSON.stringify(fields, null, 1)}\n`);
    await keepPrinted(contentDir, one.entry, fields);
  }
}

async function writeWhereNew(path: string, text: string): Promise<void> {
  if ((await readFile(path, 'utf8').catch(() => null)) !== text) await writeWhole(path, text);
}

const OVERFLOWS_TOLD = 3;

function overflowText(id: string, overflow: readonly string[]): string {
  const more = overflow.length - OVERFLOWS_TOLD;
  const told = overflow.slice(0, OVERFLOWS_TOLD).join('\n  found     ');
  const { code, found, expected, mend } = sheetFault('sheet-overflow', { found: told });
  const rest = more > 0 ? `\n            and ${more} more` : '';
  return `${id}  [${code}]  warning\n  found     ${found}${rest}\n  expected  ${expected}\n  mend      ${mend}\n`;
}

function tell(results: readonly SheetResult[], notes: readonly { found: string; mend: string }[]): boolean {
  for (const { id, overflow } of results) if (overflow.length > 0) console.log(overflowText(id, overflow));
  for (const { found, mend } of notes) console.log(`${found}; ${mend}`);
  const failed = results.filter(({ status }) => status === 'failed');
  for (const { id, error } of failed) {
    console.log(`${id}  [${error?.code}]`);
    console.log(`  found     ${error?.found}\n  expected  ${error?.expected}\n  mend      ${error?.mend}\n`);
  }
  const rendered = results.filter(({ status }) => status === 'rendered').length;
  const unchanged = results.filter(({ status }) => status === 'unchanged').length;
  const parts = [`${rendered} written`, `${unchanged} unchanged`];
  if (failed.length > 0) parts.push(`${failed.length} failed`);
  console.log(`${counted(results.length, 'sheet')}: ${parts.join(', ')}`);
  return failed.length === 0;
}
