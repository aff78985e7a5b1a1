/** The archive as tables, one row a batch, an ingredient, a reading, a tasting: only what is published. */
import { type Figure, TARGET_KEYS, type TargetKey } from '../../batch/plan.ts';
import type { RecipeMoment } from '../../batch/recipe.ts';
import { FIGURE_LABELS } from '../../view/figures.ts';
import type { Published, SiteEntry } from '../site.ts';
import { writtenReading } from '../views/readings.ts';
import { statusOf } from '../views/status.ts';
import { type Column, type Table, type WrittenTable, written } from './columns.ts';

/** Unit of a target by the end of its key. */
export function unitOf(key: TargetKey): string {
  const endings: readonly (readonly [RegExp, string])[] = [
    [/_percent$/, '%'],
    [/_ibu$/, 'IBU'],
    [/_ebc$/, 'EBC'],
    [/_srm$/, 'SRM'],
    [/_plato$/, '°P'],
    [/_kcal_per_litre$/, 'kcal/L'],
    [/_kg$/, 'kg'],
    [/_g$/, 'g'],
    [/_l$/, 'L'],
    [/_c$/, '°C'],
    [/_kpa$/, 'kPa'],
    [/_vol$/, 'vol'],
    [/_billion$/, 'billion cells'],
    [/^minutes_/, 'min'],
  ];
  return endings.find(([ending]) => ending.test(key))?.[1] ?? '';
}

const isWhole = ({ batch }: SiteEntry): boolean => batch.publish === 'all';
/** A cell that only a batch shown whole fills. */
const whole =
  <T extends string | number>(of: (entry: SiteEntry) => T | null) =>
  (entry: SiteEntry): T | null =>
    isWhole(entry) ? of(entry) : null;

function targetColumns(key: TargetKey): Column<SiteEntry>[] {
  const label = FIGURE_LABELS[key];
  const unit = unitOf(key);
  const planned = (of: (figure: Figure) => number) => (entry: SiteEntry) => {
    const figure = entry.plan.targets[key];
    return figure === null ? null : of(figure);
  };
  return [
    { name: key, type: 'number', unit, meaning: `${label}, planned`, of: planned(({ value }) => value) },
    {
      name: `${key}_low`,
      type: 'number',
      unit,
      meaning: `${label}: low end of “fine between”, as printed`,
      of: planned(({ printed }) => printed.low),
    },
    {
      name: `${key}_high`,
      type: 'number',
      unit,
      meaning: `${label}: high end of “fine between”, as printed`,
      of: planned(({ printed }) => printed.high),
    },
    {
      name: `${key}_brewed`,
      type: 'number',
      unit,
      meaning: `${label}, worked out again from what was read`,
      of: whole((entry) => entry.plan.as_brewed?.[key]?.value ?? null),
    },
  ];
}

const text = (name: string, meaning: string, of: (entry: SiteEntry) => string | null): Column<SiteEntry> => ({
  name,
  type: 'text',
  unit: '',
  meaning,
  of,
});

const SLUG = 'Name of the batch’s file, by which the tables belong together';

const batches = (entries: readonly SiteEntry[]): Table<SiteEntry> => ({
  name: 'batches',
  title: 'Batches',
  row: 'a batch, or a recipe that is published without its batch',
  rows: entries,
  columns: [
    text('batch', SLUG, ({ batch }) => batch.slug),
    text('title', 'Its title', ({ batch }) => batch.title),
    text('published', 'all: the whole batch; recipe: the recipe alone', ({ batch }) => batch.publish),
    {
      name: 'number',
      type: 'integer',
      unit: '',
      meaning: 'The brewer’s own number',
      of: whole(({ batch }) => batch.number),
    },
    {
      name: 'brewed',
      type: 'date',
      unit: '',
      meaning: 'Day of brewing, planned or past',
      of: whole(({ batch }) => batch.brewed),
    },
    text(
      'state',
      'How far it has come, told from its readings',
      whole(({ batch }) => statusOf(batch)),
    ),
    text(
      'setup',
      'The kit that it was planned for',
      whole(({ batch }) => batch.setup.key),
    ),
    text('style', 'Style, in the brewer’s words', ({ batch }) => batch.style),
    text(
      'tags',
      'Tags, separated by semicolons',
      whole(({ batch }) => batch.tags.join(';') || null),
    ),
    {
      name: 'into_fermenter_l',
      type: 'number',
      unit: 'L',
      meaning: 'Wort wanted in the fermenter, at 20 °C',
      of: ({ batch }) => batch.recipe.intoFermenter_L.value,
    },
    {
      name: 'boil_min',
      type: 'number',
      unit: 'min',
      meaning: 'Length of the boil',
      of: ({ batch }) => batch.recipe.boil_min.value,
    },
    text(
      'yeast',
      'Names of the yeasts, separated by semicolons',
      ({ batch }) => batch.recipe.yeast.map(({ name }) => name).join(';') || null,
    ),
    ...TARGET_KEYS.flatMap(targetColumns),
  ],
});

interface IngredientRow {
  readonly batch: string;
  readonly kind: string;
  readonly name: string;
  readonly written: string;
  readonly amount: number;
  readonly unit: string;
  readonly add: RecipeMoment | 'steep' | 'mash' | null;
  readonly alpha: number | null;
  readonly yield: number | null;
  readonly colour: number | null;
}

function ingredientRows({ batch }: SiteEntry): IngredientRow[] {
  const { slug, recipe } = batch;
  const none = { alpha: null, yield: null, colour: null };
  const weighed = (item: { name: string; weight_g: { value: number; written: string } }) => ({
    ...none,
    batch: slug,
    name: item.name,
    written: item.weight_g.written,
    amount: item.weight_g.value,
    unit: 'g',
  });
  const counted = (item: { name: string; amount: { value: number; unit: string; written: string } }) => ({
    ...none,
    batch: slug,
    name: item.name,
    written: item.amount.written,
    amount: item.amount.value,
    unit: item.amount.unit,
  });
  const malt = (item: (typeof recipe.extract)[number] | (typeof recipe.grain)[number]) => ({
    ...weighed(item),
    kind: item.kind,
    yield: 100 * item.yield.value,
    colour: item.colour_EBC.value,
  });
  return [
    ...recipe.grain.map((item) => ({ ...malt(item), add: item.in })),
    ...[...recipe.extract, ...recipe.sugar].map((item) => ({ ...malt(item), add: item.add })),
    ...recipe.hops.map((item) => ({
      ...weighed(item),
      kind: 'hop',
      add: item.add,
      alpha: 100 * item.alpha.value,
    })),
    ...recipe.other.map((item) => ({ ...counted(item), kind: 'other', add: item.add })),
    ...recipe.yeast.map((item) => ({ ...counted(item), kind: 'yeast', add: null })),
  ];
}

const ingredients = (entries: readonly SiteEntry[]): Table<IngredientRow> => ({
  name: 'ingredients',
  title: 'Ingredients',
  row: 'one item of a recipe, in the order of the file',
  rows: entries.flatMap(ingredientRows),
  columns: [
    { name: 'batch', type: 'text', unit: '', meaning: SLUG, of: (row) => row.batch },
    {
      name: 'kind',
      type: 'text',
      unit: '',
      meaning: 'grain, extract, sugar, hop, other or yeast',
      of: (row) => row.kind,
    },
    { name: 'name', type: 'text', unit: '', meaning: 'Its name', of: (row) => row.name },
    {
      name: 'written',
      type: 'text',
      unit: '',
      meaning: 'The amount as the brewer wrote it',
      of: (row) => row.written,
    },
    {
      name: 'amount',
      type: 'number',
      unit: '',
      meaning: 'The amount, in the unit beside it',
      of: (row) => row.amount,
    },
    { name: 'amount_unit', type: 'text', unit: '', meaning: 'g, L or count', of: (row) => row.unit },
    {
      name: 'add',
      type: 'text',
      unit: '',
      meaning: 'When it goes in: boil, flameout, stand, dry, first wort, steep, mash, fermenter or packaging',
      of: ({ add }) => (add === null ? null : typeof add === 'string' ? add : add.at),
    },
    {
      name: 'minutes_left',
      type: 'number',
      unit: 'min',
      meaning: 'Minutes left of the boil when it goes in',
      of: ({ add }) =>
        add !== null && typeof add !== 'string' && add.at === 'boil' ? add.minutesLeft : null,
    },
    {
      name: 'day',
      type: 'integer',
      unit: 'd',
      meaning: 'Days after pitching when it goes in',
      of: ({ add }) => (add !== null && typeof add !== 'string' && 'day' in add ? add.day : null),
    },
    {
      name: 'alpha_percent',
      type: 'number',
      unit: '%',
      meaning: 'Alpha acids of a hop',
      of: (row) => row.alpha,
    },
    {
      name: 'yield_percent',
      type: 'number',
      unit: '%',
      meaning: 'Laboratory extract as is',
      of: (row) => row.yield,
    },
    {
      name: 'colour_ebc',
      type: 'number',
      unit: 'EBC',
      meaning: 'Colour of malt, extract or sugar',
      of: (row) => row.colour,
    },
  ],
});

interface ReadingRow {
  readonly entry: SiteEntry;
  readonly key: string;
}

const verdictOf = ({ entry, key }: ReadingRow) => entry.plan.readings[key]!;
const targetOf = (row: ReadingRow): Figure | null => {
  const { target } = verdictOf(row);
  return target === null ? null : row.entry.plan.targets[target];
};

/** Unit of a reduced reading by its key below `readings`. */
export function readingUnit(key: string): string {
  if (key.includes('gravity') || key.endsWith('bottles')) return '';
  if (key.endsWith('sugar')) return 'g';
  if (key.includes('volume') || key === 'top_up') return 'L';
  return key.includes('temperature') || key === 'warmest_after' || key === 'chilled' ? '°C' : '';
}

const readings = (entries: readonly SiteEntry[]): Table<ReadingRow> => ({
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
      // A single packaged part has no number in its key.
      of: ({ entry, key }) => writtenReading(entry.batch, key.replace(/^packaged\./, 'packaged[0].')),
    },
    {
      name: 'value',
      type: 'number',
      unit: '',
      meaning: 'Reduced: volumes to 20 °C, gravities to SG 20/20; empty where it was not taken',
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

const tastings = (entries: readonly SiteEntry[]): Table<NoteRow> => ({
  name: 'tastings',
  title: 'Tastings',
  row: 'one tasting',
  rows: entries.filter(isWhole).flatMap(({ batch }) => {
    const { tasted } = batch.readings;
    return tasted === undefined || tasted === 'not taken'
      ? []
      : tasted.map((row) => ({ batch: batch.slug, ...row }));
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

const rowOf = ({ entry, index }: FermentationRow) => {
  const { fermentation } = entry.batch.readings;
  return fermentation === undefined || fermentation === 'not taken' ? null : (fermentation[index] ?? null);
};

const fermentation = (entries: readonly SiteEntry[]): Table<FermentationRow> => ({
  name: 'fermentation',
  title: 'Fermentation',
  row: 'one look at the fermenter',
  rows: entries.filter(isWhole).flatMap((entry) => {
    const rows = entry.batch.readings.fermentation;
    if (rows === undefined || rows === 'not taken') return [];
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

/** Every table of the archive, in the order of the dictionary; only what is published is in them. */
export function archiveTables(site: Published): readonly WrittenTable[] {
  const entries = [...site.batches, ...site.recipesAlone];
  return [
    written(batches(entries)),
    written(ingredients(entries)),
    written(readings(entries)),
    written(fermentation(entries)),
    written(tastings(entries)),
  ];
}
