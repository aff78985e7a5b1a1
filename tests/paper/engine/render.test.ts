import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { renderSheets } from '../../../lib/paper/engine/render-sheets.ts';
import type { SheetResult } from '../../../lib/paper/engine/sheet.ts';
import { objectText, type ReadPdf, readPdf } from './pdf-reading.ts';
import { additionRow, kettleSheet, Workplace } from './workplace.ts';

const ROWS = 45;

describe('a sheet with a table over several pages', () => {
  const place = new Workplace();
  let result: SheetResult;
  let pdf: ReadPdf;

  beforeAll(async () => {
    const job = place.sheet('kettle', { body: kettleSheet(ROWS) });
    const { results } = await renderSheets([job], { cacheDir: place.cacheDir });
    result = results[0] as SheetResult;
    expect(result.error).toBeUndefined();
    pdf = await readPdf(job.pdfPath);
  });
  afterAll(() => place.remove());

  it('is printed on as many pages as it says, each of A4', () => {
    expect(result.status).toBe('rendered');
    expect(result.pages).toBeGreaterThanOrEqual(3);
    expect(pdf.pages).toHaveLength(result.pages);
    for (const page of pdf.pages) {
      // A browser rounds a page to whole CSS pixels: 0.26 mm.
      expect(Math.abs(page.width_mm - 210)).toBeLessThan(0.3);
      expect(Math.abs(page.height_mm - 297)).toBeLessThan(0.3);
    }
  });

  it('has its name and the page number of all pages at the head of each', () => {
    for (const [at, page] of pdf.pages.entries()) {
      expect(page.text).toContain('Lock cottage stout');
      expect(page.text).toContain(`page ${at + 1} of ${result.pages}`);
    }
  });

  it('repeats the head of the table once on each page, above the rows', () => {
    for (const page of pdf.pages) {
      expect(page.text.split('How much')).toHaveLength(2);
      const head = page.words.find((word) => word.text === 'How much');
      const first = page.words.find((word) => /^hops /.test(word.text));
      expect(head?.y_mm).toBeLessThan(first?.y_mm ?? 0);
    }
  });

  it('has every row and the last words exactly once', () => {
    const all = pdf.pages.map((page) => page.text).join(' ');
    for (let row = 1; row <= ROWS; row += 1) {
      expect(all.match(new RegExp(`hops ${row}(?!\\d)`, 'g'))).toHaveLength(1);
    }
    expect(all.match(/The last words of the sheet\./g)).toHaveLength(1);
  });

  it('leaves screen elements off the paper', () => {
    expect(pdf.pages.map((page) => page.text).join(' ')).not.toContain('back');
  });

  it('is tagged, titled, in its language and has its headings as an outline', () => {
    expect(pdf.tagged).toBe(true);
    expect(pdf.title).toBe('Kettle sheet');
    expect(pdf.language).toBe('en-GB');
    expect(pdf.outline).toEqual(expect.arrayContaining(['Lock cottage stout', 'Read', 'Boil', 'Chill']));
  });

  it('embeds the font of the sheet', () => {
    const bytes = objectText(place.path('pdf', 'kettle.pdf'));
    expect(bytes).toMatch(/\/BaseFont \/[A-Z]{6}\+Atkinson/);
    expect(bytes).toMatch(/\/FontFile2 /);
  });

  it('reports every blank once, on its page, in its size', () => {
    expect(result.fields.map((field) => field.id)).toEqual([
      'A1',
      ...Array.from({ length: ROWS }, (_, at) => `C${at + 1}`),
    ]);
    for (const { id, page, box_mm } of result.fields) {
      // 8 × 10 mm in the style; a screen pixel is 0.26 mm, a layout unit 1/64 of it.
      expect(box_mm.width).toBeCloseTo(8, 1);
      expect(box_mm.height).toBeCloseTo(10, 1);
      const number = id.slice(1);
      if (id !== 'A1') expect(pdf.pages[page - 1]?.text).toMatch(new RegExp(`hops ${number}(?!\\d)`));
    }
    expect(result.fields[0]).toMatchObject({ key: 'volume', meaning: 'volume in the kettle', page: 1 });
  });

  it('reports boxes where they are on the paper: what is printed in one is inside it', () => {
    const box = result.fields[0]?.box_mm;
    const letter = pdf.pages[0]?.words.find((word) => word.text === 'V');
    if (!box || !letter) throw new Error('no box or no letter in it');
    expect(letter.x_mm).toBeGreaterThan(box.x);
    // The letter stands at the left edge, inside a border of 0.4 mm.
    expect(letter.x_mm - box.x).toBeLessThan(1);
    expect(letter.y_mm).toBeGreaterThan(box.y);
    expect(letter.y_mm).toBeLessThan(box.y + box.height);
  });

  it('finds nothing that sticks out', () => {
    expect(result.overflow).toEqual([]);
  });
});

describe('other sheets', () => {
  const place = new Workplace();
  afterAll(() => place.remove());

  const render = async (id: string, text: Parameters<Workplace['sheet']>[1]) => {
    const job = place.sheet(id, text);
    const { results } = await renderSheets([job], { cacheDir: place.cacheDir });
    return { job, result: results[0] as SheetResult };
  };

  it('keeps rows of one block together and still repeats the head', async () => {
    const blocks = Array.from({ length: 14 }, (_, at) => {
      const rows = [1, 2, 3].map((row) => additionRow(at * 3 + row)).join('');
      return `<tbody class="block">${rows}</tbody>`;
    }).join('');
    const head = '<thead><tr><th>Left</th><th>What</th><th>How much</th><th>Clock</th></tr></thead>';
    const { job, result } = await render('blocks', {
      body: `<h1>Blocks</h1><table>${head}${blocks}</table>`,
      style: '.block { break-inside: avoid }',
    });
    expect(result.error).toBeUndefined();
    expect(result.overflow).toEqual([]);
    const pdf = await readPdf(job.pdfPath);
    for (const page of pdf.pages) expect(page.text.split('How much')).toHaveLength(2);
    for (let block = 0; block < 14; block += 1) {
      const pages = [1, 2, 3].map(
        (row) => result.fields.find((field) => field.id === `C${block * 3 + row}`)?.page,
      );
      expect(new Set(pages).size, `pages of block ${block}: ${pages}`).toBe(1);
    }
  });

  it('does not double the head of a table that goes to the next page as a whole', async () => {
    const filler = '<p class="filler">first page</p>';
    const { job, result } = await render('pushed', {
      body: `<h1>Pushed</h1>${filler}<table class="whole"><thead><tr><th>Left</th></tr></thead><tbody>${additionRow(1)}</tbody></table>`,
      style: '.filler { height: 230mm; margin: 0 } .whole { break-inside: avoid; break-before: page }',
    });
    expect(result.error).toBeUndefined();
    const pdf = await readPdf(job.pdfPath);
    expect(pdf.pages.map((page) => page.text.split('Left').length - 1)).toEqual([0, 1]);
  });

  it('prints on US Letter', async () => {
    const { job, result } = await render('letter', { body: kettleSheet(3), paper: 'letter' });
    expect(result.error).toBeUndefined();
    const pdf = await readPdf(job.pdfPath);
    expect(Math.abs((pdf.pages[0]?.width_mm ?? 0) - 215.9)).toBeLessThan(0.3);
    expect(Math.abs((pdf.pages[0]?.height_mm ?? 0) - 279.4)).toBeLessThan(0.3);
  });

  it('names what sticks out of its page or its cell', async () => {
    const { result } = await render('overflow', {
      body: `<h1>Too wide</h1><p class="wide">a box too wide</p>
<table><tbody><tr><td>${'unbreakable'.repeat(9)}</td><td>fits</td></tr></tbody></table>
<p class="free" data-outside>a mark in the margin</p>`,
      style: '.wide { width: 190mm } .free { position: absolute; left: -10mm; top: -10mm; margin: 0 }',
    });
    expect(result.status).toBe('rendered');
    expect(result.overflow).toHaveLength(2);
    // 190 mm of box in 178 mm of page.
    expect(result.overflow[0]).toBe('page 1: <p> "a box too wide" sticks out of its page by 12 mm');
    expect(result.overflow[1]).toContain('<td> "unbreakableunbreakable');
  });

  it('takes links to files off the paper and keeps links to the web', async () => {
    const { job, result } = await render('links', {
      body: '<h1 id="top">Links</h1><p><a href="other.html">file</a> <a href="https://example.org/b/12">web</a> <a href="#top">up</a></p>',
    });
    expect(result.error).toBeUndefined();
    const bytes = objectText(job.pdfPath);
    expect(bytes).toContain('(https://example.org/b/12)');
    expect(bytes).not.toContain('file://');
    expect(bytes).not.toContain('other.html');
  });
});
