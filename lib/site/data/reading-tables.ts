import { type Figure, printedTargets } from '../../batch/types/plan.ts';
import {
  type Group,
  type One,
  placeOf,
  READINGS,
  type ReadingKind,
  type Rows,
  specOf,
  taken,
} from '../../batch/types/readings.ts';
import { writtenReading } from '../pages/readings.ts';
import type { SiteEntry } from '../site.ts';
import type { Table } from './columns.ts';
import { isWhole, SLUG } from './shown.ts';

interface ReadingRow {
  readonly entry: SiteEntry;
  readonly key: string;
}

const verdictOf = ({ entry, key }: ReadingRow) => entry.plan.readings[key]!;
const targetOf = (row: ReadingRow): Figure | null => {
  const { target } = verdictOf(row);
  return target === null ? null : printedTargets(row.entry.plan)[target];
};

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

export const readings = (entries: readonly SiteEntry[]): Table<ReadingRow> => ({
  name: 'readings',
  title: 'Readings',
  row: 'one figure that was read, in the order of the day',
  rows: entries
    .filter(isWhole)
    .flatMap((entry) => Object.keys(entry.plan.readings).map((key) => ({ entry, key }))),
  columns: [
    { name: 'batch', type: 'text', unit: '', meaning: SLUG, of: ({ entry }) => entry.batch.slug },
    { name: 'reading', type: 'text', unit: '', meaning: 'Its key in the batch file', of: ({ key }) => key },
    {
      name: 'written',
      type: 'text',
      unit: '',
      meaning: 'As it was keyed in',
      of: ({ entry, key }) => writtenReading(entry.batch, placeOf(key)),
    },
    {
      name: 'value',
      type: 'number',
      unit: '',
      meaning:
        'Reduced: volumes to 20 °C, gravities to SG 20/20, the end of the boil to its length, additions to how late they were; empty where it was not taken',
      of: (row) => verdictOf(row).value,
    },
    {
      name: 'value_unit',
      type: 'text',
      unit: '',
      meaning: 'Unit of the value; empty for gravities and counts',
      of: ({ key }) => readingUnit(key) || null,
    },
    {
      name: 'target',
      type: 'text',
      unit: '',
      meaning: 'The target that it is held against: a column of batches.csv',
      of: (row) => verdictOf(row).target,
    },
    {
      name: 'low',
      type: 'number',
      unit: '',
      meaning: 'Low end of “fine between”',
      of: (row) => targetOf(row)?.printed.low ?? null,
    },
    {
      name: 'high',
      type: 'number',
      unit: '',
      meaning: 'High end of “fine between”',
      of: (row) => targetOf(row)?.printed.high ?? null,
    },
    {
      name: 'verdict',
      type: 'text',
      unit: '',
      meaning: 'fine, a_little_off, off or not_taken',
      of: (row) => verdictOf(row).verdict,
    },
  ],
});

interface NoteRow {
  readonly batch: string;
  readonly on: { readonly date: string; readonly clock: string | null };
  readonly score: number | null;
  readonly note: string | null;
}

export const tastings = (entries: readonly SiteEntry[]): Table<NoteRow> => ({
  name: 'tastings',
  title: 'Tastings',
  row: 'one tasting',
  rows: entries.filter(isWhole).flatMap(({ batch }) => {
    const tasted = taken(batch.readings.tasted) ?? [];
    return tasted.map((row) => ({ batch: batch.slug, ...row }));
  }),
  columns: [
    { name: 'batch', type: 'text', unit: '', meaning: SLUG, of: (row) => row.batch },
    { name: 'on', type: 'date', unit: '', meaning: 'The day', of: (row) => row.on.date },
    { name: 'score', type: 'number', unit: '', meaning: '0 to 5, halves allowed', of: (row) => row.score },
    { name: 'note', type: 'text', unit: '', meaning: 'What was said', of: (row) => row.note },
  ],
});

interface FermentationRow {
  readonly batch: string;
  readonly index: number;
  readonly entry: SiteEntry;
}

const rowOf = ({ entry, index }: FermentationRow) =>
  taken(entry.batch.readings.fermentation)?.[index] ?? null;

export const fermentation = (entries: readonly SiteEntry[]): Table<FermentationRow> => ({
  name: 'fermentation',
  title: 'Fermentation',
  row: 'one look at the fermenter',
  rows: entries.filter(isWhole).flatMap((entry) => {
    const rows = taken(entry.batch.readings.fermentation) ?? [];
    return rows.map((_, index) => ({ batch: entry.batch.slug, index, entry }));
  }),
  columns: [
    { name: 'batch', type: 'text', unit: '', meaning: SLUG, of: (row) => row.batch },
    { name: 'on', type: 'date', unit: '', meaning: 'The day', of: (row) => rowOf(row)?.on.date ?? null },
    {
      name: 'clock',
      type: 'text',
      unit: '',
      meaning: 'The hour, by the kitchen clock',
      of: (row) => rowOf(row)?.on.clock ?? null,
    },
    {
      name: 'gravity',
      type: 'number',
      unit: '',
      meaning: 'Specific gravity 20/20, corrected for the sample’s temperature',
      of: ({ entry, index }) => entry.plan.readings[`fermentation[${index}].gravity`]?.value ?? null,
    },
    {
      name: 'gravity_written',
      type: 'text',
      unit: '',
      meaning: 'As it was keyed in',
      of: (row) => rowOf(row)?.gravity?.written ?? null,
    },
    {
      name: 'temperature_c',
      type: 'number',
      unit: '°C',
      meaning: 'Temperature of the beer',
      of: (row) => rowOf(row)?.temperature_C?.value ?? null,
    },
    { name: 'note', type: 'text', unit: '', meaning: 'A remark', of: (row) => rowOf(row)?.note ?? null },
  ],
});
