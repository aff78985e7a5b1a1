import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkBatch } from '../../../lib/archive/schema/check-batch.ts';
import { checkSetups, checkTable } from '../../../lib/archive/schema/check-tables.ts';
import { tablesOf } from '../../../lib/archive/schema/names.ts';
import { splitFrontmatter } from '../../../lib/archive/yaml/frontmatter.ts';
import { readYaml } from '../../../lib/archive/yaml/read.ts';

describe('a US-unit brewer is told nothing in metric units', () => {
  const METRIC = /[0-9] ?(L|ml|°C|kg|g|EBC|bar|L\/h|L\/kg|m)(?![A-Za-z/])/;
  const golden = join(import.meta.dirname, 'golden');
  const value = (text: string): unknown => {
    const read = readYaml(text);
    return read.ok ? read.value : null;
  };
  const tables = tablesOf(
    checkTable(value(readFileSync(join(golden, 'tables/all.yaml'), 'utf8')), 'metric').rows,
  );
  const { setups } = checkSetups({ stove: { kettle: '4 gal' }, shed: { kettle: '8 gal' } }, 'us');

  it('by any message about a batch', () => {
    let told = 0;
    for (const name of readdirSync(join(golden, 'broken/batches'))) {
      const split = splitFrontmatter(readFileSync(join(golden, 'broken/batches', name), 'utf8'));
      const raw = split.ok ? value(split.yaml) : null;
      // In a comma decimal the brewer's own figure is given back.
      if (typeof raw !== 'object' || raw === null || Array.isArray(raw) || name === 'comma-decimal.md')
        continue;
      const { problems } = checkBatch('x', raw as Record<string, unknown>, '', {
        units: 'us',
        setups,
        tables,
      });
      for (const problem of problems) {
        told += 1;
        expect(`${problem.code} ${problem.expected} ${problem.mend}`).not.toMatch(METRIC);
      }
    }
    expect(told).toBeGreaterThan(40);
  });

  it('nor about a kit', () => {
    const raw = value(readFileSync(join(golden, 'broken-kit/setups.yaml'), 'utf8'));
    const problems = [...checkSetups(raw, 'us').problems, ...checkSetups(null, 'us').problems];
    expect(problems.length).toBeGreaterThan(5);
    for (const { code, expected, mend } of problems) {
      // What stands at from: is the brewer's own figure.
      if (code !== 'heats-backwards') expect(`${expected} ${mend}`).not.toMatch(METRIC);
    }
  });

  it('but our samples in gallons, quarts, pounds and °F', () => {
    const setups = checkSetups(null, 'us').problems;
    // By hand: 15 L / 3.7854 L = 3.963 gal, to two digits.
    expect(setups.map(({ mend }) => mend)).toEqual([
      'write for example stove: and below it, indented, kettle: 4 gal',
    ]);
    const raw = {
      title: 'x',
      setup: 'stove',
      recipe: { boil: '60 min', steep: { time: '20 min' }, package: {} },
    };
    const said = checkBatch('x', raw, '', { units: 'us', setups: new Map(), tables }).problems.map(
      ({ mend }) => mend,
    );
    // 19 L is 5.02 gal; 68 °C is 154.4 °F.
    expect(said).toContain('add the line into_fermenter: 5 gal');
    expect(said).toContain('add for example temperature: 154 °F');
  });

  it('and a yeast band from the tables is in °F', () => {
    const raw = {
      title: 'x',
      setup: 'stove',
      recipe: { into_fermenter: '5 gal', boil: '60 min', yeast: [{ name: 'English ale', amount: '11 g' }] },
    };
    const { batch } = checkBatch('x', raw, '', { units: 'us', setups, tables });
    expect(batch?.recipe.yeast[0]?.temperature_C).toEqual({ low: 17, high: 21, written: '63-70 °F' });
  });
});
