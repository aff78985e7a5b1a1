import type { Batch } from '../batch/types/batch.ts';
import type { RecipeMoment } from '../batch/types/recipe.ts';
import { US_GALLON_L } from '../words/measures.ts';
import type { Units } from '../words/numbers.ts';

export type FieldKind =
  | 'clock'
  | 'gravity'
  | 'volume'
  | 'temperature'
  | 'mass'
  | 'count'
  | 'date'
  | 'text'
  | 'score';

/** Boxes that are written into as one number: `#` a digit, `@` the month in letters, anything else is printed. */
export interface BoxGroup {
  readonly part: 'value' | 'sample' | 'day' | 'clock';
  readonly before: string;
  readonly pattern: string;
  readonly unit: string;
}

/** One blank on paper, and the one key of the batch file that it is keyed into. */
export interface Field {
  /** `C4`: as printed beside the blank, in the order of the paper. */
  readonly id: string;
  readonly sheet: 'kettle' | 'cellar';
  /** Path below `readings`: `pitched.on`, `additions[2].clock`, `fermentation[0].gravity`. */
  readonly key: string;
  readonly kind: FieldKind;
  readonly label: string;
  readonly groups: readonly BoxGroup[];
  /** For an addition: the moment as the batch file writes it, `60 min`, `flameout`. */
  readonly at: string | null;
}

/** Rows on the cellar sheet for readings while it ferments. */
export const FERMENTATION_ROWS = 8;
/** Blanks of one such row. */
export const LOG_COLUMNS = 4;

const group = (pattern: string, unit = '', part: BoxGroup['part'] = 'value', before = ''): BoxGroup => ({
  part,
  before,
  pattern,
  unit,
});

interface Wanted {
  readonly key: string;
  readonly kind: FieldKind;
  readonly label: string;
  readonly groups: readonly BoxGroup[];
  readonly at?: string;
}

/** Once chilled, nothing is 100 °F warm: two digits are enough in either scale. */
function kindsFor(units: Units, largest_L: number, cool = false) {
  const metric = units === 'metric';
  const degrees = metric ? group('##', '°C') : group(cool ? '##' : '###', '°F');
  const gallons = largest_L / US_GALLON_L >= 9 ? '##.##' : '#.##';
  const sample: BoxGroup = { ...degrees, part: 'sample', before: 'at' };
  return {
    clock: (key: string, label: string): Wanted => ({ key, label, kind: 'clock', groups: [group('##:##')] }),
    gravity: (key: string, label: string): Wanted => ({
      key,
      label,
      kind: 'gravity',
      groups: [group('#.###'), sample],
    }),
    volume: (key: string, label: string): Wanted => ({
      key,
      label,
      kind: 'volume',
      groups: [metric ? group('##.#', 'L') : group(gallons, 'gal')],
    }),
    /** Pots and jugs are marked in quarts. */
    inPot: (key: string, label: string): Wanted => ({
      key,
      label,
      kind: 'volume',
      groups: [group('##.#', metric ? 'L' : 'qt')],
    }),
    temperature: (key: string, label: string): Wanted => ({
      key,
      label,
      kind: 'temperature',
      groups: [degrees],
    }),
    mass: (key: string, label: string): Wanted => ({
      key,
      label,
      kind: 'mass',
      groups: [metric ? group('###', 'g') : group('##.#', 'oz')],
    }),
    count: (key: string, label: string, pattern = '##'): Wanted => ({
      key,
      label,
      kind: 'count',
      groups: [group(pattern)],
    }),
    date: (key: string, label: string): Wanted => ({
      key,
      label,
      kind: 'date',
      groups: [group('## @', '', 'day')],
    }),
    moment: (key: string, label: string): Wanted => ({
      key,
      label,
      kind: 'date',
      groups: [group('## @', '', 'day'), group('##:##', '', 'clock')],
    }),
    text: (key: string, label: string): Wanted => ({ key, label, kind: 'text', groups: [] }),
    score: (key: string, label: string): Wanted => ({
      key,
      label,
      kind: 'score',
      groups: [group('#.#', 'of 5')],
    }),
  };
}

/** The moment of an addition as the batch file writes it. */
export function momentText(moment: RecipeMoment): string {
  return moment.at === 'boil' ? `${Math.round(moment.minutesLeft)} min` : moment.at;
}

const BREW_DAY: readonly RecipeMoment['at'][] = ['first wort', 'boil', 'flameout', 'stand'];

/** Place of a brew-day moment in the order of the day: first wort, minutes falling, flame-out, stand. */
function momentOrder(moment: RecipeMoment): number {
  return BREW_DAY.indexOf(moment.at) * 10000 - (moment.at === 'boil' ? moment.minutesLeft : 0);
}

/**
 * The moments of the brew day at which something goes into the kettle, each once, in order.
 *
 * Extract and sugar for the start of the boil are stirred in before the countdown and have no moment of their own.
 */
export function additionMoments(batch: Batch): readonly RecipeMoment[] {
  const { recipe } = batch;
  const starts = (moment: RecipeMoment): boolean =>
    moment.at === 'boil' && moment.minutesLeft >= recipe.boil_min.value;
  const moments = [
    ...[...recipe.extract, ...recipe.sugar].map((item) => item.add).filter((moment) => !starts(moment)),
    ...[...recipe.hops, ...recipe.other].map((item) => item.add),
  ].filter((moment) => BREW_DAY.includes(moment.at));
  const byText = new Map(moments.map((moment) => [momentText(moment), moment]));
  return [...byText.values()].sort((a, b) => momentOrder(a) - momentOrder(b));
}

function yeastField(batch: Batch, units: Units): Wanted {
  const written = batch.recipe.yeast[0]?.amount;
  const label = 'Yeast pitched';
  const key = 'pitched.yeast';
  if (written?.unit === 'count') return { key, label, kind: 'count', groups: [group('##', 'packs')] };
  if (written?.unit === 'L') return { key, label, kind: 'volume', groups: [group('####', 'ml')] };
  const ounces = units === 'us' && /oz/.test(written?.written ?? '');
  return { key, label, kind: 'mass', groups: [ounces ? group('#.#', 'oz') : group('###', 'g')] };
}

/** Where the brewing day is known, its month is known too, and the day of the month is enough. */
function pitchedField(batch: Batch): Wanted {
  const day = group(batch.brewed === null ? '## @' : '##', '', 'day');
  return {
    key: 'pitched.on',
    kind: 'date',
    label: 'Pitched, day, at',
    groups: [day, group('##:##', '', 'clock')],
  };
}

type Block = readonly [letter: string, sheet: Field['sheet'], fields: readonly Wanted[]];

function kettleBlocks(batch: Batch, units: Units): readonly Block[] {
  const { recipe } = batch;
  const kind = kindsFor(units, recipe.intoFermenter_L.value);
  const cool = kindsFor(units, recipe.intoFermenter_L.value, true);
  const mash = recipe.mash !== null;
  const steep = recipe.steep !== null;
  const boil = recipe.boil_min.value > 0;
  const sweetened = recipe.sugar.find(({ add }) => add.at === 'flameout');
  const additions = additionMoments(batch).map((moment, index): Wanted => {
    const at = momentText(moment);
    return {
      ...kind.clock(`additions[${index}].clock`, at === 'flameout' ? 'went in' : `Went in, ${at}`),
      at,
    };
  });
  return [
    [
      'A',
      'kettle',
      [
        kind.clock('heating_started', 'Kettle on'),
        ...(mash
          ? [
              kind.clock('mash_in', 'Mash grain in'),
              kind.temperature('mash_temperature', 'Mash, stirred'),
              kind.clock('mash_out', 'Mash grain out'),
            ]
          : []),
        ...(steep
          ? [
              kind.clock('steep_in', 'Grain in'),
              kind.temperature('steep_temperature', 'Stirred, it is at'),
              kind.clock('steep_out', 'Grain out'),
            ]
          : []),
        ...additions.filter(({ at }) => at === 'first wort'),
      ],
    ],
    [
      'B',
      'kettle',
      [
        ...(boil
          ? [
              kind.clock('boil_started', 'Countdown begins'),
              kind.inPot('boil_start_volume', 'In the pot, boiling'),
              kind.gravity('boil_start_gravity', 'Gravity at the start'),
            ]
          : []),
        ...additions.filter(({ at }) => at?.endsWith('min')),
        ...(boil ? [kind.clock('boil_ended', 'flame out')] : []),
        ...additions.filter(({ at }) => at === 'flameout' || at === 'stand'),
        ...(boil
          ? [
              kind.inPot('boil_end_volume', 'In the pot, still hot'),
              kind.gravity(
                'boil_end_gravity',
                sweetened
                  ? `Gravity after ${sweetened.name.toLowerCase().includes('honey') ? 'honey' : 'sugar'}`
                  : 'Gravity at the end',
              ),
            ]
          : []),
      ],
    ],
    [
      'C',
      'kettle',
      [
        kind.clock('chilled.at', 'Chilled at'),
        cool.temperature('chilled.temperature', 'Chilled to'),
        kind.inPot('top_up.volume', 'Top-up'),
        cool.temperature('top_up.temperature', 'Top-up at'),
      ],
    ],
    [
      'D',
      'kettle',
      [
        kind.volume('fermenter_volume', 'Into the fermenter'),
        kind.gravity('original_gravity', 'Original gravity'),
      ],
    ],
    [
      'E',
      'kettle',
      [yeastField(batch, units), pitchedField(batch), cool.temperature('pitched.temperature', 'Wort at')],
    ],
  ];
}

function cellarBlocks(batch: Batch, units: Units): readonly Block[] {
  const kind = kindsFor(units, batch.recipe.intoFermenter_L.value, true);
  const fermentation = Array.from({ length: FERMENTATION_ROWS }, (_, row) => [
    kind.moment(`fermentation[${row}].on`, 'Date and hour'),
    kind.gravity(`fermentation[${row}].gravity`, 'Gravity, sample'),
    kind.temperature(`fermentation[${row}].temperature`, 'Beer'),
    kind.text(`fermentation[${row}].note`, 'Remark'),
  ]).flat();
  const steps = batch.recipe.packaging.length === 0 ? [null] : batch.recipe.packaging;
  const packaged = steps.map((step, index) => [
    kind.date(`packaged[${index}].on`, step?.into === 'keg' ? 'Kegged on' : 'Packed on'),
    kind.volume(`packaged[${index}].volume`, 'Beer there'),
    kind.temperature(`packaged[${index}].temperature`, 'Beer'),
    ...(step?.into === 'keg' && step.sugar === null
      ? []
      : [kind.mass(`packaged[${index}].sugar`, 'Sugar used')]),
    ...(step?.into === 'keg' ? [] : [kind.count(`packaged[${index}].bottles`, 'Bottles', '###')]),
  ]);
  const tasted = [
    kind.date('tasted[0].on', 'Tasted on'),
    kind.score('tasted[0].score', 'Score'),
    kind.text('tasted[0].note', 'Remark'),
  ];
  return [
    ['F', 'cellar', fermentation],
    [
      'G',
      'cellar',
      [kind.temperature('warmest_after', 'Warmest since'), kind.gravity('final_gravity', 'Final gravity')],
    ],
    ['H', 'cellar', packaged.flat()],
    ['J', 'cellar', tasted],
    ['K', 'cellar', [kind.date('abandoned.on', 'Poured away on'), kind.text('abandoned.why', 'Why')]],
  ];
}

/** Every blank of a batch's sheets in the order of the paper, which is the order they are keyed in. */
export function sheetFields(batch: Batch, units: Units): readonly Field[] {
  return [...kettleBlocks(batch, units), ...cellarBlocks(batch, units)].flatMap(([letter, sheet, wanted]) =>
    wanted.map(({ at, ...field }, index) => ({
      ...field,
      id: `${letter}${index + 1}`,
      sheet,
      at: at ?? null,
    })),
  );
}

/** The pattern of a path, indexes left out: `fermentation[3].on` becomes `fermentation[].on`. */
export function fieldPattern(key: string): string {
  return key.replace(/\[\d+\]/g, '[]');
}
