import { expect, test } from 'vitest';
import {
  type ParseContext,
  parseAmount,
  parseCells,
  parseClock,
  parseDate,
  parseGravity,
  parseKitBitterness,
  parseMoment,
  parseVolumeReading,
} from '../../lib/units/parse/parse.ts';
import {
  AMOUNT_CASES,
  AMOUNT_FAULT_CASES,
  CELL_CASES,
  CLOCK_CASES,
  CLOCK_FAULT_CASES,
  DATE_CASES,
  GRAVITY_CASES,
  GRAVITY_FAULT_CASES,
  MOMENT_CASES,
} from './reading.cases.ts';

const METRIC: ParseContext = { units: 'metric' };

test('gravities are read as they stand on the instrument', () => {
  let rows = 0;
  for (const row of GRAVITY_CASES) {
    expect(parseGravity(row.text), row.text).toEqual({
      ok: true,
      value: {
        scale: row.scale,
        value: row.value,
        u: row.u ?? null,
        sample_C: row.sample_C === undefined ? null : expect.closeTo(row.sample_C, 10),
        written: row.text,
      },
    });
    rows++;
  }
  expect(rows).toBe(17);
});

test('a gravity that cannot be one is named, with a mend', () => {
  let rows = 0;
  for (const row of GRAVITY_FAULT_CASES) {
    const read = parseGravity(row.text);
    if (read.ok) expect.fail(`${row.text} was read as ${read.value.value}`);
    expect(read.code, row.text).toBe(row.code);
    expect(read.mend, row.text).toContain(row.mend);
    rows++;
  }
  expect(rows).toBe(19);
});

test('a volume may say how warm it was', () => {
  const plain = { value: 9.7, u: null, at_C: null, written: '9.7 L' };
  expect(parseVolumeReading('9.7 L', METRIC)).toEqual({ ok: true, value: plain });
  expect(parseVolumeReading('9.7 ± 0.2 L @ 60 °C', METRIC)).toEqual({
    ok: true,
    value: { value: 9.7, u: 0.2, at_C: 60, written: '9.7 ± 0.2 L @ 60 °C' },
  });
  expect(parseVolumeReading('9.7 @ 60 °C', METRIC)).toMatchObject({
    code: 'quantity-no-unit',
    found: '"9.7 @ 60 °C"',
  });
  expect(parseVolumeReading('9.7 L @ 60', METRIC)).toMatchObject({ code: 'quantity-no-unit' });
});

test('amounts are weights, volumes or counts', () => {
  let rows = 0;
  for (const row of AMOUNT_CASES) {
    expect(parseAmount(row.text, { units: row.units ?? 'metric' }), row.text).toEqual({
      ok: true,
      value: { value: expect.closeTo(row.value, 9), unit: row.unit, written: row.text },
    });
    rows++;
  }
  expect(rows).toBe(16);
});

test('an amount that cannot be one is named, with a mend', () => {
  let rows = 0;
  for (const row of AMOUNT_FAULT_CASES) {
    const read = parseAmount(row.text, METRIC);
    if (read.ok) expect.fail(`${row.text} was read as ${read.value.value} ${read.value.unit}`);
    expect(read.code, row.text).toBe(row.code);
    expect(read.mend, row.text).toContain(row.mend);
    rows++;
  }
  expect(rows).toBe(13);
});

test('cells are so many billion in a gram, a millilitre or a pack', () => {
  let rows = 0;
  for (const row of CELL_CASES) {
    expect(parseCells(row.text), row.text).toEqual({
      ok: true,
      value: { billion: row.billion, per: row.per, u: row.u ?? null },
    });
    rows++;
  }
  expect(rows).toBe(6);
  for (const wrong of ['10 billion', '10/g', '10e9/g', 'billion/g', '10 billion/kilo', '', '-3 billion/g']) {
    expect(parseCells(wrong).ok, wrong).toBe(false);
  }
});

test("a kit's bitterness says in which volume, and may say for which weight", () => {
  expect(parseKitBitterness('25 IBU in 23 L', METRIC)).toEqual({
    ok: true,
    value: { ibu: 25, in_L: 23, labelWeight_g: null, written: '25 IBU in 23 L' },
  });
  expect(parseKitBitterness('25 IBU in 23 L for 1.7 kg', METRIC)).toMatchObject({
    value: { ibu: 25, in_L: 23, labelWeight_g: 1700 },
  });
  expect(parseKitBitterness('25 IBU', METRIC)).toMatchObject({ code: 'kit-bitterness-form' });
  expect(parseKitBitterness('25 IBU in 0 L', METRIC)).toMatchObject({ code: 'kit-bitterness-form' });
  expect(parseKitBitterness('25 in 23 L', METRIC)).toMatchObject({
    code: 'quantity-no-unit',
    found: '"25 in 23 L"',
  });
  expect(parseKitBitterness('25 IBU in 6 gal', METRIC)).toMatchObject({ code: 'quantity-two-readings' });
});

test('clock times are read as they are typed', () => {
  let rows = 0;
  for (const row of CLOCK_CASES) {
    expect(parseClock(row.text), row.text).toEqual({ ok: true, value: row.clock });
    rows++;
  }
  for (const row of CLOCK_FAULT_CASES) {
    const read = parseClock(row.text);
    if (read.ok) expect.fail(`${row.text} was read as ${read.value}`);
    expect(read.code).toBe('clock-form');
    expect(read.mend, row.text).toContain(row.mend);
    rows++;
  }
  expect(rows).toBe(26);
});

test('by a clock of twelve hours a time could be either half of the day', () => {
  const either = { code: 'clock-form', offers: ['1:35 AM', '1:35 PM'] };
  expect(parseClock('1:35', true)).toMatchObject(either);
  expect(parseMoment('Nov 9, 2026 1:35', null, true)).toMatchObject({
    ...either,
    found: '"Nov 9, 2026 1:35"',
  });
  for (const [text, value] of [
    ['1:35 PM', '13:35'],
    ['13:35', '13:35'],
    ['01:35', '01:35'],
    ['0:35', '00:35'],
  ] as const)
    expect(parseClock(text, true), text).toEqual({ ok: true, value });
});

test('a date is a day of the calendar', () => {
  let rows = 0;
  for (const row of DATE_CASES) {
    const read = parseDate(row.text);
    expect(read.ok ? null : read.code, row.text).toBe(row.code);
    if (!read.ok) expect(read.mend, row.text).toContain(row.mend);
    else expect(read.value).toBe(row.text);
    rows++;
  }
  expect(rows).toBe(18);
});

test('days and times are read as people type them, a missing year from the brewing day', () => {
  let rows = 0;
  for (const { text, ...value } of MOMENT_CASES) {
    expect(parseMoment(text, '2026-11-08'), text).toEqual({ ok: true, value });
    rows++;
  }
  expect(rows).toBe(15);
  expect(parseDate('12/25/2026')).toEqual({ ok: true, value: '2026-12-25' });
  expect(parseMoment('Nov 9 18:00').ok).toBe(false);
});

test('a moment is a day with or without a time', () => {
  expect(parseMoment('2026-02-14')).toEqual({ ok: true, value: { date: '2026-02-14', clock: null } });
  for (const text of ['2026-02-14 17:20', '2026-02-14T17:20', ' 2026-02-14  17:20 ']) {
    expect(parseMoment(text)).toEqual({ ok: true, value: { date: '2026-02-14', clock: '17:20' } });
  }
  expect(parseMoment('2026-02-30 17:20')).toMatchObject({
    code: 'date-not-real',
    found: '"2026-02-30 17:20"',
  });
  expect(parseMoment('2026-02-14 25:20')).toMatchObject({ code: 'clock-form' });
});
