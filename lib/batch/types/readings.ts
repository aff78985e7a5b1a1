import type { Celsius, Gram, Minute } from '../../units/brands.ts';
import type { Given, GivenAmount, GivenGravity, GivenVolume } from '../../units/parse/given.ts';
import { AMOUNT, type Bounds, POSSIBLE } from '../../units/parse/possible.ts';
import type { TargetKey } from './targets.ts';

/** `not taken` is an answer; an absent key is none. */
export type Reading<T> = T | 'not taken';

/** A reading where it was taken, else null. */
export const taken = <T>(reading: Reading<T> | null | undefined): T | null =>
  reading === undefined || reading === null || reading === 'not taken' ? null : (reading as T);

/** `13:35`. */
export type Clock = string;
/** `2026-02-14` or `2026-02-14 17:20`. */
export type Moment = { readonly date: string; readonly clock: Clock | null };

interface Values {
  readonly clock: Clock;
  /** The clock time at which something went in, or that it never did. */
  readonly addition: Reading<Clock> | 'left out';
  readonly date: Moment;
  readonly gravity: GivenGravity;
  readonly volume: GivenVolume;
  readonly temperature: Given<Celsius>;
  readonly mass: Given<Gram>;
  readonly amount: GivenAmount;
  readonly count: number;
  readonly score: number;
  readonly text: string;
  readonly container: 'bottles' | 'keg';
}
export type ReadingKind = keyof Values;

/** Headings of the paper, by the letter before a blank's number: A to E by the stove, F to K by the fermenter. */
export type BlockLetter = 'A' | 'B' | 'C' | 'D' | 'E' | 'F' | 'G' | 'H' | 'J' | 'K';

/** The place on paper where a reading is written down. */
export interface BlankSpec {
  readonly block: BlockLetter;
  readonly label: string;
  /** What it is called away from its block, where the label says less by itself. */
  readonly away?: string;
  /** Only where the batch has such a step. */
  readonly when?: 'mash' | 'steep' | 'boil' | 'bottles' | 'sugar';
  /** Its place in the block, where the paper asks in another order than the file holds. */
  readonly order?: number;
  /** Found out when the sheet is full, or by few: it has a place in the form alone. */
  readonly formOnly?: true;
  readonly digits?: number;
  readonly hour?: true;
}

export interface One<K extends ReadingKind = ReadingKind> {
  readonly kind: K;
  /** What it is, for people who write the file by hand. */
  readonly says: string;
  /** In the internal unit, or a gravity and the temperature of its sample, °C; a text as it is. */
  readonly sample?: number | readonly [SG: number, sample_C: number] | string;
  /** Outside these it is a slip of the pen. */
  readonly bounds?: Bounds;
  /** Outside these it is possible and most unlikely, °C. Common practice, no source. */
  readonly usual_C?: readonly [low: number, high: number];
  readonly living?: true;
  /** Days after brewing by which it has mostly been done. Common practice, no source. */
  readonly late_days?: number;
  /** What the plan says it should be. */
  readonly target?: TargetKey;
  /** Few instruments reach further: where more is planned it is not asked for. */
  readonly reach?: number;
  /** Of beer, after yeast has begun: a refractometer has to know of the alcohol. */
  readonly fermented?: true;
  /** The group or row that it is in makes no sense without it. */
  readonly needed?: true;
  /** Few batches have it: a row need not name it at all. */
  readonly seldom?: true;
  readonly blank?: BlankSpec;
}

type Parts = Readonly<Record<string, One>>;
export interface Group<P extends Parts = Parts> {
  readonly shape: 'group';
  readonly says: string;
  readonly parts: P;
  /** False where it is there or not: nobody leaves it out for good. */
  readonly refusable: boolean;
}
export interface Rows<P extends Parts = Parts> {
  readonly shape: 'rows';
  readonly says: string;
  readonly parts: P;
  /** A single row may be written without a list. */
  readonly single: boolean;
}

const one = <const K extends ReadingKind, const R extends Omit<One<K>, 'kind' | 'says'>>(
  kind: K,
  says: string,
  rest: R,
) => ({ kind, says, ...rest });
const group = <const P extends Parts>(says: string, parts: P, refusable = true): Group<P> => ({
  shape: 'group',
  says,
  parts,
  refusable,
});
const rows = <const P extends Parts>(says: string, parts: P, single = false): Rows<P> => ({
  shape: 'rows',
  says,
  parts,
  single,
});

const { liquor, beer, volume, volumeOrNone, massOrNone } = POSSIBLE;

/**
 * Everything that is read: the one place that says what it is, where it is written down and what is believable.
 *
 * The file's schema, the blanks on paper, the form, its doubts, the exports and the comparison of batches follow from it, in
 * this order.
 */
export const READINGS = {
  heating_started: one('clock', 'Clock time when the kettle went on.', {
    blank: { block: 'A', label: 'Kettle on' },
  }),
  mash_in: one('clock', 'Clock time when the mash began.', {
    blank: { block: 'A', label: 'Mash grain in', when: 'mash' },
  }),
  mash_temperature: one('temperature', 'Temperature of the mash.', {
    sample: 66,
    bounds: liquor,
    blank: { block: 'A', label: 'Mash, stirred', when: 'mash' },
  }),
  mash_out: one('clock', 'Clock time when the mash ended.', {
    blank: { block: 'A', label: 'Mash grain out', when: 'mash' },
  }),
  steep_in: one('clock', 'Clock time when the grain went in.', {
    blank: { block: 'A', label: 'Grain in', when: 'steep' },
  }),
  steep_temperature: one('temperature', 'Temperature with the grain in.', {
    sample: 67,
    bounds: liquor,
    blank: { block: 'A', label: 'Stirred, it is at', away: 'Steep, stirred', when: 'steep' },
  }),
  steep_out: one('clock', 'Clock time when the grain came out.', {
    blank: { block: 'A', label: 'Grain out', when: 'steep' },
  }),
  boil_started: one('clock', 'Clock time when the countdown began.', {
    blank: { block: 'B', label: 'Countdown begins', when: 'boil' },
  }),
  boil_start_volume: one('volume', 'Wort at the start of the boil, as the eye reads it, boiling hot.', {
    sample: 10.8,
    bounds: volumeOrNone,
    target: 'boil_start_volume_hot_l',
    blank: {
      block: 'B',
      label: 'In the pot, boiling',
      away: 'In the pot at the start of the boil',
      when: 'boil',
    },
  }),
  boil_start_gravity: one('gravity', 'Gravity at the start of the boil.', {
    sample: [1.042, 45],
    target: 'boil_start_gravity',
    blank: { block: 'B', label: 'Gravity at the start', when: 'boil' },
  }),
  // One blank for each moment of the brew day: its block follows from the moment.
  additions: rows('When each addition went in.', {
    at: one('text', 'Which addition: its minutes or word in the recipe.', { sample: '60 min', needed: true }),
    what: one('text', 'Which of several at that moment, by its name.', {
      sample: 'yeast nutrient',
      seldom: true,
    }),
    clock: one('addition', 'Clock time when it went in; `left out` where it never did.', {
      needed: true,
      blank: { block: 'B', label: 'Went in' },
    }),
  }),
  boil_ended: one('clock', 'Clock time when the flame went off.', {
    blank: { block: 'B', label: 'flame out', when: 'boil' },
  }),
  boil_end_volume: one('volume', 'Wort at the end of the boil, as the eye reads it, boiling hot.', {
    sample: 9.7,
    bounds: volumeOrNone,
    target: 'boil_end_volume_hot_l',
    blank: {
      block: 'B',
      label: 'In the pot, still hot',
      away: 'In the pot at the end of the boil',
      when: 'boil',
    },
  }),
  boil_end_gravity: one('gravity', 'Gravity at the end of the boil.', {
    sample: [1.094, 25],
    target: 'boil_end_gravity',
    reach: 1.1,
    blank: { block: 'B', label: 'Gravity at the end', when: 'boil' },
  }),
  chilled: group('The end of chilling.', {
    at: one('clock', 'Clock time when it was cool.', { blank: { block: 'C', label: 'Chilled at' } }),
    temperature: one('temperature', 'Temperature that was reached.', {
      sample: 24,
      bounds: liquor,
      usual_C: [4, 60],
      target: 'chill_to_c',
      blank: { block: 'C', label: 'Chilled to' },
    }),
  }),
  top_up: group('Top-up water.', {
    volume: one('volume', 'Water that was added.', {
      sample: 10.5,
      bounds: volumeOrNone,
      target: 'top_up_l',
      blank: { block: 'C', label: 'Top-up', away: 'Top-up water' },
    }),
    temperature: one('temperature', 'Its temperature.', {
      sample: 9,
      bounds: liquor,
      usual_C: [0, 40],
      target: 'top_up_c',
      blank: { block: 'C', label: 'Top-up at', away: 'Top-up water at' },
    }),
  }),
  fermenter_volume: one('volume', 'Wort in the fermenter, at pitching temperature.', {
    sample: 19,
    bounds: volumeOrNone,
    blank: { block: 'D', label: 'Into the fermenter' },
  }),
  original_gravity: one('gravity', 'Gravity in the fermenter, before the yeast.', {
    sample: [1.044, 24],
    target: 'original_gravity',
    blank: { block: 'D', label: 'Original gravity' },
  }),
  pitched: group('The pitching of the yeast.', {
    on: one('date', 'When the yeast went in.', {
      late_days: 3,
      needed: true,
      blank: { block: 'E', label: 'Pitched, day, at', order: 2, hour: true },
    }),
    temperature: one('temperature', 'Temperature of the wort.', {
      sample: 19,
      bounds: beer,
      usual_C: [4, 38],
      living: true,
      blank: { block: 'E', label: 'Wort at', away: 'Wort when pitched', order: 3 },
    }),
    yeast: one('amount', 'How much yeast.', {
      sample: 11,
      bounds: AMOUNT,
      blank: { block: 'E', label: 'Yeast pitched', order: 1 },
    }),
  }),
  fermentation: rows('Readings during fermentation, by date.', {
    on: one('date', 'When it was looked at.', {
      late_days: 120,
      needed: true,
      blank: { block: 'F', label: 'Date and hour', hour: true },
    }),
    gravity: one('gravity', 'Gravity.', {
      sample: [1.019, 20],
      fermented: true,
      blank: { block: 'F', label: 'Gravity, sample' },
    }),
    temperature: one('temperature', 'Temperature of the beer.', {
      sample: 19,
      bounds: beer,
      usual_C: [-1, 38],
      living: true,
      blank: { block: 'F', label: 'Beer' },
    }),
    note: one('text', 'What was seen.', {
      sample: 'krausen falling',
      blank: { block: 'F', label: 'Remark' },
    }),
  }),
  warmest_after: one('temperature', 'The warmest that the beer has been since fermentation stopped.', {
    sample: 20,
    bounds: beer,
    usual_C: [0, 38],
    living: true,
    blank: { block: 'G', label: 'Warmest since', away: 'Warmest since it fermented' },
  }),
  fermented_out: one('gravity', 'Gravity of a warm sample with fresh yeast, fermented to its end.', {
    sample: [1.01, 20],
    fermented: true,
    blank: { block: 'G', label: 'Warm sample, fermented out', formOnly: true },
  }),
  final_gravity: one('gravity', 'Gravity when fermentation had finished.', {
    sample: [1.01, 19],
    target: 'final_gravity',
    fermented: true,
    blank: { block: 'G', label: 'Final gravity' },
  }),
  packaged: rows(
    'Packaging; a list where part was kegged.',
    {
      on: one('date', 'The day of packaging.', {
        late_days: 180,
        needed: true,
        blank: { block: 'H', label: 'Packed on' },
      }),
      into: one('container', 'Bottles or keg.', {}),
      volume: one('volume', 'Beer that was packaged.', {
        sample: 18,
        bounds: volume,
        blank: { block: 'H', label: 'Beer there', away: 'Beer packaged' },
      }),
      temperature: one('temperature', 'Temperature of the beer.', {
        sample: 18,
        bounds: beer,
        usual_C: [-1, 35],
        blank: { block: 'H', label: 'Beer', away: 'Beer when packaged' },
      }),
      sugar: one('mass', 'Priming sugar that went in.', {
        sample: 100,
        bounds: massOrNone,
        blank: { block: 'H', label: 'Sugar used', when: 'sugar' },
      }),
      bottles: one('count', 'How many bottles were filled.', {
        blank: { block: 'H', label: 'Bottles', when: 'bottles', digits: 3 },
      }),
      burst: one('count', 'How many bottles burst.', {
        seldom: true,
        blank: { block: 'H', label: 'Bottles that burst', when: 'bottles', formOnly: true },
      }),
    },
    true,
  ),
  tasted: rows('Tastings.', {
    on: one('date', 'The day of tasting.', {
      late_days: 1500,
      needed: true,
      blank: { block: 'J', label: 'Tasted on' },
    }),
    score: one('score', '0 to 5, halves allowed.', { blank: { block: 'J', label: 'Score' } }),
    note: one('text', 'What it tasted of.', {
      sample: 'bread crust and a dry end',
      blank: { block: 'J', label: 'Remark' },
    }),
  }),
  abandoned: group(
    'The batch was given up.',
    {
      on: one('date', 'The day on which the batch was given up.', {
        late_days: 400,
        needed: true,
        blank: { block: 'K', label: 'Poured away on' },
      }),
      why: one('text', 'Why.', {
        sample: 'the fermenter fell over',
        needed: true,
        blank: { block: 'K', label: 'Why' },
      }),
    },
    false,
  ),
} as const satisfies Readonly<Record<string, One | Group | Rows>>;

type Table = typeof READINGS;
export type ReadingKey = keyof Table;

/** Figures in a unit carry it in their name, as everywhere in the code. */
type NameOf<N extends string, P> = P extends { readonly kind: 'temperature' }
  ? `${N}_C`
  : P extends { readonly kind: 'mass' }
    ? `${N}_g`
    : N;
type PartOf<P> = P extends { readonly kind: infer K extends ReadingKind }
  ? P extends { readonly needed: true }
    ? Values[K]
    : Values[K] | null
  : never;
type Seldom = { readonly seldom: true };
type PartsOf<P> = {
  readonly [N in keyof P & string as P[N] extends Seldom ? never : NameOf<N, P[N]>]: PartOf<P[N]>;
} & {
  readonly [N in keyof P & string as P[N] extends Seldom ? NameOf<N, P[N]> : never]?: PartOf<P[N]>;
};
type AdditionFacts = { readonly minutesLeft: Minute | null };
type ValueOf<K extends ReadingKey> =
  Table[K] extends Rows<infer P>
    ? Reading<readonly (PartsOf<P> & (K extends 'additions' ? AdditionFacts : unknown))[]>
    : Table[K] extends Group<infer P>
      ? K extends 'abandoned'
        ? PartsOf<P>
        : Reading<PartsOf<P>>
      : Table[K] extends One<infer Kind>
        ? Reading<Values[Kind]>
        : never;

/** What was written on the sheets and keyed in, by the file's own keys. */
export type Readings = { readonly [K in ReadingKey]?: ValueOf<K> };

type RowOf<K extends ReadingKey> = Table[K] extends Rows<infer P> ? PartsOf<P> : never;
export type FermentationRow = RowOf<'fermentation'>;
export type PackagedReading = RowOf<'packaged'>;

/** Name of a part as the code calls it: `temperature_C` of `temperature`. */
export const nameOfPart = (part: string, { kind }: One): string =>
  kind === 'temperature' ? `${part}_C` : kind === 'mass' ? `${part}_g` : part;
