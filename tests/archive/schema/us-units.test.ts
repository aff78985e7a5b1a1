import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkBatch } from '../../../lib/archive/schema/check-batch.ts';
import { checkSetups, checkTable } from '../../../lib/archive/schema/check-tables.ts';
import { example } from '../../../lib/archive/schema/examples.ts';
import { tablesOf } from '../../../lib/archive/schema/names.ts';
import { splitFrontmatter } from '../../../lib/archive/yaml/frontmatter.ts';
import { readYaml } from '../../../lib/archive/yaml/read.ts';

// Worked by hand from 1 gal = 3.7854 L, 1 lb = 453.59 g, 1 ft = 0.3048 m and °F = 1.8 °C + 32, to two figures.
it.each([
  ['19 L', '5 gal'],
  ['0.5 L', '0.53 qt'],
  ['500 ml', '17 fl oz'],
  ['20 °C', '68 °F'],
  ['17-21 °C', '63-70 °F'],
  ['30 g', '1.1 oz'],
  ['1.5 kg', '3.3 lb'],
  ['3 L/kg', '1.4 qt/lb'],
  ['2.2 L/h', '0.58 gal/h'],
  ['1.5 ml/L', '0.19 fl oz/gal'],
  ['150 m', '492 ft'],
  ['4 bar', '58 psi'],
  ['25 IBU in 23 L', '25 IBU in 6.1 gal'],
  ['4.5 g/L', '4.5 g/L'],
  ['60 min, ratio: 3 L/kg }', '60 min, ratio: 1.4 qt/lb }'],
])('%s is %s to a brewer who writes in US units', (metric, us) => {
  expect(example('us', metric)).toBe(us);
  expect(example('metric', metric)).toBe(metric);
});

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
