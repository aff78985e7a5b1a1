import type { Batch } from '../batch/types/batch.ts';
import { type Place, placeText } from '../batch/types/places.ts';
import type { Targets } from '../batch/types/plan.ts';
import {
  type BlankSpec,
  type BlockLetter,
  type Group,
  type One,
  READINGS,
  type ReadingKey,
  type ReadingKind,
  type Rows,
} from '../batch/types/readings.ts';
import type { RecipeMoment } from '../batch/types/recipe.ts';
import type { Units } from '../units/dimension.ts';
import { LITRES_PER_US_GALLON } from '../units/table.ts';

/** What is written into a blank; of yeast that is what the recipe counts it in. */
export type FieldKind = Exclude<ReadingKind, 'addition' | 'amount' | 'container'>;

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
  readonly block: BlockLetter;
  readonly sheet: 'kettle' | 'cellar';
  readonly place: Place;
  /** The place as text: `pitched.on`, `additions[2].clock`, `fermentation[0].gravity`. */
  readonly key: string;
  /** What the table of readings says of it. */
  readonly spec: One;
  readonly kind: FieldKind;
  readonly label: string;
  readonly groups: readonly BoxGroup[];
  /** For an addition: the moment as the batch file writes it, `60 min`, `flameout`. */
  readonly at: string | null;
  /** What may be there in place of a figure; each has a circle of its own. */
  readonly words: readonly ('not taken' | 'left out')[];
  /** False for what has a place in the form alone. */
  readonly onPaper: boolean;
}

export interface Block {
  readonly sheet: Field['sheet'];
  readonly title: string;
  /** Part of the form that it is keyed in with. */
  readonly section: 'brew day' | 'log' | 'packaging' | 'tasting';
}

/** Headings of the paper in its order. */
export const BLOCKS: { readonly [L in BlockLetter]: Block } = {
  A: { sheet: 'kettle', section: 'brew day', title: 'Heat and steep' },
  B: { sheet: 'kettle', section: 'brew day', title: 'Boil' },
  C: { sheet: 'kettle', section: 'brew day', title: 'Chill and top up' },
  D: { sheet: 'kettle', section: 'brew day', title: 'Read' },
  E: { sheet: 'kettle', section: 'brew day', title: 'Pitch' },
  F: { sheet: 'cellar', section: 'log', title: 'While it ferments' },
  G: { sheet: 'cellar', section: 'packaging', title: 'When it has finished' },
  H: { sheet: 'cellar', section: 'packaging', title: 'Packaging' },
  J: { sheet: 'cellar', section: 'tasting', title: 'Tasting' },
  K: { sheet: 'cellar', section: 'tasting', title: 'If it was given up' },
};

/** Rows of lists; on paper, those that there is room for on the cellar sheet. */
export interface RowCounts {
  readonly fermentation: number;
  readonly tasted: number;
}
export const PAPER_ROWS: RowCounts = { fermentation: 8, tasted: 1 };
export const FERMENTATION_ROWS = PAPER_ROWS.fermentation;

const group = (pattern: string, unit = '', part: BoxGroup['part'] = 'value', before = ''): BoxGroup => ({
  part,
  before,
  pattern,
  unit,
});

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

/** A place that is asked about, and where its blank comes: by block, then by order. */
interface Wanted {
  readonly place: Place;
  readonly spec: One;
  readonly blank: BlankSpec;
  readonly moment: RecipeMoment | null;
  readonly block: BlockLetter;
  readonly order: number;
}

const KEYS = Object.keys(READINGS) as readonly ReadingKey[];
/** Far behind every blank of a block. */
const LAST = 1000;

function wantedOf(of: ReadingKey, batch: Batch, rows: RowCounts): readonly Wanted[] {
  const spec: One | Group | Rows = READINGS[of];
  const want = (row: number | null, part: string | null, one: One): readonly Wanted[] => {
    const { blank } = one;
    if (blank === undefined || !isAsked(blank, batch, row ?? 0)) return [];
    const behind = (blank.order ?? 0) / 10 + (blank.formOnly ? LAST : 0);
    const order = KEYS.indexOf(of) + behind;
    return [{ place: { of, row, part }, spec: one, blank, moment: null, block: blank.block, order }];
  };
  if (!('shape' in spec)) return want(null, null, spec);
  const all = (row: number | null) =>
    Object.entries(spec.parts).flatMap(([part, one]) => want(row, part, one));
  if (spec.shape === 'group') return all(null);
  if (of === 'additions') {
    return additionMoments(batch).flatMap((moment, row) =>
      all(row).map((wanted) => ({ ...wanted, moment, ...additionPlace(moment) })),
    );
  }
  const count = of === 'packaged' ? Math.max(1, batch.recipe.packaging.length) : countOf(of, rows);
  return Array.from({ length: count }, (_, row) => all(row)).flat();
}

const countOf = (of: ReadingKey, rows: RowCounts): number =>
  of === 'fermentation' || of === 'tasted' ? rows[of] : 0;

/** What goes in before the countdown is asked with the heat, what goes in after it behind the flame. */
function additionPlace({ at }: RecipeMoment): Pick<Wanted, 'block' | 'order'> {
  if (at === 'first wort') return { block: 'A', order: LAST };
  return { block: 'B', order: KEYS.indexOf(at === 'boil' ? 'additions' : 'boil_ended') + 0.5 };
}

function isAsked({ when }: BlankSpec, { recipe }: Batch, row: number): boolean {
  const step = recipe.packaging[row];
  switch (when) {
    case 'mash':
      return recipe.mash !== null;
    case 'steep':
      return recipe.steep !== null;
    case 'boil':
      return recipe.boil_min.value > 0;
    case 'bottles':
      return step?.into !== 'keg';
    case 'sugar':
      return step?.into !== 'keg' || step.sugar !== null;
    default:
      return true;
  }
}

/** Yeast is counted in what the recipe counts it in. */
function yeastBoxes(batch: Batch, units: Units): readonly [FieldKind, BoxGroup] {
  const written = batch.recipe.yeast[0]?.amount;
  if (written?.unit === 'count') return ['count', group('##', 'packs')];
  if (written?.unit === 'L') return ['volume', group('####', 'ml')];
  const ounces = units === 'us' && /oz/.test(written?.written ?? '');
  return ['mass', ounces ? group('#.#', 'oz') : group('###', 'g')];
}

/** Once chilled, nothing is 100 °F warm: two digits are enough in either scale. */
const isCool = (block: BlockLetter, kind: ReadingKind): boolean =>
  BLOCKS[block].sheet === 'cellar' || (block > 'B' && kind === 'temperature');

function boxesOf({ place, spec, blank, block }: Wanted, batch: Batch, units: Units) {
  const metric = units === 'metric';
  const degrees = metric ? group('##', '°C') : group(isCool(block, spec.kind) ? '##' : '###', '°F');
  const boxes = (kind: FieldKind, ...groups: BoxGroup[]) => ({ kind, groups });
  switch (spec.kind) {
    case 'clock':
    case 'addition':
      return boxes('clock', group('##:##'));
    case 'gravity':
      return boxes('gravity', group('#.###'), { ...degrees, part: 'sample', before: 'at' });
    case 'volume': {
      const gallons = batch.recipe.intoFermenter_L.value / LITRES_PER_US_GALLON >= 9 ? '##.##' : '#.##';
      // Pots and jugs are marked in quarts.
      const inPot = block < 'D';
      return boxes('volume', metric || inPot ? group('##.#', metric ? 'L' : 'qt') : group(gallons, 'gal'));
    }
    case 'temperature':
      return boxes('temperature', degrees);
    case 'mass':
      return boxes('mass', metric ? group('###', 'g') : group('##.#', 'oz'));
    case 'amount':
      return boxes(...yeastBoxes(batch, units));
    case 'count':
      return boxes('count', group('#'.repeat(blank.digits ?? 2)));
    case 'score':
      return boxes('score', group('#.#', 'of 5'));
    case 'date': {
      // Where the brewing day is known, so is the month of what follows it at once.
      const near = place.of === 'pitched' && batch.brewed !== null;
      const day = group(near ? '##' : '## @', '', 'day');
      return boxes('date', day, ...(blank.hour ? [group('##:##', '', 'clock')] : []));
    }
    case 'text':
    case 'container':
      return boxes('text');
  }
}

function labelOf({ place, blank, moment }: Wanted, batch: Batch): string {
  if (moment !== null) return moment.at === 'flameout' ? 'went in' : `${blank.label}, ${momentText(moment)}`;
  const sweet = batch.recipe.sugar.find(({ add }) => add.at === 'flameout');
  if (place.of === 'boil_end_gravity' && sweet !== undefined)
    return `Gravity after ${sweet.name.toLowerCase().includes('honey') ? 'honey' : 'sugar'}`;
  const kegged = place.of === 'packaged' && batch.recipe.packaging[place.row ?? 0]?.into === 'keg';
  return kegged && place.part === 'on' ? 'Kegged on' : blank.label;
}

/** A day makes the row that it is in; words are there or not. */
function wordsFor({ of, part }: Place, { kind }: One): Field['words'] {
  if (kind === 'addition') return ['not taken', 'left out'];
  const spec: One | Group | Rows = READINGS[of];
  if (kind === 'text' || ('shape' in spec && spec.shape === 'group' && !spec.refusable)) return [];
  const makesRow = 'shape' in spec && spec.shape === 'rows' && !spec.single && part === 'on';
  return makesRow ? [] : ['not taken'];
}

/** Every blank of a batch in the order of the paper, with so many rows of its lists, and what the form alone has. */
export function formFields(batch: Batch, units: Units, rows: RowCounts = PAPER_ROWS): readonly Field[] {
  const wanted = KEYS.flatMap((of) => wantedOf(of, batch, rows)).sort(
    (a, b) => a.block.localeCompare(b.block, 'en') || a.order - b.order,
  );
  const numbers = new Map<BlockLetter, number>();
  return wanted.map((one) => {
    const { block, place, spec } = one;
    const { kind, groups } = boxesOf(one, batch, units);
    const printed = countOf(place.of, PAPER_ROWS);
    const number = (numbers.get(block) ?? 0) + 1;
    numbers.set(block, number);
    return {
      id: `${block}${number}`,
      block,
      sheet: BLOCKS[block].sheet,
      place,
      key: placeText(place),
      spec,
      label: labelOf(one, batch),
      kind,
      groups,
      at: one.moment === null ? null : momentText(one.moment),
      words: wordsFor(place, spec),
      onPaper: one.blank.formOnly !== true && (printed === 0 || (place.row ?? 0) < printed),
    };
  });
}

/** Whether its instrument shows as much as is planned: on paper and in the form only that is asked for. */
export function isInReach({ spec: { target, reach } }: Pick<Field, 'spec'>, targets: Targets): boolean {
  const planned = target === undefined ? null : targets[target];
  return planned === null || reach === undefined || planned.value <= reach;
}

/** Every blank of a batch's sheets in the order of the paper, which is the order they are keyed in. */
export function sheetFields(batch: Batch, units: Units): readonly Field[] {
  return formFields(batch, units).filter(({ onPaper }) => onPaper);
}
