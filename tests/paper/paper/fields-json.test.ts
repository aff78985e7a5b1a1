import { mkdtemp, readFile, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Field, sheetFields } from '../../../lib/paper/blanks.ts';
import { renderSheets } from '../../../lib/paper/engine/render-sheets.ts';
import type { SheetField } from '../../../lib/paper/engine/sheet.ts';
import { batch, brewery, plan } from '../../words/fixture.ts';
import { openDesk } from './desk.ts';
import { type DrawnBox, drawnBoxes } from './drawn-boxes.ts';

/** A reader of photographed sheets needs to know a box to less than the width of a pencil's line. */
const AGREE_MM = 0.3;
const SIZES = [
  [8, 10],
  [15, 10],
  [6, 9],
  [12, 9],
] as const;

const CASES = (['kettle', 'cellar'] as const).flatMap((kind) =>
  (
    [
      ['a4', 'metric', (297 - 252) / 2],
      ['letter', 'us', (279.4 - 252) / 2],
    ] as const
  ).map(([paper, units, top]) => ({ kind, paper, units, top })),
);

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'fields-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const near = (a: number, b: number): boolean => Math.abs(a - b) <= AGREE_MM;

const isCell = ({ width, height }: DrawnBox): boolean =>
  SIZES.some(([w, h]) => near(width, w) && near(height, h));

const inside = (box: DrawnBox, { page, box_mm }: SheetField): boolean =>
  box.page === page &&
  box.x >= box_mm.x - AGREE_MM &&
  box.y >= box_mm.y - AGREE_MM &&
  box.x + box.width <= box_mm.x + box_mm.width + AGREE_MM &&
  box.y + box.height <= box_mm.y + box_mm.height + AGREE_MM;

/** How many boxes a blank has: one a digit, one a month. */
const boxesIn = (field: Field): number =>
  field.groups.reduce(
    (sum, { pattern }) => sum + [...pattern].filter((sign) => '#@'.includes(sign)).length,
    0,
  );

describe.each(CASES)('the blanks of the $kind sheet on $paper', ({ kind, paper, units, top }) => {
  let fields: readonly SheetField[];
  let drawn: readonly DrawnBox[];
  let pages: number;
  let size: number;
  const wanted = sheetFields(batch, units).filter((field) => field.sheet === kind);

  beforeAll(async () => {
    const desk = await openDesk(folder);
    const htmlPath = await desk.write(`${kind}-${paper}`, kind, batch, plan, { ...brewery, paper, units });
    const pdfPath = join(folder, `${kind}-${paper}.pdf`);
    const job = { id: kind, htmlPath, pdfPath, paper };
    const [result] = (await renderSheets([job], { cacheDir: join(folder, 'cache') })).results;
    if (!result || result.error) throw new Error(result?.error?.found);
    ({ fields, pages } = result);
    drawn = await drawnBoxes(await readFile(pdfPath));
    size = (await stat(pdfPath)).size;
  });

  it('are all told, each with its number, key and meaning', () => {
    const told = fields.map(({ id, key, meaning }) => `${id} ${key} ${meaning}`).sort();
    expect(told).toEqual(wanted.map(({ id, key, label }) => `${id} ${key} ${label}`).sort());
  });

  it('are drawn where they are said to be, box by box', () => {
    for (const field of wanted.filter((one) => one.kind !== 'text')) {
      const place = fields.find(({ id }) => id === field.id);
      if (!place) throw new Error(`${field.id} has no place`);
      const cells = drawn.filter((box) => isCell(box) && inside(box, place));
      expect(cells, field.id).toHaveLength(boxesIn(field));
      const left = Math.min(...cells.map(({ x }) => x));
      const upper = Math.min(...cells.map(({ y }) => y));
      const lower = Math.max(...cells.map(({ y, height }) => y + height));
      expect(Math.abs(left - place.box_mm.x), field.id).toBeLessThanOrEqual(AGREE_MM);
      expect(Math.abs(upper - place.box_mm.y), field.id).toBeLessThanOrEqual(AGREE_MM);
      expect(Math.abs(lower - place.box_mm.y - place.box_mm.height), field.id).toBeLessThanOrEqual(AGREE_MM);
    }
  });

  it('are lines where words are written', () => {
    for (const field of wanted.filter((one) => one.kind === 'text')) {
      const place = fields.find(({ id }) => id === field.id);
      if (!place) throw new Error(`${field.id} has no place`);
      const { x, y, width, height } = place.box_mm;
      const line = drawn.find(
        (box) =>
          box.page === place.page &&
          near(box.x, x) &&
          near(box.width, width) &&
          box.height < 0.6 + AGREE_MM &&
          near(box.y + box.height, y + height),
      );
      expect(line, field.id).toBeDefined();
    }
  });

  it('lie between four corner marks, outside of which nothing is drawn', () => {
    for (let page = 1; page <= pages; page += 1) {
      const onPage = drawn.filter((box) => box.page === page);
      const frame = onPage.find((box) => near(box.width, 178) && near(box.height, 252));
      expect(frame && near(frame.x, 20) && near(frame.y, top), `page ${page}`).toBe(true);
      for (const box of onPage) {
        // The ground of the page itself is as large as the page, or larger.
        if (box.width > 200 && box.height > 270) continue;
        expect(box.x, `page ${page}`).toBeGreaterThanOrEqual(20 - AGREE_MM);
        expect(box.x + box.width, `page ${page}`).toBeLessThanOrEqual(198 + AGREE_MM);
        expect(box.y, `page ${page}`).toBeGreaterThanOrEqual(top - AGREE_MM);
        expect(box.y + box.height, `page ${page}`).toBeLessThanOrEqual(top + 252 + AGREE_MM);
      }
    }
  });

  it('take less than 150 kB', () => {
    expect(size).toBeLessThan(150_000);
    expect(size).toBeGreaterThan(15_000);
  });
});
