import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  crc16,
  FRAME_MM,
  fnv1a64,
  MARK_MM,
  readStrip,
  STRIP_CELLS,
  type StripPage,
  stripCellBox,
  stripCode,
  stripSheet,
} from '../../lib/photo/strip.ts';
import { stripCells } from '../tools/photo/paper.ts';

const bitsOf = (text: string): boolean[] =>
  [...new TextEncoder().encode(text)].flatMap((byte) =>
    Array.from({ length: 8 }, (_, at) => ((byte >> (7 - at)) & 1) === 1),
  );

const aPage: fc.Arbitrary<StripPage> = fc.record({
  sheet: fc.constantFrom('kettle', 'cellar', 'card'),
  page: fc.integer({ min: 1, max: 15 }),
  slug: fc.string({ minLength: 1 }),
  revision: fc.string({ minLength: 1 }),
});

const samples = (cells: readonly boolean[]): number[] => cells.map((cell) => (cell ? 1 : -1));

describe('the code strip', () => {
  it('has the published check value of its CRC', () => {
    // Check value of CRC-16/IBM-3740 in the catalogue of parametrised CRC algorithms (reveng).
    expect(crc16(bitsOf('123456789'))).toBe(0x29b1);
  });

  it.each([
    // Test vectors published with the hash (RFC 9923; from memory).
    ['', 0xcbf29ce484222325n],
    ['a', 0xaf63dc4c8601ec8cn],
    ['foobar', 0x85944171f73967e8n],
  ])('hashes %j as published', (text, hash) => expect(fnv1a64(text)).toBe(hash));

  it('brings back sheet, page and number', () => {
    fc.assert(
      fc.property(aPage, (page) => {
        const cells = stripCells(page);
        expect(cells).toHaveLength(STRIP_CELLS);
        const code = readStrip(samples(cells));
        expect(code).toBe(stripCode(page));
        expect(stripSheet(code ?? '')).toEqual({ sheet: page.sheet, page: page.page });
      }),
    );
  });

  it('refuses one to three wrong cells, and a strip from its other end', () => {
    fc.assert(
      fc.property(
        aPage,
        fc.uniqueArray(fc.nat(STRIP_CELLS - 1), { minLength: 1, maxLength: 3 }),
        (page, wrong) => {
          const cells = stripCells(page);
          expect(readStrip(samples(cells.map((cell, at) => cell !== wrong.includes(at))))).toBeNull();
        },
      ),
    );
    const page = { sheet: 'kettle', page: 2, slug: 'lock-house', revision: 'a1' } as const;
    expect(readStrip(samples([...stripCells(page)].reverse()))).toBeNull();
  });

  it('never has more than ten cells of one colour in a row on pages of one batch', () => {
    for (let page = 1; page <= 15; page += 1) {
      const cells = stripCells({ sheet: 'kettle', page, slug: 'lock-house', revision: 'a1' });
      const text = cells.map(Number).join('');
      expect(text).not.toMatch(/0{11}|1{11}/);
    }
  });

  it('stands between the bottom marks', () => {
    const [first, last] = [stripCellBox(0), stripCellBox(STRIP_CELLS - 1)];
    expect(first.x).toBeGreaterThan(MARK_MM + 1);
    expect(last.x + last.width).toBeLessThan(FRAME_MM.width - MARK_MM - 1);
    expect(first.y).toBeGreaterThan(FRAME_MM.height - MARK_MM);
    expect(first.y + first.height).toBeLessThan(FRAME_MM.height);
  });

  it('has no number for a page past 15', () => {
    expect(() => stripCode({ sheet: 'card', page: 16, slug: 'a', revision: 'b' })).toThrow(RangeError);
  });
});
