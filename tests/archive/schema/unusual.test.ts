/** The edges of what is usual: no word at the limit itself, one just beyond. */
import { expect, it } from 'vitest';
import { checkBatch } from '../../../lib/archive/schema/check-batch.ts';
import { checkTable } from '../../../lib/archive/schema/check-tables.ts';
import { tablesOf } from '../../../lib/archive/schema/names.ts';

const rows = [
  { name: 'English ale', kind: 'yeast', attenuation: '72-77 %', temperature: '17-21 °C' },
  { name: 'Belgian ale', kind: 'yeast', attenuation: '72-77 %', temperature: '17-21 °C' },
  { name: 'Fuggle', kind: 'hop', alpha: '4-6 %' },
  { name: 'Saaz', kind: 'hop', alpha: '3-4 %' },
  { name: 'Trial 101', kind: 'hop', alpha: '3-4 %' },
  { name: 'table sugar', kind: 'sugar', yield: '100 %', colour: '0 EBC', priming: '0.5143' },
].map((row) => ({ ...row, source: 'made up' }));
const table = checkTable(rows, 'metric');

function warned(recipe: object, units: 'metric' | 'us' = 'metric'): string[] {
  const raw = { title: 'A slip', recipe: { into_fermenter: '10 L', boil: '60 min', ...recipe } };
  const around = { units, setups: new Map(), tables: tablesOf(table.rows) };
  return checkBatch('x', raw, '', around).problems.map(
    ({ path, expected }) => `${path.join('.')}: ${expected}`,
  );
}
const steep = (temperature: string, time = '20 min') => ({ steep: { temperature, time } });
const bottle = (size: string) => ({ package: { into: 'bottles', carbonation: '2.3 vol', bottle: size } });
const hop = (name: string, alpha = '5 %') => ({ hops: [{ name, weight: '30 g', alpha, add: '60 min' }] });
it.each([
  ['a cool steep', steep('40 °C')],
  ['a hot steep', steep('85 °C')],
  ['a long steep', steep('68 °C', '3 h')],
  ['a small bottle', bottle('50 ml')],
  ['a large bottle', bottle('10 L')],
  ['the strongest hop', hop('Fuggle', '30 %')],
  ['a hop two letters off', hop('Fuggola')],
  ['a short name', hop('Saas')],
  ['a number that tells hops apart', hop('Trial 102')],
])('nothing is said of %s', (_, recipe) => expect(warned(recipe)).toEqual([]));

it.each([
  ['a cold steep', steep('39.9 °C'), 'recipe.steep.temperature: a steep from 40 °C to 85 °C'],
  ['too hot a steep', steep('85.1 °C'), 'recipe.steep.temperature: a steep from 40 °C to 85 °C'],
  ['too long a steep', steep('68 °C', '181 min'), 'recipe.steep.time: a steep of at most 3 h'],
  ['a thimble', bottle('49 ml'), 'recipe.package.bottle: a bottle of 50 ml to 10 L'],
  ['a cask', bottle('10.1 L'), 'recipe.package.bottle: a bottle of 50 ml to 10 L'],
  [
    'too strong a hop',
    hop('Fuggle', '30.1 %'),
    'recipe.hops.0.alpha: at most 30 % in hops; extracts of hops hold more',
  ],
  ['no hop at all', hop('Fuggle', '71 %'), 'recipe.hops.0.alpha: 0 % to 70 %'],
  ['a letter wrong', hop('Fuggla'), 'recipe.hops.0.name: Fuggle, or a hop with exactly this name'],
  ['two letters swapped', hop('Fuggel'), 'recipe.hops.0.name: Fuggle, or a hop with exactly this name'],
])('%s is told', (_, recipe, said) => expect(warned(recipe)).toEqual([said]));

it('the same in US units', () => {
  expect(warned({ ...steep('100 °F'), ...bottle('3 gal') }, 'us')).toEqual([
    'recipe.steep.temperature: a steep from 104 °F to 185 °F',
    'recipe.package.bottle: a bottle of 1.7 fl oz to 2.6 gal',
  ]);
});
