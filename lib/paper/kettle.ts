import type { TimetableRow } from '../batch/types/acts.ts';
import type { Batch } from '../batch/types/batch.ts';
import type { Plan } from '../batch/types/plan.ts';
import type { TargetKey } from '../batch/types/targets.ts';
import { type StripPage, stripDigits } from '../photo/strip.ts';
import type { Units } from '../units/dimension.ts';
import { volumeParts } from '../units/format/format.ts';
import { CAUTIONS, type Caution } from '../words/cautions.ts';
import { figureText, labelLine } from '../words/figures.ts';
import {
  allergenLine,
  type EquipmentBlock,
  equipment,
  ingredientBlocks,
  type ListBlock,
  type PacketRow,
  packetRows,
  sanitiserLine,
  splitBlock,
} from '../words/lists.ts';
import type { Voice } from '../words/measures.ts';
import {
  batchLine,
  capital,
  PHASE_TITLES,
  rowWords,
  type StepWords,
  sentence,
  spelled,
} from '../words/words.ts';
import { type Field, isInReach, sheetFields } from './blanks.ts';
import type { FieldsBlock, FieldView, Headline, Mark, SheetBlock, SheetHead, TitleBlock } from './blocks.ts';
import { fieldView } from './field-view.ts';
import { assumedLines, markOf, type StepSource, stepBlock } from './steps.ts';
import { stripsBlock } from './strips.ts';

/** The sheet that is prepared from, and hangs by the stove until the lid is on. */
export interface KettleSheet {
  readonly head: SheetHead;
  readonly headlines: readonly Headline[];
  /** What a kit's label says, where the plan differs, with why. */
  readonly label: string | null;
  readonly rules: Caution;
  readonly warnings: readonly string[];
  readonly assumed: readonly string[];
  readonly dayBefore: readonly StepWords[];
  readonly equipment: readonly EquipmentBlock[];
  readonly sanitiserCaution: Caution;
  readonly sanitiser: string;
  /** In two columns; a long list in one. */
  readonly ingredients: readonly (readonly ListBlock[])[];
  readonly long: boolean;
  readonly allergens: string | null;
  readonly packets: readonly PacketRow[];
  /** On the wall: to the end of the boil and its stand, then from the chill on. */
  readonly stove: readonly SheetBlock[];
  readonly after: readonly SheetBlock[];
  /** The reading with what it means, and from the yeast on with room for notes: each on one page. */
  readonly together: readonly (readonly SheetBlock[])[];
}

/** Pages of a sheet that a strip can number. */
const MOST_PAGES = 15;

/** The strips of a sheet's pages, from the first. */
export function stripsOf(sheet: StripPage['sheet'], { slug, revision }: Plan): string {
  return Array.from({ length: MOST_PAGES }, (_, at) =>
    stripDigits({ sheet, page: at + 1, slug, revision }),
  ).join(' ');
}

const SHEET_NAMES: { readonly [S in StripPage['sheet']]: string } = {
  kettle: 'Kettle sheet',
  cellar: 'Cellar sheet',
  card: 'Recipe card',
};

/** Title, number, day and revision: what every page of a sheet says at its head; and what a photograph knows it by. */
export function sheetHead(batch: Batch, plan: Plan, sheet: StripPage['sheet'], language: string): SheetHead {
  return {
    title: batch.title,
    sheet: SHEET_NAMES[sheet],
    line: batchLine(batch, language),
    revision: plan.revision.slice(0, 8),
    setup: sheet === 'kettle' ? batch.setup.title : null,
    strips: stripsOf(sheet, plan),
  };
}

/** A value set large with its range under it; null where the target does not apply. */
export function headline(label: string, key: TargetKey, plan: Plan, units: Units): Headline | null {
  const figure = plan.targets[key];
  if (figure === null) return null;
  const { number, unit, low, high } = figureText(key, figure, units);
  return {
    label,
    number,
    unit,
    range: low === high ? null : `fine\u00a0between ${low} and\u00a0${high}`,
  };
}

function headlines({ recipe }: Batch, plan: Plan, units: Units): readonly Headline[] {
  return [
    headline('water to heat', 'water_to_heat_l', plan, units),
    { label: 'boil', number: String(Math.round(recipe.boil_min.value)), unit: 'min', range: null },
    headline('original gravity', 'original_gravity', plan, units),
    { label: 'into the fermenter', ...volumeParts(recipe.intoFermenter_L.value, units), range: null },
  ].filter((one) => one !== null);
}

/**
 * Doubts about the plan, each on the sheet it concerns: packaging by the fermenter, all others by the stove.
 *
 * What follows from readings is on the batch's page; what they say of bottles is a caution of its own.
 */
export function warningsFor(plan: Plan, sheet: 'kettle' | 'cellar'): readonly string[] {
  const packaging = (key: string): boolean => key.startsWith('recipe.package');
  return plan.warnings
    .filter(({ key }) => !key.startsWith('readings') && packaging(key) === (sheet === 'cellar'))
    .map(({ message }) => sentence(capital(message)));
}

/** Hands out each blank once, by key. */
class Blanks {
  readonly #left: Map<string, Field>;
  readonly #view: (field: Field) => FieldView;
  constructor({ batch, plan, voice: { units } }: StepSource) {
    this.#view = (field) => fieldView(field, plan, units);
    this.#left = new Map(
      sheetFields(batch, units)
        .filter((field) => field.sheet === 'kettle' && isInReach(field, plan.targets))
        .map((field) => [field.key, field]),
    );
  }
  take(...keys: readonly string[]): readonly FieldView[] {
    return keys.flatMap((key) => {
      const field = this.#left.get(key);
      this.#left.delete(key);
      return field === undefined ? [] : [this.#view(field)];
    });
  }
  /** The blank of an addition, by its moment. */
  at(...moments: readonly string[]): readonly FieldView[] {
    const found = [...this.#left.values()].filter(({ at }) => at !== null && moments.includes(at));
    return this.take(...found.map(({ key }) => key));
  }
  rest(letters: string): readonly FieldView[] {
    const found = [...this.#left.values()].filter(({ id }) => letters.includes(id.charAt(0)));
    return this.take(...found.map(({ key }) => key));
  }
}

const title = (text: string): TitleBlock => ({ kind: 'title', title: text });

const fieldsBlock = (fields: readonly FieldView[]): readonly FieldsBlock[] =>
  fields.length === 0 ? [] : [{ kind: 'fields', fields }];

/** Whether extract comes in cans or jars, as all does that is no powder. */
const hasCans = ({ recipe }: Batch): boolean => recipe.extract.some(({ form }) => form !== 'dry');

/** The caution directly before an act, the first time that the act comes. */
function cautionFor({ action }: TimetableRow, batch: Batch): Caution | null {
  switch (action) {
    case 'heat':
      return CAUTIONS.carbonMonoxide;
    case 'stir in':
      return hasCans(batch) ? CAUTIONS.closedCan : null;
    case 'boil begins':
      return CAUTIONS.boilOver;
    case 'chill':
      return CAUTIONS.hotWort;
    // The trub that stays behind is what dogs get at.
    case 'transfer':
      return batch.recipe.hops.length > 0 ? CAUTIONS.spentHops : null;
    case 'seal':
      return CAUTIONS.airlock;
    default:
      return null;
  }
}

/** At most this many things go in by one step. */
const MOST_TOGETHER = 3;
/** Acts that end in another one are in one step with it. */
const LEADS_TO: { readonly [A in TimetableRow['action']]?: readonly TimetableRow['action'][] } = {
  'flame off': ['grain in', 'stir in', 'add'],
  'grain out': ['drain'],
  'grain in': ['grain in'],
  'stir in': ['stir in', 'flame on'],
  add: ['add'],
};

/** Rows of one act: the same minute, and one leads to the next; things that go in by the same act are one row of up to three. */
function acts(rows: readonly TimetableRow[]): readonly (readonly TimetableRow[])[] {
  const all: TimetableRow[][] = [];
  for (const row of rows) {
    const last = all.at(-1)?.at(-1);
    const joins =
      last !== undefined &&
      (last.minute === row.minute || row.action === 'flame on') &&
      LEADS_TO[last.action]?.includes(row.action);
    if (!joins) all.push([row]);
    else if (last.action !== row.action) all.at(-1)!.push(row);
    else if (last.items.length < MOST_TOGETHER && row.phase === last.phase) {
      // What was merged keeps the minutes of the last, which is the one that waits.
      all.at(-1)!.splice(-1, 1, { ...row, items: [...last.items, ...row.items] });
    } else all.push([row]);
  }
  return all;
}

/** The blanks that belong right beside an act. */
function fieldsFor(rows: readonly TimetableRow[], first: boolean, blanks: Blanks): readonly FieldView[] {
  return rows.flatMap((row) => {
    const grain = row.phase === 'mash' ? 'mash' : 'steep';
    switch (row.action) {
      case 'heat':
        return first ? blanks.take('heating_started') : [];
      case 'hold':
        return blanks.take(`${grain}_in`, `${grain}_temperature`);
      case 'grain out':
        return blanks.take(`${grain}_out`);
      case 'boil begins':
        return blanks.take('boil_started');
      case 'flame out':
        return blanks.take('boil_ended');
      case 'add':
      case 'stir in':
        return momentFields(row, blanks);
      case 'chill':
        return blanks.take('chilled.at', 'chilled.temperature');
      case 'top up':
        return blanks.take('top_up.volume', 'top_up.temperature');
      case 'read':
        return blanks.take('fermenter_volume', 'original_gravity');
      case 'pitch':
        return blanks.rest('E');
      default:
        return [];
    }
  });
}

function momentFields({ phase, minutes_left }: TimetableRow, blanks: Blanks): readonly FieldView[] {
  if (phase === 'heat') return blanks.at('first wort');
  if (phase === 'stand') return blanks.at('stand');
  if (minutes_left === null) return [];
  return minutes_left === 0 ? blanks.at('flameout', '0 min') : blanks.at(`${Math.round(minutes_left)} min`);
}

const sameMark = (a: Mark | null, b: Mark): boolean =>
  a !== null && a.time === b.time && a.left === b.left && a.half === b.half;

/** Silent rows have their words in others: the watch beside what it goes with. */
const SILENT: readonly TimetableRow['action'][] = ['watch'];

function stepsOf(
  source: StepSource,
  rows: readonly TimetableRow[],
  blanks: Blanks,
  told: Set<string>,
): readonly SheetBlock[] {
  const all = source.plan.timetable;
  const isFirst = (row: TimetableRow): boolean => row === all.find(({ action }) => action === row.action);
  let mark: Mark | null = null;
  return acts(rows.filter(({ action }) => !SILENT.includes(action))).flatMap((act): readonly SheetBlock[] => {
    const first = act[0]!;
    const here = markOf(first, source);
    const cautions = act.flatMap((row) => {
      const caution = cautionFor(row, source.batch);
      if (caution === null || told.has(caution.id)) return [];
      told.add(caution.id);
      return [caution];
    });
    const fields = fieldsFor(act, act.some(isFirst), blanks);
    const block = stepBlock(source, act, {
      cautions,
      fields,
      mark: sameMark(mark, here) ? null : here,
    });
    mark = here;
    if (first.action !== 'boil begins') return [block];
    return [block, ...fieldsBlock(blanks.take('boil_start_volume', 'boil_start_gravity'))];
  });
}

const SOAKS: readonly TimetableRow['phase'][] = ['mash', 'steep'];
const ON_THE_STOVE: readonly TimetableRow['phase'][] = ['heat', 'mash', 'steep', 'boil', 'stand'];

/** Up to the end of the boil and of a stand after it; before its countdown, and with it. */
function stoveBlocks(source: StepSource, blanks: Blanks): readonly SheetBlock[] {
  const told = new Set<string>();
  const rows = source.plan.timetable.filter(({ phase }) => ON_THE_STOVE.includes(phase));
  const begins = rows.findIndex(({ action }) => action === 'boil begins');
  const end = begins < 0 ? rows.length : begins;
  const [heat, boil] = [rows.slice(0, end), rows.slice(end)];
  const soaks = SOAKS.filter((soak) => heat.some(({ phase }) => phase === soak)).map(
    (soak) => PHASE_TITLES[soak],
  );
  return [
    title([PHASE_TITLES.heat, ...soaks.map((soak) => soak.toLowerCase())].join(', ')),
    ...stepsOf(source, heat, blanks, told),
    ...fieldsBlock(blanks.rest('A')),
    ...(boil.length === 0 ? [] : [title('')]),
    ...stepsOf(source, boil, blanks, told),
  ];
}

function afterBlocks(source: StepSource, blanks: Blanks): Pick<KettleSheet, 'after' | 'together'> {
  const { plan, voice } = source;
  const strips = stripsBlock(plan, voice.units);
  const told = new Set<string>();
  const steps = (wanted: TimetableRow['phase']): readonly SheetBlock[] => {
    const rows = plan.timetable.filter(({ phase }) => phase === wanted);
    return stepsOf(source, rows, blanks, told);
  };
  const after = [
    title('Chill, read, pitch'),
    ...fieldsBlock(blanks.rest('B')),
    ...steps('chill'),
    ...fieldsBlock(blanks.rest('C')),
  ];
  const read = [...steps('read'), ...fieldsBlock(blanks.rest('D')), ...(strips === null ? [] : [strips])];
  const pitch: readonly SheetBlock[] = [
    ...steps('pitch'),
    ...fieldsBlock(blanks.rest('E')),
    { kind: 'notes' },
  ];
  return { after, together: [read, pitch] };
}

const LONGEST_IN_COLUMNS = 60;
const linesOf = (blocks: readonly ListBlock[]): number =>
  blocks.reduce((sum, { lines }) => sum + lines.length + 1, 0);

/** The blocks in two columns, as even as their order allows. */
function columns(blocks: readonly ListBlock[]): readonly (readonly ListBlock[])[] {
  const uneven = (at: number): number => Math.abs(2 * linesOf(blocks.slice(0, at)) - linesOf(blocks));
  const cuts = blocks.map((_, at) => at).slice(1);
  const best = cuts.reduce((a, b) => (uneven(b) < uneven(a) ? b : a), cuts[0] ?? blocks.length);
  return [blocks.slice(0, best), blocks.slice(best)];
}

/** Turns a plan into the kettle sheet, in work order and as the brewer is spoken to. */
export function kettleSheet(batch: Batch, plan: Plan, voice: Voice): KettleSheet {
  const { units, language } = voice;
  const source = { batch, plan, voice };
  const blanks = new Blanks(source);
  const stove = stoveBlocks(source, blanks);
  const after = afterBlocks(source, blanks);
  const lists = ingredientBlocks(batch, plan, voice).flatMap(splitBlock);
  const long = linesOf(lists) > LONGEST_IN_COLUMNS;
  return {
    head: sheetHead(batch, plan, 'kettle', language),
    headlines: headlines(batch, plan, units),
    label: labelLine(plan, batch.recipe.intoFermenter_L.value, units),
    rules: CAUTIONS.rules,
    warnings: warningsFor(plan, 'kettle'),
    assumed: assumedLines(plan),
    dayBefore: plan.timetable
      .filter(({ phase, action }) => phase === 'gather' && action === 'prepare')
      .map((row) => rowWords(row, voice)),
    equipment: equipment(batch, plan, voice),
    sanitiserCaution: { ...CAUTIONS.sanitiser, hazard: spelled(CAUTIONS.sanitiser.hazard, language) },
    sanitiser: sanitiserLine(batch, voice),
    ingredients: long ? [lists] : columns(lists),
    long,
    allergens: allergenLine(batch),
    packets: packetRows(batch, units),
    stove,
    ...after,
  };
}
