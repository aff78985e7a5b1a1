import { placeOf, planKey, specOf } from '../../batch/types/places.ts';
import { type Figure, printedTargets, type ReadingVerdict } from '../../batch/types/plan.ts';
import {
  type Group,
  type One,
  READINGS,
  type ReadingKind,
  type Rows,
  taken,
} from '../../batch/types/readings.ts';
import { formFields } from '../../paper/blanks.ts';
import { writtenReading } from '../pages/readings.ts';
import type { SiteEntry } from '../site.ts';
import { day, number, type Table, text } from './columns.ts';
import { isWhole, SLUG } from './shown.ts';

interface ReadingRow {
  readonly entry: SiteEntry;
  readonly key: string;
}

/** What the plan makes of a reading; nothing of days and of most clock times. */
const verdictOf = ({ entry, key }: ReadingRow): ReadingVerdict | null => entry.plan.readings[key] ?? null;
const targetOf = (row: ReadingRow): Figure | null => {
  const target = verdictOf(row)?.target ?? null;
  return target === null ? null : printedTargets(row.entry.plan)[target];
};

const ORDER = Object.keys(READINGS);
const momentOf = (key: string): number => ORDER.indexOf(/^\w+/.exec(key)![0]);

/** Every figure that was keyed in, also one of which the plan says nothing; words and tastings have tables of their own. */
function keysOf({ batch, plan }: SiteEntry): readonly string[] {
  const keyed = formFields(batch, 'metric')
    .filter(({ place, kind }) => kind !== 'text' && place.of !== 'tasted')
    .filter(({ place }) => writtenReading(batch, place) !== null)
    .map(({ place }) => planKey(place, batch.readings));
  return [...new Set([...keyed, ...Object.keys(plan.readings)])].sort((a, b) => momentOf(a) - momentOf(b));
}

/** Times of the clock are reduced to minutes; an amount is reduced only where it is a weight. */
const UNITS: { readonly [K in ReadingKind]?: string } = {
  volume: 'L',
  temperature: '°C',
  mass: 'g',
  amount: 'g',
  clock: 'min',
  addition: 'min',
};

/** Unit of a reduced reading by its key below `readings`; of a group that was not taken, that of what is planned of it. */
export function readingUnit(key: string): string {
  const place = placeOf(key);
  if (place === null) return '';
  const spec: One | Group | Rows = READINGS[place.of];
  const planned = 'shape' in spec ? Object.values(spec.parts).find(({ target }) => target) : spec;
  const kind = (specOf(place) ?? planned)?.kind;
  return kind === undefined ? '' : (UNITS[kind] ?? '');
}

export const readings: Table<ReadingRow> = {
  name: 'readings',
  title: 'Readings',
  row: 'one figure that was read, in the order of the day',
  rows: (entry) => (isWhole(entry) ? keysOf(entry).map((key) => ({ entry, key })) : []),
  columns: [
    text('batch', SLUG, ({ entry }) => entry.batch.slug),
    text('reading', 'Its key in the batch file', ({ key }) => key),
    text('written', 'As it was keyed in', ({ entry, key }) => writtenReading(entry.batch, placeOf(key))),
    number(
      'value',
      '',
      'Reduced: volumes to 20 °C, gravities to SG 20/20, the end of the boil to its length, additions to how late they were; empty where it was not taken',
      (row) => verdictOf(row)?.value ?? null,
    ),
    text(
      'value_unit',
      'Unit of the value; empty for gravities and counts',
      (row) => (verdictOf(row) && readingUnit(row.key)) || null,
    ),
    text(
      'target',
      'The target that it is compared with: a column of batches.csv',
      (row) => verdictOf(row)?.target ?? null,
    ),
    number('low', '', 'Low end of “fine between”', (row) => targetOf(row)?.printed.low ?? null),
    number('high', '', 'High end of “fine between”', (row) => targetOf(row)?.printed.high ?? null),
    text('verdict', 'fine, a_little_off, off or not_taken', (row) => verdictOf(row)?.verdict ?? null),
  ],
};

interface NoteRow {
  readonly batch: string;
  readonly on: { readonly date: string; readonly clock: string | null };
  readonly score: number | null;
  readonly note: string | null;
}

export const tastings: Table<NoteRow> = {
  name: 'tastings',
  title: 'Tastings',
  row: 'one tasting',
  rows: (entry) => {
    const tasted = isWhole(entry) ? (taken(entry.batch.readings.tasted) ?? []) : [];
    return tasted.map((row) => ({ batch: entry.batch.slug, ...row }));
  },
  columns: [
    text('batch', SLUG, (row) => row.batch),
    day('on', 'The day', (row) => row.on.date),
    number('score', '', '0 to 5, halves allowed', (row) => row.score),
    text('note', 'What was said', (row) => row.note),
  ],
};

interface FermentationRow {
  readonly batch: string;
  readonly index: number;
  readonly entry: SiteEntry;
}

const rowOf = ({ entry, index }: FermentationRow) =>
  taken(entry.batch.readings.fermentation)?.[index] ?? null;

export const fermentation: Table<FermentationRow> = {
  name: 'fermentation',
  title: 'Fermentation',
  row: 'one look at the fermenter',
  rows: (entry) => {
    const rows = isWhole(entry) ? (taken(entry.batch.readings.fermentation) ?? []) : [];
    return rows.map((_, index) => ({ batch: entry.batch.slug, index, entry }));
  },
  columns: [
    text('batch', SLUG, (row) => row.batch),
    day('on', 'The day', (row) => rowOf(row)?.on.date ?? null),
    text('clock', 'The hour, by the kitchen clock', (row) => rowOf(row)?.on.clock ?? null),
    number(
      'gravity',
      '',
      'Specific gravity 20/20, corrected for the sample’s temperature',
      ({ entry, index }) => entry.plan.readings[`fermentation[${index}].gravity`]?.value ?? null,
    ),
    text('gravity_written', 'As it was keyed in', (row) => rowOf(row)?.gravity?.written ?? null),
    number(
      'temperature_c',
      '°C',
      'Temperature of the beer',
      (row) => rowOf(row)?.temperature_C?.value ?? null,
    ),
    text('note', 'A remark', (row) => rowOf(row)?.note ?? null),
  ],
};
