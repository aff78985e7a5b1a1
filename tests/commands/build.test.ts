import { existsSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { filesBelow, filesThatHold } from '../site/files.ts';
import { type Place, place, type Ran, run, smallBatch, write } from './run.ts';

/** Titles and notes that stand nowhere else, so that a single one in the site is seen. */
const SECRET = 'Zwielichtmoor';
const HALF_SECRET = 'Quittenwehr';
const SHEETS = ['cellar-sheet', 'kettle-sheet', 'recipe-card'].flatMap((name) => [
  `${name}.html`,
  `${name}.pdf`,
]);

let made: Place;
let first: Ran;

const inOutput = (path: string): string => join(made.output, path);
const namesIn = (...path: string[]): string[] =>
  existsSync(join(...path)) ? readdirSync(join(...path)).sort() : [];
/** Pages, plans and PDFs; assets are the project's own and the same for everyone. */
const written = async (): Promise<string[]> =>
  (await filesBelow(made.output)).filter((path) => !path.startsWith('assets/'));

beforeAll(async () => {
  made = place([]);
  write(made.batch('open-book'), smallBatch('Open Book', ['publish: true'], `A note about ${HALF_SECRET}.`));
  write(
    made.batch('half-open'),
    smallBatch('Half Open', ['publish: recipe', 'private: |', `  ${SECRET}`, 'brewed: 1987-06-05'], SECRET),
  );
  write(made.batch('closed-book'), smallBatch(SECRET, ['publish: false', `tags: [${SECRET}]`], SECRET));
  write(made.batch('broken-book'), smallBatch('Broken Book').replace('boil: 30 min', 'boil: 30'));
  first = await run('build', made.folders);
});
afterAll(() => made.remove());

describe('the first build, with one broken batch', () => {
  it('tells of it, leaves it out, builds the rest and ends with 1', () => {
    expect(first.code).toBe(1);
    expect(first.err).not.toMatch(/^\s+at /m);
    expect(first.out).toMatch(/batches\/broken-book\.md:\d+:\d+ {2}recipe\.boil {2}\[quantity-no-unit\]/);
    expect(first.out).toContain('4 batch files: 3 fine, 1 with errors');
    expect(first.out).toContain('Left out because of errors: broken-book');
    expect(first.out).toContain('9 sheets: 9 written, 0 unchanged');
    expect(existsSync(inOutput('batches/broken-book'))).toBe(false);
  });

  it('puts everything of a published batch on the site', () => {
    expect(namesIn(made.output, 'batches/open-book')).toEqual(
      ['compare.js', 'fields.json', 'index.html', 'key-in', 'plan.json', ...SHEETS].sort(),
    );
    expect(existsSync(inOutput('recipes/open-book/index.html'))).toBe(true);
    const page = readFileSync(inOutput('batches/open-book/index.html'), 'utf8');
    for (const name of ['kettle-sheet', 'cellar-sheet', 'recipe-card']) expect(page).toContain(`${name}.pdf`);
  });

  it('puts of a recipe only the recipe and its card on the site', async () => {
    expect(namesIn(made.output, 'batches/half-open')).toEqual(['recipe-card.html', 'recipe-card.pdf']);
    expect(namesIn(made.output, 'recipes/half-open')).toEqual(['index.html', 'picture.png']);
    const own = SHEETS.filter((name) => !name.startsWith('recipe-card'));
    expect(namesIn(made.privateOutput, 'half-open')).toEqual(['fields.json', 'plan.json', ...own].sort());
    for (const date of ['1987-06', 'June 1987', 'Jun 1987'])
      expect(await filesThatHold(made.output, date)).toEqual([]);
  });

  it('keeps what is not published out of every byte of the site', async () => {
    expect(await filesThatHold(made.output, SECRET)).toEqual([]);
    expect(await filesThatHold(made.output, 'closed-book')).toEqual([]);
    expect(namesIn(made.privateOutput, 'closed-book')).toEqual(
      ['fields.json', 'plan.json', ...SHEETS].sort(),
    );
    // The search does find what is there.
    expect(await filesThatHold(made.output, HALF_SECRET)).toEqual([
      'batches/open-book/compare.js',
      'batches/open-book/index.html',
      'search/words-1.js',
    ]);
    expect(await filesThatHold(made.privateOutput, SECRET)).not.toEqual([]);
  });

  it('never copies what is private to a batch, not even to the private folder', () => {
    const half = namesIn(made.privateOutput, 'half-open').map((name) =>
      readFileSync(join(made.privateOutput, 'half-open', name)),
    );
    expect(half.filter((bytes) => bytes.includes(SECRET))).toEqual([]);
  });

  it('gives private pages their assets', () => {
    const html = readFileSync(join(made.privateOutput, 'closed-book/kettle-sheet.html'), 'utf8');
    const addresses = [...html.matchAll(/(?:src|href)="([^"#:]+)"|url\((?:'|")?([^'")#:]+)/g)].map(
      (match) => match[1] ?? match[2] ?? '',
    );
    const assets = addresses.filter((address) => address.includes('assets/'));
    expect(assets.length).toBeGreaterThan(0);
    for (const address of assets) {
      expect(existsSync(join(made.privateOutput, 'closed-book', address)), address).toBe(true);
    }
  });

  it('has the blanks of the form under the page of the paper that they stand on', () => {
    const html = readFileSync(inOutput('batches/open-book/key-in/index.html'), 'utf8');
    const { revision, fields } = JSON.parse(readFileSync(inOutput('batches/open-book/fields.json'), 'utf8'));
    expect(html).toContain(`“plan ${revision}”`);
    const data = /<script type="application\/json" id="key-in-data">(.*?)<\/script>/s.exec(html)?.[1] ?? '{}';
    const shown: Record<string, number> = JSON.parse(data).paper.pages;
    const onPaper = fields.map(({ key, page }: { key: string; page: number }) => [key, page]);
    expect(shown).toEqual(Object.fromEntries(onPaper));
    expect(new Set(Object.values(shown)).size).toBeGreaterThan(2);
  });

  it('says of every blank where it is', () => {
    const file = JSON.parse(readFileSync(inOutput('batches/open-book/fields.json'), 'utf8'));
    expect(file).toMatchObject({
      version: 2,
      slug: 'open-book',
      paper: 'a4',
      paper_mm: { width: 210, height: 297 },
    });
    const plan = JSON.parse(readFileSync(inOutput('batches/open-book/plan.json'), 'utf8'));
    expect(file.revision).toBe(plan.revision);
    const sheets = new Set(file.fields.map(({ sheet }: { sheet: string }) => sheet));
    expect([...sheets].sort()).toEqual(['cellar-sheet', 'kettle-sheet']);
    for (const { id, sheet, key, meaning, page, box_mm } of file.fields) {
      expect(
        [id, key, meaning].every((text) => typeof text === 'string' && text !== ''),
        id,
      ).toBe(true);
      expect(page).toBeGreaterThanOrEqual(1);
      expect(page).toBeLessThanOrEqual(file.pages[sheet]);
      expect(box_mm.x).toBeGreaterThanOrEqual(0);
      expect(box_mm.x + box_mm.width).toBeLessThanOrEqual(210);
      expect(box_mm.y + box_mm.height).toBeLessThanOrEqual(297);
    }
    const ids = file.fields.map(({ sheet, id }: { sheet: string; id: string }) => `${sheet} ${id}`);
    expect(new Set(ids).size).toBe(ids.length);
  });
});

describe('later builds', () => {
  it('print nothing again, and touch no PDF, where nothing has changed', async () => {
    rmSync(made.batch('broken-book'));
    const pdf = inOutput('batches/open-book/kettle-sheet.pdf');
    const before = statSync(pdf).mtimeMs;
    const second = await run('build', made.folders);
    expect(second).toMatchObject({
      code: 0,
      out: expect.stringContaining('9 sheets: 0 written, 9 unchanged'),
    });
    expect(statSync(pdf).mtimeMs).toBe(before);
  });

  it('take a batch that is withdrawn out of the site, PDFs and all', async () => {
    write(made.batch('open-book'), smallBatch('Open Book', ['publish: false']));
    write(made.batch('closed-book'), smallBatch('Closed Book', ['publish: true']));
    const { code } = await run('build', made.folders);
    expect(code).toBe(0);
    expect((await written()).filter((path) => path.includes('open-book'))).toEqual([]);
    expect(await filesThatHold(made.output, 'Open Book')).toEqual([]);
    expect(namesIn(made.privateOutput, 'open-book')).toContain('kettle-sheet.pdf');
    // What has been published since is no longer among the private sheets.
    expect(namesIn(made.privateOutput, 'closed-book')).toEqual([]);
    expect(namesIn(made.output, 'batches/closed-book')).toContain('kettle-sheet.pdf');
  });

  it('take a batch that is gone out of both folders', async () => {
    rmSync(made.batch('half-open'));
    rmSync(made.batch('open-book'));
    const { code } = await run('build', made.folders);
    expect(code).toBe(0);
    expect((await written()).filter((path) => /half-open|open-book/.test(path))).toEqual([]);
    expect(namesIn(made.privateOutput)).not.toEqual(expect.arrayContaining(['half-open']));
    expect(namesIn(made.privateOutput)).not.toEqual(expect.arrayContaining(['open-book']));
  });
});

describe('npm run sheets', () => {
  it('prints the sheets of the batches named, on the paper asked for', async () => {
    write(made.batch('open-book'), smallBatch('Open Book'));
    const { code, out } = await run('sheets', ['open-book', ...made.folders, '--paper', 'letter']);
    expect([code, out]).toEqual([0, expect.stringContaining('3 sheets: 3 written, 0 unchanged')]);
    expect(namesIn(made.output, 'batches/open-book')).toEqual(['fields.json', ...SHEETS].sort());
    const { paper } = JSON.parse(readFileSync(inOutput('batches/open-book/fields.json'), 'utf8'));
    expect(paper).toBe('letter');
  });

  it('leaves no older PDF behind where it cannot print', async () => {
    write(made.batch('closed-book'), smallBatch('Closed Book', ['publish: false']));
    await run('sheets', made.folders);
    expect(namesIn(made.privateOutput, 'closed-book')).toContain('kettle-sheet.pdf');
    const none = { KETTLESIDE_BROWSER: join(made.dir, 'no-browser') };
    const { code, out } = await run('build', made.folders, none);
    expect(code).toBe(1);
    expect(out).toContain('No PDFs were made. KETTLESIDE_BROWSER is set to');
    for (const folder of [made.output, made.privateOutput])
      expect((await filesBelow(folder)).filter((path) => /\.pdf$|fields\.json$/.test(path))).toEqual([]);
    const page = readFileSync(inOutput('batches/open-book/index.html'), 'utf8');
    expect(page).not.toContain('.pdf');
  });
});

describe('npm run site', () => {
  it('builds the same pages without PDFs, from the archive that npm kept the name of', async () => {
    const kept = { npm_config_content: made.content, npm_config_output: made.output };
    const { code, out } = await run('site', [], kept);
    expect(code).toBe(0);
    expect(out).toMatch(/^2 batch files: 2 fine$/m);
    const pages = SHEETS.filter((name) => name.endsWith('.html'));
    expect(namesIn(made.output, 'batches/open-book')).toEqual(
      ['compare.js', 'index.html', 'key-in', 'plan.json', ...pages].sort(),
    );
  });

  it('looks at no plan again once all is kept for the next build', async () => {
    write(made.batch('open-book'), smallBatch('Open Book Again'));
    const { code, out } = await run('site', made.folders.slice(0, 4));
    expect([code, out]).toEqual([0, expect.stringContaining('Rebuilt 1 of 1 batch')]);
  });

  it('leaves what was built before where nothing can be read', async () => {
    const before = await filesBelow(made.output);
    const nowhere = join(made.dir, 'nowhere');
    const { code, out } = await run('site', ['--content', nowhere, '--output', made.output]);
    expect([code, out]).toEqual([1, expect.stringContaining('what was built before is unchanged')]);
    expect(await filesBelow(made.output)).toEqual(before);
  });
});
