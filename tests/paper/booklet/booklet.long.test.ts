import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findBrowser } from '../../../lib/paper/engine/find-browser.ts';
import { renderSheets } from '../../../lib/paper/engine/render-sheets.ts';
import type { SheetResult } from '../../../lib/paper/engine/sheet.ts';
import { loadSite } from '../../../lib/site/archive.ts';
import { writeAssets } from '../../../lib/site/assets.ts';
import { type Booklet, bookletOf, renderBooklet } from '../../../lib/site/booklet.ts';
import { createNunjucks } from '../../../lib/site/nunjucks.ts';
import { openOutput } from '../../../lib/site/output.ts';
import type { SiteContent } from '../../../lib/site/site.ts';
import { type ReadPdf, readPdf } from '../engine/pdf-reading.ts';

let folder: string;
let content: SiteContent;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'booklet-'));
  await mkdir(folder, { recursive: true });
  await writeAssets(openOutput(folder));
  const loaded = await loadSite('content');
  content = loaded.content;
});

afterAll(() => rm(folder, { recursive: true, force: true }));

async function printed(booklet: Booklet, name: string): Promise<{ result: SheetResult; pdf: ReadPdf }> {
  const htmlPath = join(folder, `${name}.html`);
  const pdfPath = join(folder, `${name}.pdf`);
  await writeFile(htmlPath, renderBooklet(createNunjucks(), booklet));
  const browser = await findBrowser();
  if ('missing' in browser) throw new Error(browser.missing);
  const job = { id: name, htmlPath, pdfPath, paper: booklet.paper };
  const options = { browser, cacheDir: join(folder, 'cache'), timeout_ms: 200_000 };
  const [result] = (await renderSheets([job], options)).results;
  if (!result || result.error) throw new Error(result?.error?.found);
  return { result, pdf: await readPdf(pdfPath) };
}

const squeezed = (text: string): string => text.replace(/\s+/g, '');

describe.each(['a4', 'letter'] as const)('the booklet on %s', (paper) => {
  let booklet: Booklet;
  let result: SheetResult;
  let pdf: ReadPdf;

  beforeAll(async () => {
    booklet = bookletOf(content, false, paper);
    ({ result, pdf } = await printed(booklet, `book-${paper}`));
  });

  it('loses nothing and leaves every page within its edges', () => {
    expect(result.overflow).toEqual([]);
    const size = paper === 'a4' ? [210, 297] : [215.9, 279.4];
    for (const page of pdf.pages) {
      expect(page.width_mm).toBeCloseTo(size[0] ?? 0, 2);
      expect(page.height_mm).toBeCloseTo(size[1] ?? 0, 2);
    }
  });

  it('says in its contents on which page each batch begins', () => {
    expect(booklet.batches.length).toBeGreaterThan(10);
    const at = pdf.pages.findIndex((page) => page.text.includes('Contents'));
    const contents = squeezed(pdf.pages[at]?.text ?? '');
    for (const { view, makes } of booklet.batches) {
      const page =
        1 +
        pdf.pages.findIndex((each) =>
          squeezed(each.text).includes(
            squeezed(`${view.title}${view.style === '' ? '' : `${view.style},`}${makes}`),
          ),
        );
      expect(page, view.title).toBeGreaterThan(at + 1);
      const style = view.style === '' ? '' : `, ${view.style}`;
      expect(contents).toContain(squeezed(`${view.number}${view.title}${style}${page}`));
    }
  });

  it('gives each batch a spread: figures on the left, what happened on the right', () => {
    for (const { view } of booklet.batches) {
      const right = pdf.pages.findIndex((page) =>
        squeezed(page.text).includes(squeezed(`${view.title}, what happened`)),
      );
      // Page 1 is a right one; counted from 0, right pages are even.
      expect(right % 2, view.title).toBe(0);
      expect(pdf.pages[right - 1]?.text).toContain('Recipe');
      const ink = pdf.pages[right]?.words ?? [];
      const head = ink.find(({ y_mm }) => y_mm < 25);
      expect(head?.text, view.title).toBe(view.title);
      expect(head?.x_mm).toBeGreaterThan(100);
    }
    const left = pdf.pages[3]?.words.find(({ y_mm }) => y_mm < 25);
    expect(left?.text).toBe(booklet.title);
    expect(left?.x_mm).toBeLessThan(30);
  });

  it('has no running head and no number on its cover and on blank pages', () => {
    expect(pdf.pages[0]?.text).not.toMatch(/\b1$/);
    expect(pdf.pages[1]?.text).toBe('');
  });

  it('leads from styles and ingredients to the pages of their batches', () => {
    const back = squeezed(
      pdf.pages
        .slice(-3)
        .map((page) => page.text)
        .join(' '),
    );
    for (const entry of [...booklet.styles, ...booklet.ingredients]) {
      const pages = entry.batches.map(({ id }) => {
        const at = booklet.batches.findIndex((batch) => batch.id === id);
        // A cover and its back, the contents, then a spread each.
        return 4 + 2 * at;
      });
      expect(back, entry.word).toContain(squeezed(`${entry.word}${pages.join('')}`));
    }
  });

  it('has its batches as bookmarks, a title and a language', () => {
    expect(pdf.tagged).toBe(true);
    expect(pdf.language).toBe(content.brewery.language);
    expect(pdf.title).toContain(booklet.title);
    for (const { view } of booklet.batches) expect(pdf.outline.join('\n')).toContain(view.title);
  });
});

describe('what stands in the booklet', () => {
  it('is what is published as brewed, and with all also the rest', () => {
    const hidden = content.entries.filter(({ batch }) => batch.publish !== 'all');
    expect(hidden.length).toBeGreaterThan(0);
    const open = renderBooklet(createNunjucks(), bookletOf(content, false));
    const all = renderBooklet(createNunjucks(), bookletOf(content, true));
    for (const { batch } of hidden) {
      expect(open).not.toContain(batch.slug);
      expect(open).not.toContain(batch.title.replaceAll("'", '&#39;'));
      expect(all).toContain(`batch-${batch.slug}`);
    }
  });
});
