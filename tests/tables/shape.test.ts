import { describe, expect, it } from 'vitest';
import { allRows, figures, isOpened, listOf, matched, rowsOf, TABLES, textOf } from './tables.ts';

const rows = allRows();
const fermentables = rows.filter(({ row }) => ['grain', 'extract', 'sugar'].includes(textOf(row, 'kind')));

describe('the reference tables', () => {
  it('hold as many ingredients as a kitchen brewer asks for', () => {
    expect(fermentables.length).toBeGreaterThanOrEqual(60);
    expect(rowsOf('hops').length).toBeGreaterThanOrEqual(65);
    expect(rowsOf('yeasts').length).toBeGreaterThanOrEqual(28);
    for (const table of TABLES) expect(rowsOf(table).length, table).toBeGreaterThanOrEqual(15);
  });

  it('never give one name to two ingredients', () => {
    const owner = new Map<string, string>();
    for (const { row } of rows) {
      const name = textOf(row, 'name');
      for (const one of [name, ...listOf(row, 'also')]) {
        const key = matched(one);
        expect(owner.get(key), `"${one}" of ${name}`).toBeUndefined();
        owner.set(key, name);
      }
    }
    expect(owner.size).toBeGreaterThan(rows.length);
  });

  it('say of every row where it comes from', () => {
    for (const { row } of rows) {
      if (isOpened(row)) continue;
      expect(textOf(row, 'source'), textOf(row, 'name')).toMatch(/from memory|Regulation 1169\/2011/);
    }
  });

  it('name an opened publication in at least half of the rows that set strength and bitterness', () => {
    for (const table of ['hops', 'grains', 'extracts', 'sugars'] as const) {
      const all = rowsOf(table);
      expect(all.filter(isOpened).length * 2, table).toBeGreaterThanOrEqual(all.length);
    }
  });

  it('hold no hop to other alpha acids than its publication, within half a point', () => {
    for (const row of rowsOf('hops').filter(isOpened)) {
      const read = /(\d+(?:\.\d+)?(?:-\d+(?:\.\d+)?)? %)/.exec(textOf(row, 'source'));
      const [published, upTo] = figures(read?.[1] ?? '', '%');
      const [low, high] = figures(textOf(row, 'alpha'), '%');
      expect(published, textOf(row, 'name')).toBeGreaterThanOrEqual(low - 0.5);
      expect(upTo, textOf(row, 'name')).toBeLessThanOrEqual(high + 0.5);
    }
  });

  it('name allergens from a closed list', () => {
    const known = ['gluten', 'milk', 'fish', 'egg', 'sulphites', 'tree nuts', 'mustard', 'coconut'];
    const met = new Set<string>();
    for (const { row } of rows)
      for (const allergen of listOf(row, 'allergens')) {
        expect(known, textOf(row, 'name')).toContain(allergen);
        met.add(allergen);
      }
    expect([...met].sort()).toEqual([...known].sort());
  });

  it('warn of gluten in all malt, grain and extract but those named here', () => {
    const free = /^(buckwheat malt|flaked maize|flaked rice|sorghum liquid extract)$/;
    for (const { row } of fermentables) {
      const name = textOf(row, 'name');
      if (textOf(row, 'kind') === 'sugar') continue;
      const has = listOf(row, 'allergens').includes('gluten');
      expect(has, name).toBe(!free.test(name));
    }
  });
});
