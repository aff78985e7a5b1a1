import type { Figure } from '../../batch/types/plan.ts';
import { TARGET_KEYS, TARGETS, type TargetKey } from '../../batch/types/targets.ts';
import { statusOf } from '../pages/status.ts';
import type { SiteEntry } from '../site.ts';
import { type Column, day, integer, number, type Table, text } from './columns.ts';
import { isWhole, SLUG } from './shown.ts';

/** Symbol of a target's unit; empty for gravities and counts. */
export function unitOf(key: TargetKey): string {
  const { unit } = TARGETS[key];
  return unit === 'SG' || unit === 'count' ? '' : unit;
}

/** A cell that only a batch shown whole fills. */
const whole =
  <T extends string | number>(of: (entry: SiteEntry) => T | null) =>
  (entry: SiteEntry): T | null =>
    isWhole(entry) ? of(entry) : null;

function targetColumns(key: TargetKey): Column<SiteEntry>[] {
  const label = TARGETS[key].label;
  const unit = unitOf(key);
  const planned = (of: (figure: Figure) => number) => (entry: SiteEntry) => {
    const figure = entry.plan.targets[key];
    return figure === null ? null : of(figure);
  };
  return [
    number(
      key,
      unit,
      `${label}, planned`,
      planned(({ value }) => value),
    ),
    number(
      `${key}_low`,
      unit,
      `${label}: low end of “fine between”, as printed`,
      planned(({ printed }) => printed.low),
    ),
    number(
      `${key}_high`,
      unit,
      `${label}: high end of “fine between”, as printed`,
      planned(({ printed }) => printed.high),
    ),
    number(
      `${key}_brewed`,
      unit,
      `${label}, worked out again from what was read`,
      whole((entry) => entry.plan.as_brewed?.[key]?.value ?? null),
    ),
  ];
}

type Curve = NonNullable<SiteEntry['plan']['fermentation_curve']>;

const curve =
  <T extends string | number>(of: (curve: Curve) => T | null) =>
  ({ plan: { fermentation_curve } }: SiteEntry): T | null =>
    fermentation_curve === undefined ? null : of(fermentation_curve);

const endGravity = (name: string, meaning: string, of: (curve: Curve) => number): Column<SiteEntry> =>
  number(name, '', meaning, whole(curve(of)));

const endDay = (name: keyof NonNullable<Curve['end_day']>, meaning: string): Column<SiteEntry> =>
  day(`end_day_${name}`, meaning, whole(curve(({ end_day }) => end_day?.[name] ?? null)));

/** What to expect by the curve fitted to the log. */
const CURVE_COLUMNS: readonly Column<SiteEntry>[] = [
  endGravity('end_gravity', 'Where the curve fitted to the log ends, SG 20/20', (c) => c.end_gravity.value),
  endGravity(
    'end_gravity_low',
    'Low end of the range of that gravity, rounded outward',
    (c) => c.end_gravity.printed.low,
  ),
  endGravity(
    'end_gravity_high',
    'High end of the range of that gravity, rounded outward',
    (c) => c.end_gravity.printed.high,
  ),
  endDay('expected', 'Day from which, by that curve, less is left to fall than a reading shows'),
  endDay('earliest', 'Earliest such day, within the range of two standard uncertainties'),
  endDay('latest', 'Latest such day'),
];

/** One row a batch: planned, as printed, and as brewed. */
export const batches: Table<SiteEntry> = {
  name: 'batches',
  title: 'Batches',
  row: 'a batch, or a recipe that is published without its batch',
  rows: (entry) => [entry],
  columns: [
    text('batch', SLUG, ({ batch }) => batch.slug),
    text('title', 'Its title', ({ batch }) => batch.title),
    text('published', 'all: the whole batch; recipe: the recipe alone', ({ batch }) => batch.publish),
    integer(
      'number',
      '',
      'The brewer’s own number',
      whole(({ batch }) => batch.number),
    ),
    day(
      'brewed',
      'Day of brewing, planned or past',
      whole(({ batch }) => batch.brewed),
    ),
    text(
      'state',
      'How far it has come, by its readings',
      whole(({ batch }) => statusOf(batch)),
    ),
    text(
      'setup',
      'The pot that it was planned for',
      whole(({ batch }) => batch.setup.key),
    ),
    text('style', 'Style, in the brewer’s words', ({ batch }) => batch.style),
    text(
      'tags',
      'Tags, separated by semicolons',
      whole(({ batch }) => batch.tags.join(';') || null),
    ),
    number(
      'into_fermenter_l',
      'L',
      'Wort wanted in the fermenter, at 20 °C',
      ({ batch }) => batch.recipe.intoFermenter_L.value,
    ),
    number('boil_min', 'min', 'Length of the boil', ({ batch }) => batch.recipe.boil_min.value),
    text(
      'yeast',
      'Names of the yeasts, separated by semicolons',
      ({ batch }) => batch.recipe.yeast.map(({ name }) => name).join(';') || null,
    ),
    ...TARGET_KEYS.flatMap(targetColumns),
    ...CURVE_COLUMNS,
  ],
};
