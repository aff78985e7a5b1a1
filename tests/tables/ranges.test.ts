import { describe, expect, it } from 'vitest';
import { figures, listOf, matched, type Row, rowsOf, type TableName, textOf } from './tables.ts';

function rowNamed(table: TableName, name: string): Row {
  const row = rowsOf(table).find((one) =>
    [textOf(one, 'name'), ...listOf(one, 'also')].some((other) => matched(other) === matched(name)),
  );
  if (row === undefined) throw new Error(`${name} is not in shared/${table}.yaml`);
  return row;
}

function within(row: Row, key: string, unit: string, low: number, high: number): void {
  const [from, to] = figures(textOf(row, key), unit);
  const label = `${textOf(row, 'name')}: ${key}`;
  expect(from, label).toBeGreaterThanOrEqual(low);
  expect(to, label).toBeLessThanOrEqual(high);
  expect(to, label).toBeGreaterThanOrEqual(from);
}

// Bounds are common practice, no source: wide enough for any honest row, narrow enough to catch a slipped digit.
describe('figures of the tables', () => {
  it('keep grain within what a laboratory finds', () => {
    for (const row of rowsOf('grains')) {
      within(row, 'yield', '%', 60, 85);
      within(row, 'colour', 'EBC', 1.5, 1600);
      within(row, 'fermentability', '%', 40, 100);
      expect(textOf(row, 'fermentable_as')).toBe('malt');
      expect(['', 'true']).toContain(textOf(row, 'needs_mash'));
    }
  });

  it('ask for a mash where the grain still holds its starch, and not where it does not', () => {
    for (const row of rowsOf('grains')) {
      const name = textOf(row, 'name');
      const needs = textOf(row, 'needs_mash') === 'true';
      if (/pilsner|pale malt|Munich|Vienna|flaked|torrified|raw/.test(name)) expect(needs, name).toBe(true);
      if (/crystal|black|roasted|dextrin/.test(name)) expect(needs, name).toBe(false);
    }
  });

  it('make darker crystal malt ferment less far', () => {
    const crystal = rowsOf('grains')
      .filter((row) => /^crystal malt \d+$/.test(textOf(row, 'name')))
      .map((row) => ({
        colour: figures(textOf(row, 'colour'), 'EBC')[0],
        name: Number(textOf(row, 'name').split(' ').at(-1)),
        fermentability: figures(textOf(row, 'fermentability'), '%')[0],
      }))
      .sort((a, b) => a.colour - b.colour);
    expect(crystal.length).toBeGreaterThanOrEqual(8);
    for (const [index, malt] of crystal.entries()) {
      expect(malt.name).toBe(malt.colour);
      const lighter = crystal[index - 1];
      if (lighter !== undefined) expect(malt.fermentability).toBeLessThan(lighter.fermentability);
    }
  });

  it('hold extract and water that together make the weight, within 2 %', () => {
    for (const table of ['extracts', 'sugars'] as const)
      for (const row of rowsOf(table)) {
        if (!('moisture' in row)) continue;
        const [dry] = figures(textOf(row, 'yield'), '%');
        const [wet] = figures(textOf(row, 'moisture'), '%');
        // What is neither extract nor water is ash, protein haze and rounding.
        expect(Math.abs(dry + wet - 100), textOf(row, 'name')).toBeLessThanOrEqual(2);
      }
  });

  it('set dry extract apart from liquid', () => {
    for (const row of rowsOf('extracts')) {
      const dry = textOf(row, 'form') === 'dry';
      expect(dry || textOf(row, 'form') === 'liquid').toBe(true);
      within(row, 'yield', '%', dry ? 95 : 77, dry ? 97 : 81);
      expect(textOf(row, 'name').includes('dry extract')).toBe(dry);
    }
  });

  it('leave lactose and maltodextrin to the drinker', () => {
    for (const row of rowsOf('sugars')) {
      const stays = /^(lactose|maltodextrin)$/.test(textOf(row, 'name'));
      expect(textOf(row, 'fermentable_as'), textOf(row, 'name')).toBe(stays ? 'none' : 'sugar');
      within(row, 'fermentability', '%', stays ? 0 : 70, stays ? 0 : 100);
    }
    expect(rowNamed('sugars', 'milk sugar').allergens).toEqual(['milk']);
  });

  it('give priming sugars the CO2 of their molar masses', () => {
    // Molar masses from C 12.011, H 1.008, O 15.999 (IUPAC abridged standard atomic weights, from memory).
    const [c, h, o] = [12.011, 1.008, 15.999];
    const co2 = c + 2 * o;
    const glucose = 6 * c + 12 * h + 6 * o;
    const water = 2 * h + o;
    const expected = {
      'table sugar': (4 * co2) / (2 * glucose - water),
      glucose: (2 * co2) / glucose,
      'glucose monohydrate': (2 * co2) / (glucose + water),
    };
    // Half of the last digit that the table prints.
    for (const [name, value] of Object.entries(expected))
      expect(Math.abs(Number(textOf(rowNamed('sugars', name), 'priming')) - value), name).toBeLessThan(6e-5);
  });

  it('never let an impure primer give more gas than pure sugar', () => {
    const primers = [...rowsOf('sugars'), ...rowsOf('extracts')].filter((row) => 'priming' in row);
    expect(primers.length).toBeGreaterThanOrEqual(10);
    for (const row of primers) {
      const value = Number(textOf(row, 'priming'));
      expect(value, textOf(row, 'name')).toBeGreaterThan(0.25);
      expect(value, textOf(row, 'name')).toBeLessThanOrEqual(0.5143);
    }
  });

  it('keep alpha acids within what hops are grown to', () => {
    for (const row of rowsOf('hops')) {
      within(row, 'alpha', '%', 1, 24);
      const [low, high] = figures(textOf(row, 'alpha'), '%');
      expect(high, textOf(row, 'name')).toBeGreaterThan(low);
    }
  });

  it('keep yeast within what it does, and lager cooler than ale', () => {
    const families = ['ale', 'lager', 'wheat', 'kveik', 'belgian', 'brett', 'hybrid'];
    const met = new Set<string>();
    for (const row of rowsOf('yeasts')) {
      const family = textOf(row, 'yeast');
      met.add(family);
      within(row, 'attenuation', '%', 15, 95);
      within(row, 'temperature', '°C', family === 'lager' ? 7 : 13, family === 'lager' ? 15 : 40);
    }
    expect([...met].sort()).toEqual([...families].sort());
  });

  it('know the names that the manual uses', () => {
    const names: readonly (readonly [TableName, string])[] = [
      ['grains', 'Crystal-Malt 150'],
      ['grains', 'crystal 60 L'],
      ['extracts', 'pale liquid extract'],
      ['sugars', 'honey'],
      ['sugars', 'table sugar'],
      ['hops', 'fuggle'],
      ['hops', 'Goldings'],
      ['finings', 'kettle finings'],
      ['finings', 'yeast nutrient'],
      ['spices', 'bitter orange peel'],
      ['yeasts', 'English ale'],
    ];
    for (const [table, name] of names) expect(textOf(rowNamed(table, name), 'name')).not.toBe('');
  });
});
