/** Plain numbers with a decimal comma, which YAML keeps whole in a line of its own and in quotes. */
import { expect, it } from 'vitest';
import { batchSchema } from '../../../lib/archive/schema/batch-schema.ts';
import { rowSchema } from '../../../lib/archive/schema/ingredients-schema.ts';
import { valueAt } from '../../../lib/archive/schema/issues.ts';
import { setupSchema } from '../../../lib/archive/schema/setups-schema.ts';

const setup = (more: object) => setupSchema('metric').safeParse({ kettle: '15 L', ...more }).data;

it.each(['0.002', '0,002', ' 0,002 '])('a graduation of %s is read', (step) => {
  expect(setup({ hydrometer: { step } })?.hydrometer?.step).toBe(0.002);
});

it('a factor with its uncertainty is read with commas as with points', () => {
  for (const factor of ['1,04 ± 0,02', '1.04 ± 0.02']) {
    expect(setup({ refractometer_factor: factor })?.refractometer_factor).toMatchObject({
      value: 1.04,
      u: 0.02,
    });
  }
});

it('the gas of a primer and a score are read with a comma', () => {
  const row = { name: 'table sugar', kind: 'sugar', priming: '0,5143' };
  expect(rowSchema('metric', 'sugar').safeParse(row).data?.priming).toBe(0.5143);
  const batch = {
    title: 'A slip',
    recipe: { into_fermenter: '10 L', boil: '60 min' },
    readings: { tasted: [{ on: '2026-04-01', score: '3,5' }] },
  };
  const read = batchSchema('metric').safeParse(batch);
  expect(valueAt(read.data, ['readings', 'tasted', 0, 'score'])).toBe(3.5);
});

it.each(['1,2,3', '0,', ',5', '1.000,5', '0,002 SG'])('%s is no plain number', (step) => {
  expect(setup({ hydrometer: { step } })).toBeUndefined();
});
