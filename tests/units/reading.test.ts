import { unit } from 'mathjs';
import { expect, it, test } from 'vitest';
import { parseClock, parseMoment, UNIT_PROBLEMS } from '../../lib/units/parse/parse.ts';
import { FAULTS } from './fault.cases.ts';
import {
  AMOUNTS,
  CELLS,
  CLOCKS,
  DATES,
  FACTORS,
  GRAVITIES,
  MOMENTS,
  QUANTITIES,
  RANGES,
  type Reader,
  read,
} from './reading.cases.ts';

const about = (value: number | undefined): unknown => (value === undefined ? null : expect.closeTo(value, 9));
const reads = (text: string, by: Reader, value: unknown, units: 'metric' | 'us' = 'metric'): void =>
  expect(read(text, by, units)).toEqual({ ok: true, value });

it.each(FACTORS)('%s as %s is what mathjs makes of %s', (text, by, theirs, to) => {
  const found = read(text, by, 'metric');
  if (!found.ok) expect.fail(found.code);
  const { value } = found.value as { readonly value: number };
  // mathjs carries some of its own units with seven digits only.
  expect(Math.abs(value / unit(theirs).toNumber(to) - 1)).toBeLessThan(1e-6);
});

for (const [text, by, units, value, , u] of QUANTITIES) {
  it(`${text} as ${by} in ${units} units is ${value} in the internal unit`, () =>
    reads(text, by, { value: about(value), u: about(u), written: text }, units));
}

it.each(RANGES)('%s goes from %d to %d', (text, low, high) =>
  reads(text, 'range', { low: about(low), high: about(high), written: text }),
);

for (const [text, scale, value, u = null, sample_C] of GRAVITIES) {
  it(`${text} is read as it is on the instrument`, () =>
    reads(text, 'gravity', { scale, value, u, sample_C: about(sample_C), written: text }));
}

it.each([
  ['9.7 L', null, null],
  ['9.7 ± 0.2 L @ 60 °C', 0.2, 60],
])('the volume %s may say how warm it was', (text, u, at_C) =>
  reads(text, 'volume reading', { value: 9.7, u, at_C, written: text }),
);

for (const [text, value, unit, units] of AMOUNTS)
  it(`the amount ${text} is ${value} ${unit}`, () =>
    reads(text, 'amount', { value: about(value), unit, written: text }, units));

for (const [text, billion, per, u = null] of CELLS)
  it(`${text} is ${billion} billion to the ${per}`, () => reads(text, 'cells', { billion, per, u }));

it.each([
  ['25 IBU in 23 L', null],
  ['25 IBU in 23 L for 1.7 kg', 1700],
])("a kit's bitterness of %s may say for which weight", (text, labelWeight_g) =>
  reads(text, 'kit', { ibu: 25, in_L: 23, labelWeight_g, written: text }),
);

it.each(CLOCKS)('the clock time %s is %s', (text, clock) => reads(text, 'clock', clock));
it.each(DATES)('%s is a day', (text) => reads(text, 'date', text));
for (const [text, date, clock = null] of MOMENTS)
  it(`${text} is ${date} ${clock}`, () => reads(text, 'moment', { date, clock }));

it.each([
  ['1:35', { code: 'clock-form', offers: ['1:35 AM', '1:35 PM'] }],
  ['1:35 PM', { ok: true, value: '13:35' }],
  ['13:35', { ok: true, value: '13:35' }],
  ['01:35', { ok: true, value: '01:35' }],
  ['0:35', { ok: true, value: '00:35' }],
])('by a clock of twelve hours %s could be either half of the day, or says which', (text, found) => {
  expect(parseClock(text, true)).toMatchObject(found);
  const moment = parseMoment(`Nov 9, 2026 ${text}`, null, true);
  expect(moment.ok).toBe('ok' in found);
});

it.each([
  ['Nov 9, 2026 1:35', null, 'write "Nov 9, 2026 1:35 AM" or "Nov 9, 2026 1:35 PM"'],
  ['Nov 9 1:35', '2026-11-01', 'write "Nov 9 1:35 AM" or "Nov 9 1:35 PM"'],
  ['Nov 9 1:35', null, 'write "Nov 9 1:35 AM" or "Nov 9 1:35 PM"'],
  ['Nov 9 1:35 PM', null, 'write the year too, as in "Feb 14, 2026"'],
])('asks of %s after %s for what is missing alone', (text, after, mend) => {
  expect(parseMoment(text, after, true)).toMatchObject({ ok: false, mend });
});

it.each(FAULTS)('%s as %s in %s units is %s', (text, by, units, code, mend) => {
  const fault = read(text, by, units);
  if (fault.ok) expect.fail(`read as ${JSON.stringify(fault.value)}`);
  expect(fault).toMatchObject({
    code,
    mend: expect.stringContaining(mend),
    found: expect.stringMatching(/^".*"$/),
  });
  expect(`${fault.expected} ${fault.mend}`).not.toMatch(/undefined|NaN|null|\[object|[{}]/);
});

it.each(['10/g', '10e9/g', 'billion/g', '10 billion/kilo', '', '-3 billion/g'])(
  '%j is no number of cells',
  (text) => expect(read(text, 'cells', 'metric').ok).toBe(false),
);

test('every listed code can be met', () => {
  expect([...new Set(FAULTS.map(([, , , code]) => code))].sort()).toEqual(Object.keys(UNIT_PROBLEMS).sort());
});

test('a fault speaks in whole words: found, expected, mend', () => {
  expect(read('30 min', 'mass', 'metric')).toEqual({
    ok: false,
    code: 'quantity-wrong-unit',
    found: '"30 min"',
    expected: 'a weight with its unit, such as 30 g, not a length of time',
    mend: 'write "30 g" or "30 kg"',
    offers: ['30 g', '30 kg'],
  });
  const hot = read('200 °C', 'temperature', 'us');
  expect(hot).toMatchObject({ expected: 'a temperature from \u221240 °F to 302 °F', offers: [] });
  // One short line, whatever was written.
  const long = read(`a\n\u0007${'b'.repeat(100)}`, 'mass', 'metric');
  expect(long).toMatchObject({ found: `"a  ${'b'.repeat(57)}…"` });
});
