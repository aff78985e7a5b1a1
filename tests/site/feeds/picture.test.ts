import { mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawPictures } from '../../../lib/paper/engine/draw-pictures.ts';
import { type FoundBrowser, findBrowser } from '../../../lib/paper/engine/find-browser.ts';
import { PICTURE_SIZE } from '../../../lib/site/feeds/open-graph.ts';
import { pictureHtml, picturePath } from '../../../lib/site/feeds/picture.ts';
import { createPages } from '../../../lib/site/pages.ts';
import { contentWith, published, RECIPE_ONLY } from './site.ts';

const site = published();
const of = {
  siteName: site.brewery.name,
  units: site.brewery.units,
  fonts: { regular: 'data:,', bold: 'data:,' },
};

describe('the page that a picture is drawn from', () => {
  it('takes a title for text', () => {
    const html = pictureHtml(site.bySlug.get('odd-characters')!, of);
    expect(html).toContain('Mild &amp; &lt;bitter&gt;');
    expect(html).not.toMatch(/<bitter>|https?:/);
  });

  it('shows of a recipe alone nothing but the recipe', () => {
    const html = pictureHtml(site.bySlug.get('sluice-recipe')!, of);
    expect(html).toContain('Sluice');
    for (const word of RECIPE_ONLY) expect(html).not.toContain(word);
  });
});

describe('pages name a picture', () => {
  it('only where it is drawn and the site has an address', () => {
    const pages = createPages(contentWith('https://pennywort-lock.example/'), { pdfs: true });
    const image = `https://pennywort-lock.example/${picturePath('moorhen-brown-2')}`;
    expect(pages.file('batches/moorhen-brown-2/index.html')).toContain(
      `<meta property="og:image" content="${image}">`,
    );
    expect(pages.file('recipes/moorhen-brown-2/index.html')).toContain(`"image":"${image}"`);
    expect(pages.file('feed.json')).toContain(image);
    for (const none of [
      createPages(contentWith('https://pennywort-lock.example/')),
      createPages(contentWith(null), { pdfs: true }),
    ]) {
      expect(none.file('batches/moorhen-brown-2/index.html')).not.toContain('picture.png');
      expect(none.file('recipes/moorhen-brown-2/index.html')).not.toContain('picture.png');
    }
  });
});

describe('drawing', () => {
  let folder: string;
  let browser: FoundBrowser;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'pictures-'));
    const found = await findBrowser();
    if ('missing' in found) throw new Error(found.missing);
    browser = found;
  });
  afterAll(() => rm(folder, { recursive: true, force: true }));

  it('gives a PNG of the size that is promised, once', async () => {
    const path = join(folder, 'out', 'picture.png');
    const job = { id: 'moorhen', html: pictureHtml(site.bySlug.get('moorhen-brown-2')!, of), path };
    const order = { browser, size: PICTURE_SIZE, cacheDir: join(folder, 'cache') };
    expect(await drawPictures([job], order)).toEqual([]);
    const png = await readFile(path);
    // Signature and the header's width and height (PNG, third edition, 5.2 and 11.2.1).
    expect([...png.subarray(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([1200, 630]);
    const [cached = ''] = await readdir(order.cacheDir);
    await writeFile(join(order.cacheDir, cached), 'drawn before');
    expect(await drawPictures([job], order)).toEqual([]);
    expect(await readFile(path, 'utf8')).toBe('drawn before');
  });

  it('says what could not be drawn, and draws the rest', async () => {
    const html = '<p>x</p>';
    await writeFile(join(folder, 'a file'), '');
    const jobs = [
      { id: 'nowhere', html, path: join(folder, 'a file', 'picture.png') },
      { id: 'fine', html: '<p>y</p>', path: join(folder, 'fine.png') },
    ];
    const faults = await drawPictures(jobs, { browser, size: PICTURE_SIZE, cacheDir: join(folder, 'cache') });
    expect(faults).toEqual([expect.stringMatching(/^nowhere: /)]);
    expect((await stat(join(folder, 'fine.png'))).size).toBeGreaterThan(100);
  });
});
