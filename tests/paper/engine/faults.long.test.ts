import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DISK } from '../../../lib/archive/write/write-whole.ts';
import { type FoundBrowser, findBrowser } from '../../../lib/paper/engine/find-browser.ts';
import { renderSheets, type SheetProgress } from '../../../lib/paper/engine/render-sheets.ts';
import type { SheetJob } from '../../../lib/paper/engine/sheet.ts';
import { readPdf } from './pdf-reading.ts';
import { childrenRunning, hasPage, signal } from './processes.ts';
import { kettleSheet, scriptsFrom, Workplace } from './workplace.ts';

const place = new Workplace();
let browser: FoundBrowser;
let cacheNumber = 0;
/** Far more than the good sheets beside a stuck one need, however busy the machine is. */
const STUCK_MS = 20_000;

beforeAll(async () => {
  const found = await findBrowser();
  if ('missing' in found) throw new Error(found.missing);
  browser = found;
});
afterAll(() => place.remove());

const freshCache = (): string => {
  cacheNumber += 1;
  return place.path(`cache-${cacheNumber}`);
};
const render = (jobs: SheetJob[], options: Partial<Parameters<typeof renderSheets>[1]> = {}) =>
  renderSheets(jobs, { cacheDir: freshCache(), browser, ...options });
const good = (id: string) => place.sheet(id, { body: kettleSheet(5, id) });
/** A sheet that waits for ever, politely or with all its might. */
const hanging = (id: string, script: string) => {
  writeFileSync(place.asset(`${id}.js`), script);
  return place.sheet(id, { body: 'x', scripts: `<script src="../../assets/${id}.js"></script>` });
};
const wholePages = async (job: SheetJob): Promise<number> => (await readPdf(job.pdfPath)).pages.length;
const strays = (folder: string): string[] => readdirSync(folder).filter((name) => name.includes('.part'));

describe('a sheet that cannot be printed', () => {
  it.each([
    ['waits for ever', 'window.kettlesideSheet = new Promise(() => {});'],
    ['never lets go of the processor', 'for (;;) {}'],
  ])('that %s is given up after its time, and the others are printed', async (name, script) => {
    const stuck = hanging(name.replaceAll(' ', '-'), script);
    const jobs = [good(`${name} 1`), stuck, good(`${name} 2`), good(`${name} 3`)];
    const { results } = await render(jobs, { timeout_ms: STUCK_MS, concurrency: 1 });
    expect(results.map((result) => result.status)).toEqual(['rendered', 'failed', 'rendered', 'rendered']);
    expect(results[1]?.error).toEqual({
      code: 'sheet-timeout',
      found: `${stuck.htmlPath} was not finished after 20 s`,
      expected: 'a sheet that is laid out and printed in that time',
      mend: 'look whether the page shows in a browser, or raise the time limit on a slow computer',
    });
    expect(existsSync(stuck.pdfPath)).toBe(false);
  });

  it.each([
    [
      'sheet-asset',
      { body: '<h1>QR</h1><img alt="" src="missing.svg">' },
      /missing\.svg, which cannot be had$/,
    ],
    ['sheet-layout', { body: '<p>x</p>', scripts: '' }, /the script that lays it out did not load$/],
    [
      'sheet-layout',
      {
        body: '<p>x</p>',
        head: '<style>@font-face{font-family:B;src:url(data:font/woff2;base64,AAAA)} p{font-family:B}</style>',
      },
      /the font B cannot be read$/,
    ],
    [
      'sheet-paper',
      { body: '<p>x</p>', style: '@page { size: 148mm 210mm }' },
      /is laid out for 148 × 210 mm$/,
    ],
    [
      'sheet-pages',
      { body: '<h1>x</h1>', style: '@media print { .pagedjs_pages { margin-top: 40mm } }' },
      /laid out on 1 pages and printed on 2$/,
    ],
  ] as const)('%s', async (code, text, found) => {
    const job = place.sheet(`bad-${code}-${Object.keys(text).join('-')}`, text);
    const { results } = await render([job]);
    expect(results[0]?.status).toBe('failed');
    expect(results[0]?.error?.code).toBe(code);
    expect(results[0]?.error?.found).toMatch(found);
    expect(existsSync(job.pdfPath)).toBe(false);
  });

  it('says which file is not there', async () => {
    const { results } = await render([{ ...good('gone'), htmlPath: place.path('gone.html') }]);
    expect(results[0]?.error?.code).toBe('sheet-file');
    expect(results[0]?.error?.found).toContain(place.path('gone.html'));
  });

  it('fails when the paginator leaves a part of it out', async () => {
    writeFileSync(
      place.asset('dropping.js'),
      `Paged.registerHandlers(class extends Paged.Handler {
        afterPageLayout(page) { page.querySelector('.dropped')?.remove(); }
      });`,
    );
    const job = place.sheet('dropped', {
      body: '<h1>Left out</h1><p class="dropped">never a full pot</p><p>after it</p>',
      scripts: `${scriptsFrom('../../')}<script src="../../assets/dropping.js"></script>`,
    });
    const { results } = await render([job]);
    expect(results[0]?.error?.code).toBe('sheet-layout');
    expect(results[0]?.error?.found).toMatch(/no page has room for <p> "never a full pot"$/);
  });

  it('reports a part that is longer than a page, and prints what comes after it', async () => {
    const job = place.sheet('too-long', {
      body: '<h1>Too long</h1><div class="tall">tall</div><p>after it</p>',
      style: '.tall { height: 400mm }',
    });
    const { results } = await render([job]);
    expect(results[0]?.overflow).toEqual(['page 1: <div> "tall" goes on past the end of its page']);
    const { pages } = await readPdf(job.pdfPath);
    expect(pages.map((page) => page.text).join(' ')).toContain('after it');
  });

  it('asks nothing of the network, and says so', async () => {
    const asked: string[] = [];
    const server = createServer((request, answer) => {
      asked.push(request.url ?? '');
      answer.end();
    });
    await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
    const { port } = server.address() as AddressInfo;
    const job = place.sheet('network', {
      body: `<h1>x</h1><img alt="" src="http://127.0.0.1:${port}/mark.png">`,
    });
    const { results } = await render([good('first'), job], { concurrency: 1 });
    server.close();
    expect(asked).toEqual([]);
    expect(results.map((result) => result.error?.code)).toEqual([undefined, 'sheet-asset']);
  });
});

describe('a browser', () => {
  it('that is missing is one fault for each job, with what to install', async () => {
    const { results, browser: words } = await renderSheets([good('m1'), good('m2')], {
      cacheDir: freshCache(),
      findBrowserOptions: { env: {}, platform: 'linux', arch: 'arm64', exists: () => false },
    });
    expect(words).toBe('');
    expect(results.map((result) => result.error)).toEqual(
      Array(2).fill({
        code: 'browser-missing',
        found: 'No browser that can print sheets was found.',
        expected: 'a Chromium-based browser',
        mend: 'Install chromium with your package manager. Or set KETTLESIDE_BROWSER to the program file of a Chromium-based browser.',
      }),
    );
  });

  it('that does not start is tried once, and every job says why', async () => {
    const script = place.path('not-a-browser');
    writeFileSync(script, `#!/bin/sh\necho started >> ${place.path('starts')}\nexit 3\n`, { mode: 0o755 });
    const jobs = [good('n1'), good('n2'), good('n3')];
    const { results } = await render(jobs, {
      browser: { path: script, source: 'setting', version: '1.0.0.0' },
      concurrency: 1,
    });
    expect(results.map((result) => result.error?.code)).toEqual(Array(3).fill('browser-start'));
    expect(readFileSync(place.path('starts'), 'utf8').trim().split('\n')).toHaveLength(1);
  });

  it.runIf(process.platform !== 'win32')('that crashes as it starts is tried a second time', async () => {
    const script = place.path('crashing');
    writeFileSync(script, `#!/bin/sh\necho started >> ${place.path('crashes')}\nkill -SEGV $$\n`, {
      mode: 0o755,
    });
    const { results } = await render([good('c1')], {
      browser: { path: script, source: 'setting', version: '1.0.0.0' },
    });
    expect(results[0]?.error?.code).toBe('browser-start');
    expect(readFileSync(place.path('crashes'), 'utf8').trim().split('\n')).toHaveLength(2);
  });

  const linux = process.platform === 'linux';

  it.runIf(linux)('that is killed half-way costs no sheet', async () => {
    const jobs = ['k1', 'k2', 'k3', 'k4', 'k5', 'k6'].map(good);
    const killed: number[] = [];
    const onProgress = ({ done }: SheetProgress) => {
      if (done !== 2) return;
      for (const pid of childrenRunning(browser.path)) {
        killed.push(pid);
        signal(pid, 'SIGKILL');
      }
    };
    const { results } = await render(jobs, { onProgress });
    expect(killed.length).toBeGreaterThan(0);
    expect(results.map((result) => result.error)).toEqual(Array(6).fill(undefined));
    for (const job of jobs) expect(await wholePages(job)).toBe(1);
    expect(strays(place.path('pdf'))).toEqual([]);
    expect(childrenRunning(browser.path)).toEqual([]);
  });

  it.runIf(linux)('that dies twice over one sheet fails that sheet alone', async () => {
    const poison = hanging('poison', 'window.kettlesideSheet = new Promise(() => {});');
    const jobs = [good('p1'), poison, good('p2'), good('p3')];
    let others = 0;
    let ended = false;
    const kills = new Set<number>();
    const killer = async () => {
      while (!ended) {
        // Killed as soon as a page is being opened: a call that is under way must not be waited for.
        const killable = others === 3 ? childrenRunning(browser.path).filter(hasPage) : [];
        for (const pid of killable) {
          kills.add(pid);
          signal(pid, 'SIGKILL');
        }
        await wait(5);
      }
    };
    const killing = killer();
    const onProgress = ({ status }: SheetProgress) => {
      if (status === 'rendered') others += 1;
    };
    const { results } = await render(jobs, { onProgress });
    ended = true;
    await killing;
    expect(results.map((result) => result.error?.code)).toEqual([
      undefined,
      'browser-crash',
      undefined,
      undefined,
    ]);
    expect(kills.size).toBe(2);
  });

  it.runIf(linux)('that stops to answer is ended by force', async () => {
    const jobs = [good('f1'), good('f2'), good('f3')];
    const onProgress = ({ done }: SheetProgress) => {
      if (done === 1) for (const pid of childrenRunning(browser.path)) signal(pid, 'SIGSTOP');
    };
    const { results } = await render(jobs, { onProgress, concurrency: 1, timeout_ms: STUCK_MS });
    expect(results.map((result) => result.error?.code)).toEqual([undefined, 'sheet-timeout', undefined]);
    await wait(200);
    expect(childrenRunning(browser.path)).toEqual([]);
  });
});

describe('a disk', () => {
  it('with no room fails the sheet, keeps the PDF that was there, and leaves nothing half-written', async () => {
    const job = good('full');
    mkdirSync(place.path('pdf'), { recursive: true });
    writeFileSync(job.pdfPath, 'the old sheet');
    const noRoom = {
      ...DISK,
      async fill(path: string, bytes: Uint8Array) {
        await DISK.fill(path, bytes.subarray(0, 1000));
        throw Object.assign(new Error('ENOSPC: no space left on device, write'), { code: 'ENOSPC' });
      },
    };
    const { results } = await render([job], { writeSteps: noRoom });
    expect(results[0]?.error).toEqual({
      code: 'disk-full',
      found: `no space left while writing ${job.pdfPath}`,
      expected: 'room for the finished sheet',
      mend: 'free some space, then build again; sheets that were finished are kept',
    });
    expect(readFileSync(job.pdfPath, 'utf8')).toBe('the old sheet');
    expect(strays(place.path('pdf'))).toEqual([]);
  });

  it('that is really full is told the same', async (test) => {
    const small = place.path('small');
    test.skip(
      !mounted(small),
      'only root on Linux can mount a small disk; the writer above says ENOSPC everywhere',
    );
    try {
      const jobs = ['s1', 's2', 's3'].map((id) => ({ ...good(id), pdfPath: join(small, `${id}.pdf`) }));
      const { results } = await render(jobs, { concurrency: 1 });
      expect(results[0]?.status).toBe('rendered');
      expect(results.at(-1)?.error?.code).toBe('disk-full');
      expect(await wholePages(jobs[0] as SheetJob)).toBe(1);
      const written = results.flatMap(({ id, status }) => (status === 'rendered' ? [`${id}.pdf`] : []));
      expect(readdirSync(small).sort()).toEqual(written);
    } finally {
      execFileSync('umount', [small]);
    }
  });

  it('that cannot be written to at the place of one sheet costs that sheet only', async () => {
    writeFileSync(place.path('a-file'), '');
    const jobs = [{ ...good('w1'), pdfPath: place.path('a-file', 'w1.pdf') }, good('w2')];
    const { results } = await render(jobs);
    expect(results[0]?.error?.code).toBe('output-folder');
    expect(results[0]?.error?.found).toContain(place.path('a-file', 'w1.pdf'));
    expect(results[1]?.status).toBe('rendered');
  });

  it('that takes no cache costs no sheet and is noted', async () => {
    writeFileSync(place.path('no-cache'), '');
    const { results, notes } = await render([good('c1'), good('c2')], { cacheDir: place.path('no-cache') });
    expect(results.map((result) => result.status)).toEqual(['rendered', 'rendered']);
    expect(notes.map((note) => note.code)).toEqual(['output-folder']);
  });

  it('is cleared of what a killed run left, and not of what a running one writes', async () => {
    mkdirSync(place.path('pdf'), { recursive: true });
    // No process has the highest number that the kernel knows of.
    const dead = place.path('pdf', '.x.pdf.4194304-1.part');
    const alive = place.path('pdf', `.y.pdf.${process.ppid}-1.part`);
    for (const path of [dead, alive]) writeFileSync(path, 'half');
    await render([good('sweep')]);
    expect(existsSync(dead)).toBe(false);
    expect(existsSync(alive)).toBe(true);
  });
});

function mounted(folder: string): boolean {
  if (process.platform !== 'linux' || process.getuid?.() !== 0) return false;
  mkdirSync(folder);
  try {
    // Room for one or two sheets.
    execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=64k', 'tmpfs', folder], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
}
