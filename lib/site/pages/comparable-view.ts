import { dimensionOf, FIGURE_OF, type FigureKey } from '../../batch/model/assumed.ts';
import { SETUP_DEFAULTS } from '../../batch/model/defaults.ts';
import type { Batch } from '../../batch/types/batch.ts';
import { planKey } from '../../batch/types/places.ts';
import type { Plan } from '../../batch/types/plan.ts';
import { type Clock, type Moment, type ReadingKey, taken } from '../../batch/types/readings.ts';
import type { Setup, SetupFigure } from '../../batch/types/setup.ts';
import { TARGET_GROUPS, type TargetKey, targetsIn } from '../../batch/types/targets.ts';
import { dayNumber, minutesBetween } from '../../batch/types/time.ts';
import { type FieldKind, formFields } from '../../paper/blanks.ts';
import type { Units } from '../../units/dimension.ts';
import {
  fixed,
  formatMinutes,
  massParts,
  nonBreaking,
  type Parts,
  quantityParts,
  stepped,
  temperatureParts,
  volumeParts,
} from '../../units/format/format.ts';
import { colourKey } from '../../words/board.ts';
import { figureRow, recipeWords } from '../../words/comparable-words.ts';
import type { Comparable, FigureGroup, FigureRow } from '../../words/compare-batches.ts';
import { dateText, type Voice } from '../../words/measures.ts';
import { capital } from '../../words/words.ts';
import { escapeText } from '../charts/svg.ts';
import type { SiteEntry } from '../site.ts';
import { writtenReading } from './readings.ts';
import { lastScore } from './status.ts';

const row = (label: string, { number, unit }: Parts): FigureRow =>
  unit === '' ? [label, number] : [label, number, unit];

const isShown = (key: TargetKey, units: Units): boolean =>
  !key.startsWith('colour_') || key === colourKey(units);

const planned = (plan: Plan, voice: Voice): FigureGroup[] =>
  TARGET_GROUPS.map((group) => ({
    title: `${group}, as planned`,
    rows: targetsIn(group).flatMap((key) => {
      const figure = plan.targets[key];
      return figure === null || !isShown(key, voice.units) ? [] : [figureRow(key, figure, voice)];
    }),
  }));

/** What is worked out again from the readings; the rest of the targets would say the same twice. */
const AS_BREWED: readonly TargetKey[] = [
  'original_gravity',
  'final_gravity',
  'apparent_attenuation_percent',
  'alcohol_volume_percent',
  'bitterness_ibu',
  'colour_ebc',
  'colour_srm',
  'packaged_volume_l',
  'residual_co2_vol',
];

const brewed = ({ as_brewed }: Plan, voice: Voice): FigureRow[] =>
  AS_BREWED.flatMap((key) => {
    const figure = as_brewed?.[key] ?? null;
    return figure === null || !isShown(key, voice.units) ? [] : [figureRow(key, figure, voice)];
  });

/** A reduced reading in the brewer's units; null for what is no figure. */
function reduced(kind: FieldKind, value: number, units: Units): Parts | null {
  switch (kind) {
    case 'gravity':
      return { number: fixed(value, 3), unit: '' };
    case 'volume':
      return volumeParts(value, units);
    case 'temperature':
      return temperatureParts(value, units, 1);
    case 'mass':
      return massParts(value, units);
    case 'count':
      return { number: stepped(value, 1), unit: '' };
    default:
      return null;
  }
}

const NO_FIGURE: ReadonlySet<FieldKind> = new Set(['text', 'clock', 'date']);
/** Those of a log are compared as its days, and clock times as the time between them. */
const MANY: ReadonlySet<ReadingKey> = new Set(['fermentation', 'tasted']);

function readingRows(batch: Batch, plan: Plan, units: Units): FigureRow[] {
  const several = batch.recipe.packaging.length > 1;
  return formFields(batch, units)
    .filter(({ place, kind }) => !MANY.has(place.of) && !NO_FIGURE.has(kind))
    .flatMap(({ place, spec, kind, label: plain }): FigureRow[] => {
      const written = writtenReading(batch, place);
      if (written === null) return [];
      const where = place.row !== null && several ? `, part ${place.row + 1}` : '';
      const label = `${spec.blank?.away ?? capital(plain)}${where}`;
      const value = plan.readings[planKey(place, batch.readings)]?.value ?? null;
      const parts = value === null ? null : reduced(kind, value, units);
      const as = nonBreaking(written);
      if (parts === null) return [[label, as]];
      const text = parts.unit === '' ? parts.number : nonBreaking(`${parts.number} ${parts.unit}`);
      const same = Number.parseFloat(as) === Number.parseFloat(text);
      return [[label, parts.number, parts.unit, same ? as : `${as} = ${text}`]];
    });
}

/** Minutes as people say them, and as a number for the difference. */
const minutesRow = (label: string, minutes: number): FigureRow => [
  label,
  stepped(minutes, 1),
  'min',
  nonBreaking(formatMinutes(minutes)),
];

/** How long things took, by the clock and by the calendar. */
function timeRows({ readings, brewed: day }: Batch, plan: Plan): FigureRow[] {
  const span = (label: string, from: Clock | null, to: Clock | null): FigureRow[] =>
    from === null || to === null ? [] : [minutesRow(label, minutesBetween(from, to))];
  const days = (label: string, from: Moment | null, to: Moment | null): FigureRow[] => {
    if (from === null || to === null) return [];
    return [[label, stepped(dayNumber(to.date) - dayNumber(from.date), 1), 'days']];
  };
  const { heating_started, steep_in, mash_in, boil_started, boil_ended } = readings;
  const pitched = taken(readings.pitched)?.on ?? (day === null ? null : { date: day, clock: null });
  const packaged = taken(readings.packaged)?.[0]?.on ?? null;
  const grainIn = taken(mash_in) ?? taken(steep_in);
  const additions = taken(readings.additions) ?? [];
  const log = taken(readings.fermentation) ?? [];
  return [
    ...span('Heating until the grain went in', taken(heating_started), grainIn),
    ...span('Grain in the mash', taken(mash_in), taken(readings.mash_out)),
    ...span('Grain in the steep', taken(steep_in), taken(readings.steep_out)),
    ...span('Kettle on until the boil', taken(heating_started), taken(boil_started)),
    ...span('Boil by the clock', taken(boil_started), taken(boil_ended)),
    ...additions.flatMap(({ at, clock: went }) =>
      went === 'left out'
        ? []
        : span(`Boil began until ${at === 'flameout' ? 'flame out' : at}`, taken(boil_started), taken(went)),
    ),
    ...span('Chilling', taken(boil_ended), taken(readings.chilled)?.at ?? null),
    ...days('Pitched until packaged', pitched, packaged),
    ...days('Packaged until first tasted', packaged, taken(readings.tasted)?.[0]?.on ?? null),
    ...log.flatMap(({ on }, index): FigureRow[] => {
      const gravity = plan.readings[`fermentation[${index}].gravity`]?.value ?? null;
      if (pitched === null || gravity === null) return [];
      const after = Math.round(dayNumber(on.date) - dayNumber(pitched.date));
      return [[`Gravity on day ${after}`, fixed(gravity, 3)]];
    }),
  ];
}

const KIT: readonly FigureKey[] = [
  'heat',
  'boil_off',
  'kettle_loss',
  'fermenter_loss',
  'hop_absorption',
  'grain_absorption',
  'steep_efficiency',
  'mash_efficiency',
  'chill.to',
  'chill.in',
  'water_temperature',
  'top_up_temperature',
  'room_temperature',
];

/** The setup as the plan takes it. How high the kitchen lies stays out: it tells where somebody lives, and little of the beer. */
function kitRows(setup: Setup, units: Units): FigureRow[] {
  const litres = ({ value }: SetupFigure): Parts => volumeParts(value, units);
  return [
    row('Kettle to the brim', litres(setup.kettle_L)),
    ...(setup.fermenter_L === null ? [] : [row('Fermenter to the brim', litres(setup.fermenter_L))]),
    ...KIT.flatMap((key): FigureRow[] => {
      const { value, assumed } = FIGURE_OF[key](setup);
      const { number, unit } = quantityParts(value, dimensionOf(key), units);
      const label = capital(SETUP_DEFAULTS[key].label);
      const known: FigureRow = assumed
        ? [label, number, unit, `${nonBreaking(`${number} ${unit}`)}, assumed`]
        : [label, number, unit];
      return key === 'chill.in' ? [known, ['Chilled with', setup.chill.with]] : [known];
    }),
  ];
}

function scoreRows(batch: Batch): FigureRow[] {
  const score = lastScore(batch);
  return score === null ? [] : [['Score', stepped(score, 0.5), 'of 5']];
}

/** What was said of the beer, then the notes, as HTML. */
export function noteHtml({ readings }: Batch, notes: string): string {
  const said = [
    readings.abandoned?.why ?? '',
    ...(taken(readings.tasted) ?? []).map(({ note }) => note ?? ''),
  ].filter((text) => text !== '');
  return said.map((text) => `<p>${escapeText(text)}</p>`).join('') + notes;
}

/** A batch as it may be held against any other; only of batches that are shown whole. `notes` is the HTML of its Markdown. */
export function comparableView({ batch, plan }: SiteEntry, voice: Voice, notes: string): Comparable {
  const { units, language } = voice;
  if (batch.publish !== 'all') throw new Error('A batch that is not shown whole was to be compared.');
  const groups: readonly FigureGroup[] = [
    { title: 'As brewed', rows: [...brewed(plan, voice), ...scoreRows(batch)] },
    ...planned(plan, voice),
    { title: 'Read', rows: readingRows(batch, plan, units) },
    { title: 'By clock and calendar', rows: timeRows(batch, plan) },
    { title: 'My pot', rows: kitRows(batch.setup, units) },
  ];
  return {
    slug: batch.slug,
    title: batch.title,
    day: batch.brewed === null ? '' : dateText(batch.brewed, language),
    names: [
      { what: 'Title', text: batch.title },
      ...(batch.style === null ? [] : [{ what: 'Style', text: batch.style }]),
    ],
    recipe: recipeWords(batch, units),
    figures: groups.filter(({ rows }) => rows.length > 0),
    notes: noteHtml(batch, notes),
  };
}
