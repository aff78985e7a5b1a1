/** Turns finished HTML sheets into PDF files: as many at once as asked, each whole or not at all. */

import { readFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { DISK, sweepUnfinished, type WriteSteps, writeWhole } from '../../archive/write/write-whole.ts';
import { firstLine, type SheetFault, SheetFaultError, sheetFault, writeFault } from './faults.ts';
import { type FindBrowserOptions, type FoundBrowser, findBrowser } from './find-browser.ts';
import { BrowserHolder, Printer } from './printer.ts';
import type { PrintedSheet, SheetJob, SheetResult } from './sheet.ts';
import { SheetCache } from './sheet-cache.ts';
import { AssetDigests, sheetKey } from './sheet-key.ts';

export interface RenderOptions {
  /** The browser to use; without it one is looked for. */
  readonly browser?: FoundBrowser;
  /** Tabs at work at the same time. */
  readonly concurrency?: number;
  readonly cacheDir: string;
  /** For one sheet, from opening to the finished PDF. */
  readonly timeout_ms?: number;
  readonly onProgress?: (progress: SheetProgress) => void;
  readonly findBrowserOptions?: Partial<FindBrowserOptions>;
  /** How files get to the disk. */
  readonly writeSteps?: WriteSteps;
}

export interface SheetProgress {
  readonly id: string;
  readonly status: SheetResult['status'];
  readonly done: number;
  readonly total: number;
}

export interface RenderedSheets {
  /** In the order of the jobs. */
  readonly results: readonly SheetResult[];
  /** Which browser printed, in words; empty when none was found. */
  readonly browser: string;
  /** What went wrong without costing a sheet: a cache that cannot be written. */
  readonly notes: readonly SheetFault[];
}

const TABS = 2;
const SHEET_LIMIT_MS = 60_000;

/**
 * Prints every job that the cache does not know, and writes every PDF that is not already there as it should be.
 *
 * A sheet that was in the browser when it died is printed once more, alone, in a fresh one. No fault of one
 * sheet stops another. The browser is started only when something has to be printed, and ended before this
 * returns.
 */
export async function renderSheets(
  jobs: readonly SheetJob[],
  options: RenderOptions,
): Promise<RenderedSheets> {
  if (jobs.length === 0) return { results: [], browser: '', notes: [] };
  const found = options.browser ?? (await findBrowser(options.findBrowserOptions));
  if ('missing' in found) {
    const run = new Progress(jobs, options.onProgress);
    const missing = sheetFault('browser-missing', { found: found.missing, mend: found.mend });
    for (const [at] of jobs.entries()) run.end(at, failed(missing));
    return { results: run.results(), browser: '', notes: [] };
  }
  for (const folder of new Set(jobs.map((job) => dirname(job.pdfPath)))) sweepUnfinished(folder);
  const run = new Run(jobs, found, options);
  await run.all();
  return { results: run.progress.results(), browser: inWords(found), notes: run.notes };
}

type Outcome = Omit<SheetResult, 'id'>;

class Progress {
  readonly #jobs: readonly SheetJob[];
  readonly #tell: RenderOptions['onProgress'];
  readonly #results: (SheetResult | undefined)[];
  #done = 0;

  constructor(jobs: readonly SheetJob[], tell: RenderOptions['onProgress']) {
    this.#jobs = jobs;
    this.#tell = tell;
    this.#results = jobs.map(() => undefined);
  }

  end(at: number, outcome: Outcome): void {
    const id = this.#jobs[at]?.id ?? '';
    this.#results[at] = { id, ...outcome };
    this.#done += 1;
    this.#tell?.({ id, status: outcome.status, done: this.#done, total: this.#jobs.length });
  }

  results(): SheetResult[] {
    return this.#results.filter((result) => result !== undefined);
  }
}

class Run {
  readonly progress: Progress;
  readonly notes: SheetFault[] = [];
  readonly #jobs: readonly SheetJob[];
  readonly #found: FoundBrowser;
  readonly #options: RenderOptions;
  readonly #holder: BrowserHolder;
  readonly #cache: SheetCache;
  readonly #digests = new AssetDigests();
  readonly #again: number[] = [];
  #next = 0;

  constructor(jobs: readonly SheetJob[], found: FoundBrowser, options: RenderOptions) {
    this.#jobs = jobs;
    this.#found = found;
    this.#options = options;
    this.#holder = new BrowserHolder(found);
    this.#cache = new SheetCache(options.cacheDir);
    this.progress = new Progress(jobs, options.onProgress);
  }

  async all(): Promise<void> {
    const workers = Math.max(1, Math.min(this.#options.concurrency ?? TABS, this.#jobs.length));
    try {
      await Promise.all(Array.from({ length: workers }, () => this.#work()));
      for (const at of this.#again) await this.#onceMore(at);
    } finally {
      await this.#holder.end();
    }
    await this.#cache.prune();
  }

  async #work(): Promise<void> {
    const printer = this.#printer();
    while (this.#next < this.#jobs.length) {
      const at = this.#next;
      this.#next += 1;
      try {
        this.progress.end(at, await this.#make(at, printer));
      } catch (thrown) {
        if (thrown instanceof SheetFaultError) this.progress.end(at, failed(thrown.fault));
        else this.#again.push(at);
      }
    }
    await printer.close();
  }

  async #onceMore(at: number): Promise<void> {
    await this.#holder.end();
    const printer = this.#printer();
    try {
      this.progress.end(at, await this.#make(at, printer));
    } catch (thrown) {
      const fault = thrown instanceof SheetFaultError ? thrown.fault : crashFault(this.#found, thrown);
      this.progress.end(at, failed(fault));
    }
    await printer.close();
  }

  #printer(): Printer {
    return new Printer(this.#holder, this.#options.timeout_ms ?? SHEET_LIMIT_MS);
  }

  async #make(at: number, printer: Printer): Promise<Outcome> {
    const job = this.#jobs[at];
    if (!job) throw new RangeError(`there is no job ${at}`);
    const { htmlPath, paper } = job;
    const html = await readFile(htmlPath, 'utf8').catch((thrown: unknown) => {
      throw new SheetFaultError(sheetFault('sheet-file', { sheet: htmlPath, reason: firstLine(thrown) }));
    });
    const key = await sheetKey({ html, htmlPath, paper }, inKey(this.#found), this.#digests);
    const cached = await this.#cache.read(key);
    const sheet = cached ?? (await printer.print(htmlPath, html, paper));
    if (!cached) await this.#keep(key, sheet);
    return this.#deliver(sheet, job.pdfPath);
  }

  async #keep(key: string, sheet: PrintedSheet): Promise<void> {
    try {
      await this.#cache.keep(key, sheet);
    } catch (thrown) {
      if (this.notes.length === 0) this.notes.push(writeFault(thrown, this.#options.cacheDir));
    }
  }

  async #deliver(sheet: PrintedSheet, pdfPath: string): Promise<Outcome> {
    const { pdf, pages, fields, overflow } = sheet;
    const there = await readFile(pdfPath).catch(() => undefined);
    if (there?.equals(pdf)) return { status: 'unchanged', pages, fields, overflow };
    try {
      await writeWhole(pdfPath, pdf, this.#options.writeSteps ?? DISK);
    } catch (thrown) {
      throw new SheetFaultError(writeFault(thrown, pdfPath));
    }
    return { status: 'rendered', pages, fields, overflow };
  }
}

/** The version says it all; of a browser that does not tell it, the place must do. */
function inKey({ version, path }: FoundBrowser): string {
  return version ?? path;
}

function inWords({ path, source, version }: FoundBrowser): string {
  const where = source === 'bundled' ? 'the bundled browser' : path;
  return version === undefined ? where : `${where} ${version}`;
}

function failed(error: SheetFault): Outcome {
  return { status: 'failed', pages: 0, fields: [], overflow: [], error };
}

const crashFault = ({ path }: FoundBrowser, thrown: unknown): SheetFault =>
  sheetFault('browser-crash', { path, reason: firstLine(thrown) });
