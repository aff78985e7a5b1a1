import { execFileSync } from 'node:child_process';
import { copyFileSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, describe, expect, it } from 'vitest';
import { countPages, settleBytes } from '../../../lib/paper/engine/pdf-bytes.ts';
import { renderSheets } from '../../../lib/paper/engine/render-sheets.ts';
import type { SheetJob } from '../../../lib/paper/engine/sheet.ts';
import { objectText } from './pdf-reading.ts';
import { kettleSheet, Workplace } from './workplace.ts';

describe('the bytes of a PDF', () => {
  const place = new Workplace();
  afterAll(() => place.remove());

  const names = ['one', 'two', 'three', 'four'];
  const jobs = names.map((name, at) =>
    place.sheet(name, { title: name, body: kettleSheet(12 + at * 9, name) }),
  );

  it('are the same in another second, another browser, another order and a tab that printed before', async () => {
    const printed = async (order: typeof jobs, concurrency: number, cache: string) => {
      const { results } = await renderSheets(order, { cacheDir: place.path(cache), concurrency });
      for (const result of results) expect(result.error).toBeUndefined();
      return jobs.map((job) => readFileSync(job.pdfPath).toString('latin1'));
    };
    const first = await printed(jobs, 1, 'cache-a');
    await wait(1100);
    const backwards = await printed([...jobs].reverse(), 1, 'cache-b');
    const alone: string[] = [];
    for (const [at, job] of jobs.entries()) alone.push((await printed([job], 1, `cache-c${at}`))[at] ?? '');
    const together = await printed(jobs, 2, 'cache-d');
    expect(new Set(first).size).toBe(jobs.length);
    expect(backwards).toEqual(first);
    expect(alone).toEqual(first);
    expect(together).toEqual(first);
  });

  it('are the same for a sheet that comes after one from another folder', async () => {
    const text = (name: string, up: string) => ({
      title: name,
      body: `${kettleSheet(9, name)}<img alt="a mark" src="${up}assets/mark.svg">`,
      style: `@font-face { font-family: Other; src: url("${up}assets/sheet.woff2") } p { font-family: Other }
h2 { background: url(${up}assets/mark.svg) } img { width: 20mm }`,
    });
    writeFileSync(
      place.asset('mark.svg'),
      '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><rect width="7" height="3"/></svg>',
    );
    const near = place.sheet('near', text('near', '../../'));
    const job = place.sheet('deep', text('deep', '../../../'), ['batches', 'more', 'and']);
    const bytesOf = async (jobs: SheetJob[], cache: string) => {
      const { results } = await renderSheets(jobs, { cacheDir: place.path(cache), concurrency: 1 });
      for (const result of results) expect(result.error).toBeUndefined();
      return readFileSync(job.pdfPath, 'latin1');
    };
    const alone = await bytesOf([job], 'cache-alone');
    rmSync(job.pdfPath);
    expect((await bytesOf([near, job], 'cache-after')) === alone).toBe(true);
    expect(objectText(job.pdfPath).match(/\/BaseFont \/[A-Z]{6}\+Atkinson/g)?.length).toBeGreaterThan(0);
  });

  it('say nothing of the day of printing', () => {
    const bytes = objectText(jobs[0]?.pdfPath ?? '');
    expect(bytes.match(/\(D:\d+/g)).toEqual(['(D:20000101000000', '(D:20000101000000']);
  });

  it.runIf(has('qpdf'))('are a sound PDF to a checker', () => {
    const copy = place.path('checked.pdf');
    copyFileSync(jobs[3]?.pdfPath ?? '', copy);
    const said = execFileSync('qpdf', ['--check', copy], { encoding: 'utf8' });
    expect(said).toContain('No syntax or stream encoding errors found');
  });
});

describe('settleBytes', () => {
  const stream = `stream\n(node00000077) /CreationDate (D:20261125093320+00'00')\nendstream`;
  const raw = (date: string, a: string, b: string, id: string) =>
    `%PDF-1.4\n1 0 obj\n<</CreationDate (D:${date}) /ModDate (D:${date})>>\nendobj\n` +
    `2 0 obj\n<<>>\n${stream}\nendobj\n3 0 obj\n<</ID (node${b}) /Headers [(node${a}) (node${b})]>>\nendobj\n` +
    `4 0 obj\n<</Limits [${[a, b]
      .sort()
      .map((id) => `(node${id})`)
      .join(' ')}]\n` +
    `/Names [${[`(node${a}) 11 0 R`, `(node${b}) 3 0 R`].sort().join(' ')}]>>\nendobj\n` +
    `trailer\n<</Size 4 /ID [<${id}> <${id}>]>>\n%%EOF`;
  const settled = (text: string) => Buffer.from(settleBytes(Buffer.from(text, 'latin1'))).toString('latin1');

  it('makes files alike that differ in dates, in the identifiers and their order and in the file identifier', () => {
    const morning = raw("20261125093320+00'00'", '00000012', '00000345', 'ab'.repeat(16));
    const evening = raw("20270301211500-05'30'", '00001246', '00000913', 'cd'.repeat(16));
    expect(settled(morning)).toBe(settled(evening));
  });

  it('keeps length and whatever is inside a stream, and sorts the tree of identifiers', () => {
    const text = raw("20261125093320+00'00'", '00000012', '00000345', 'ab'.repeat(16));
    const calm = settled(text);
    expect(calm).toHaveLength(text.length);
    expect(calm).toContain(stream);
    expect(calm).toContain('/ID (node00000001) /Headers [(node00000002) (node00000001)]');
    const tree =
      '/Limits [(node00000001) (node00000002)]\n/Names [(node00000001) 3 0 R (node00000002) 11 0 R]';
    expect(calm).toContain(tree);
    expect(calm).toContain("(D:20000101000000+00'00')");
  });

  it('gives files of other content other identifiers', () => {
    const one = settled(raw('20261125093320Z', '00000001', '00000002', '00'.repeat(16)));
    const other = settled(
      raw('20261125093320Z', '00000001', '00000002', '00'.repeat(16)).replace('Size 4', 'Size 5'),
    );
    const id = /\/ID \[<([0-9a-f]{32})> <\1>\]/;
    expect(one).toMatch(id);
    expect(other).toMatch(id);
    expect(id.exec(one)?.[1]).not.toBe(id.exec(other)?.[1]);
  });

  it('counts page objects and not the tree of pages', () => {
    const text =
      '<</Type /Pages /Count 2>> <</Type /Page\n>> <</Type /Page>> stream\n/Type /Page \nendstream';
    expect(countPages(Buffer.from(text, 'latin1'))).toBe(2);
  });
});

function has(program: string): boolean {
  try {
    execFileSync(program, ['--version'], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
}
