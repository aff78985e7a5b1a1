import type { UnitCode } from '../../lib/units/parse/parse.ts';

/** The values are the figures as written; nothing is computed. */
export const GRAVITY_CASES: readonly {
  readonly text: string;
  readonly scale: 'sg' | 'plato' | 'brix';
  readonly value: number;
  readonly u?: number;
  readonly sample_C?: number;
}[] = [
  { text: '1.048', scale: 'sg', value: 1.048 },
  { text: '1.050', scale: 'sg', value: 1.05 },
  { text: '1,048', scale: 'sg', value: 1.048 },
  { text: '1.048 SG', scale: 'sg', value: 1.048 },
  { text: '0.998', scale: 'sg', value: 0.998 },
  { text: '1.048 @ 24 °C', scale: 'sg', value: 1.048, sample_C: 24 },
  { text: '1.048@68F', scale: 'sg', value: 1.048, sample_C: 20 },
  { text: '1.048 ± 0.001', scale: 'sg', value: 1.048, u: 0.001 },
  { text: '1.048 ± 0.001 @ 24 °C', scale: 'sg', value: 1.048, u: 0.001, sample_C: 24 },
  { text: '13.2 °P', scale: 'plato', value: 13.2 },
  { text: '13.2 P', scale: 'plato', value: 13.2 },
  { text: '13.2 Plato @ 24 °C', scale: 'plato', value: 13.2, sample_C: 24 },
  { text: '13,2 deg P', scale: 'plato', value: 13.2 },
  { text: '-0.5 °P', scale: 'plato', value: -0.5 },
  { text: '3.1 ± 0.2 °P', scale: 'plato', value: 3.1, u: 0.2 },
  { text: '11.8 Bx', scale: 'brix', value: 11.8 },
  { text: '11.8 ± 0.2 °Brix', scale: 'brix', value: 11.8, u: 0.2 },
];

export const GRAVITY_FAULT_CASES: readonly {
  readonly text: string;
  readonly code: UnitCode;
  readonly mend: string;
}[] = [
  { text: '1048', code: 'gravity-no-point', mend: 'write "1.048"' },
  { text: '998', code: 'gravity-no-point', mend: 'write "0.998"' },
  { text: '48', code: 'gravity-no-scale', mend: '"1.048" if these are gravity points' },
  { text: '12', code: 'gravity-no-scale', mend: '"12 °P" or "12 Bx", or "1.012"' },
  { text: '13.2', code: 'gravity-no-scale', mend: '"13.2 °P" or "13.2 Bx"' },
  { text: '1.48', code: 'gravity-no-scale', mend: '"1.048"' },
  { text: '1.300 SG', code: 'gravity-no-scale', mend: '"1.030"' },
  { text: '60 °P', code: 'gravity-out-of-range', mend: 'check the reading' },
  { text: '5000', code: 'gravity-out-of-range', mend: 'check the reading' },
  { text: '1.048 kg', code: 'quantity-unknown-unit', mend: '"°P"' },
  { text: '1.048 @ 24', code: 'quantity-no-unit', mend: '"24 °C"' },
  { text: '1.048 @', code: 'quantity-empty', mend: '°C' },
  { text: '1.048 @ 140 °C', code: 'quantity-out-of-range', mend: '"@ 24 °C"' },
  { text: '1.048 @ 24 ± 1 °C', code: 'quantity-out-of-range', mend: '"@ 24 °C"' },
  { text: '1.048 ± 1', code: 'quantity-uncertainty', mend: '± 0.001' },
  { text: 'cloudy', code: 'quantity-no-number', mend: '"1.048"' },
  { text: '1.048 1.050', code: 'quantity-not-a-number', mend: '"1.048"' },
  { text: '', code: 'quantity-empty', mend: '"not taken"' },
  { text: '1.0'.repeat(100), code: 'quantity-too-long', mend: '200' },
];

export const AMOUNT_CASES: readonly {
  readonly text: string;
  readonly units?: 'us';
  readonly value: number;
  readonly unit: 'g' | 'L' | 'count';
}[] = [
  { text: '1', value: 1, unit: 'count' },
  { text: '½', value: 0.5, unit: 'count' },
  { text: '1 tsp', value: 1, unit: 'count' },
  { text: '½ tsp', value: 0.5, unit: 'count' },
  { text: '1 1/2 tbsp.', value: 1.5, unit: 'count' },
  { text: '2 packs', value: 2, unit: 'count' },
  { text: '1/2 tablet', value: 0.5, unit: 'count' },
  { text: '2 vanilla pods', value: 2, unit: 'count' },
  { text: '3 bay-leaves', value: 3, unit: 'count' },
  { text: '2 caps', value: 2, unit: 'count' },
  { text: '15 g', value: 15, unit: 'g' },
  { text: '11.5g', value: 11.5, unit: 'g' },
  { text: '1 lb 4 oz', value: 566.9904625, unit: 'g' },
  { text: '125 ml', value: 0.125, unit: 'L' },
  { text: '2 cups', units: 'us', value: 0.473176473, unit: 'L' },
  { text: '2 oz', units: 'us', value: 56.69904625, unit: 'g' },
];

export const AMOUNT_FAULT_CASES: readonly {
  readonly text: string;
  readonly code: UnitCode;
  readonly mend: string;
}[] = [
  { text: '', code: 'quantity-empty', mend: '"15 g"' },
  { text: 'a pinch', code: 'quantity-no-number', mend: '"1 pinch"' },
  { text: '-1', code: 'quantity-negative', mend: 'minus sign' },
  { text: '-15 g', code: 'quantity-negative', mend: 'minus sign' },
  { text: '1,500', code: 'quantity-two-readings', mend: '"1500" or "1.500"' },
  { text: '1 cup', code: 'quantity-two-readings', mend: '"1 us cup" (0.2366 L)' },
  { text: '15 gramms', code: 'quantity-unknown-unit', mend: 'did you mean' },
  { text: '15 °C', code: 'quantity-wrong-unit', mend: 'a weight, a volume or a count' },
  { text: '1 pack of 11 g', code: 'quantity-extra', mend: '"note"' },
  { text: '15 g peel', code: 'quantity-extra', mend: '"name" or "note"' },
  { text: '1 fl oz syrup', code: 'quantity-extra', mend: 'the amount alone' },
  { text: '1 2 tablets', code: 'quantity-not-a-number', mend: '"12"' },
  { text: '99999 tablets', code: 'quantity-out-of-range', mend: 'check' },
];

export const CELL_CASES: readonly {
  readonly text: string;
  readonly billion: number;
  readonly per: 'g' | 'ml' | 'pack';
  readonly u?: number;
}[] = [
  { text: '10 billion/g', billion: 10, per: 'g' },
  { text: '100 billion/pack', billion: 100, per: 'pack' },
  { text: '100 billion cells per sachet', billion: 100, per: 'pack' },
  { text: '10 ± 2 billion/g', billion: 10, per: 'g', u: 2 },
  { text: '1,2 billion / ml', billion: 1.2, per: 'ml' },
  { text: '500 million/ml', billion: 0.5, per: 'ml' },
];

export const CLOCK_CASES: readonly { readonly text: string; readonly clock: string }[] = [
  { text: '13:35', clock: '13:35' },
  { text: '8:05', clock: '08:05' },
  { text: '00:00', clock: '00:00' },
  { text: '23:59', clock: '23:59' },
  { text: '1335', clock: '13:35' },
  { text: '905', clock: '09:05' },
  { text: '9.05', clock: '09:05' },
  { text: '13h35', clock: '13:35' },
  { text: '1:35 pm', clock: '13:35' },
  { text: '1:35PM', clock: '13:35' },
  { text: '12:10 a.m.', clock: '00:10' },
  { text: '12 PM', clock: '12:00' },
  { text: '12:30 PM', clock: '12:30' },
  { text: '11 am', clock: '11:00' },
  { text: '13:30 PM', clock: '13:30' },
];

export const CLOCK_FAULT_CASES: readonly { readonly text: string; readonly mend: string }[] = [
  { text: '24:00', mend: '"13:35"' },
  { text: '13:60', mend: '"13:35"' },
  { text: '13', mend: '"13:35"' },
  { text: '13:30 AM', mend: '"13:35"' },
  { text: '0:30 PM', mend: '"13:35"' },
  { text: '1:60 PM', mend: '"13:35"' },
  { text: '9pmx', mend: '"13:35"' },
  { text: '13:35:20', mend: '"13:35"' },
  { text: 'noon', mend: '"13:35"' },
  { text: '', mend: '"13:35"' },
  { text: '-1:30', mend: '"13:35"' },
];

/** Leap years by the Gregorian rule: 2000 and 2028 have a 29 February, 1900 and 2026 have none. */
export const DATE_CASES: readonly {
  readonly text: string;
  readonly code: UnitCode | null;
  readonly mend?: string;
}[] = [
  { text: '2026-02-14', code: null },
  { text: '2000-02-29', code: null },
  { text: '2028-02-29', code: null },
  { text: '2026-12-31', code: null },
  { text: '2026-02-29', code: 'date-not-real', mend: '2026-02-28' },
  { text: '1900-02-29', code: 'date-not-real', mend: '1900-02-28' },
  { text: '2026-04-31', code: 'date-not-real', mend: '2026-04-30' },
  { text: '2026-13-01', code: 'date-not-real', mend: 'month' },
  { text: '2026-00-10', code: 'date-not-real', mend: 'month' },
  { text: '2026-01-00', code: 'date-not-real', mend: '2026-01-31' },
  { text: '0026-01-01', code: 'date-not-real', mend: 'year' },
  { text: '2/30/2026', code: 'date-not-real', mend: '2026-02-28' },
  { text: '12/5/2026', code: 'date-form', mend: 'write "2026-12-05" or "2026-05-12"' },
  { text: '13/14/2026', code: 'date-not-real', mend: 'month' },
  { text: 'Nov 9', code: 'date-form', mend: 'write the year too' },
  { text: '9 Foo 2026', code: 'date-form', mend: 'year, month and day' },
  { text: '2026-02-14 17:20', code: 'date-form', mend: 'leave out the time' },
  { text: 'today', code: 'date-form', mend: 'year, month and day' },
];

/** Days and times as they are typed, for a batch that was brewed on 8 November 2026. */
export const MOMENT_CASES: readonly {
  readonly text: string;
  readonly date: string;
  readonly clock: string | null;
}[] = [
  { text: '2026-11-09', date: '2026-11-09', clock: null },
  { text: '2026-11-9T17:20', date: '2026-11-09', clock: '17:20' },
  { text: '14.2.2027', date: '2027-02-14', clock: null },
  { text: '12/25/2026', date: '2026-12-25', clock: null },
  { text: '25/12/2026 18:00', date: '2026-12-25', clock: '18:00' },
  { text: '5/5/2027', date: '2027-05-05', clock: null },
  { text: 'Nov 9 18:00', date: '2026-11-09', clock: '18:00' },
  { text: 'Nov 9 6:00 PM', date: '2026-11-09', clock: '18:00' },
  { text: 'Nov. 9, 2026, 6 pm', date: '2026-11-09', clock: '18:00' },
  { text: '9 November 2026 at 18:00', date: '2026-11-09', clock: '18:00' },
  { text: 'Mon 9th Nov 0:05', date: '2026-11-09', clock: '00:05' },
  { text: '8 Nov', date: '2026-11-08', clock: null },
  { text: '7 Nov', date: '2027-11-07', clock: null },
  { text: 'Sept 3', date: '2027-09-03', clock: null },
  { text: 'MAY 12', date: '2027-05-12', clock: null },
];
