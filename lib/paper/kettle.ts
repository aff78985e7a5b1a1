import type { TimetableRow } from '../batch/types/acts.ts';
import type { Batch } from '../batch/types/batch.ts';
import type { Plan } from '../batch/types/plan.ts';
import type { TargetKey } from '../batch/types/targets.ts';
import { CAUTIONS, type Caution } from '../words/cautions.ts';
import { figureText } from '../words/figures.ts';
import {
  allergenLine,
  type EquipmentBlock,
  equipment,
  ingredientBlocks,
  type ListBlock,
  sanitiserLine,
} from '../words/lists.ts';
import { volume } from '../words/measures.ts';
import type { Units, Voice } from '../words/numbers.ts';
import { batchLine, capital, rowWords, type StepWords, sentence } from '../words/words.ts';
import { additionGroups } from './additions.ts';
import { type Field, sheetFields } from './blanks.ts';
import type { FieldView, Headline, SheetBlock, SheetHead, Stage } from './blocks.ts';
import { fieldView } from './field-view.ts';
import { assumedLines, isLong, type StepSource, stepBlock } from './steps.ts';
import { stripsBlock } from './strips.ts';

/** The sheet that hangs by the stove: everything from the day before until the lid is on. */
export interface KettleSheet {
  readonly head: SheetHead;
  readonly headlines: readonly Headline[];
  readonly rules: Caution;
  readonly warnings: readonly string[];
  readonly assumed: readonly string[];
  readonly dayBefore: readonly StepWords[];
  readonly equipment: readonly EquipmentBlock[];
  readonly sanitiserCaution: Caution;
  readonly sanitiser: string;
  readonly ingredients: readonly ListBlock[];
  readonly allergens: string | null;
  readonly stages: readonly Stage[];
}

/** Title, number, day and revision: what every page of a sheet says at its head. */
export function sheetHead(batch: Batch, plan: Plan, sheet: string): SheetHead {
  return {
    title: batch.title,
    sheet,
    line: batchLine(batch),
    revision: plan.revision.slice(0, 8),
    number: batch.number === null ? null : String(batch.number),
    setup: null,
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
    range: low === high ? null : `fine\u00a0between ${low}\u00a0and\u00a0${high}`,
  };
}

function headlines({ recipe }: Batch, plan: Plan, units: Units): readonly Headline[] {
  return [
    headline('water to heat', 'water_to_heat_l', plan, units),
    { label: 'boil', number: String(Math.round(recipe.boil_min.value)), unit: 'min', range: null },
    headline('original gravity', 'original_gravity', plan, units),
    { label: 'into the fermenter', ...volume(recipe.intoFermenter_L.value, units), range: null },
  ].filter((one) => one !== null);
}

/**
 * Doubts about the plan, each on the sheet it concerns: packaging by the fermenter, all others by the stove.
 *
 * What readings give rise to stands on the batch's page; what they say of bottles is a caution of its own.
 */
export function warningsFor(plan: Plan, sheet: 'kettle' | 'cellar'): readonly string[] {
  const packaging = (key: string): boolean => key.startsWith('recipe.package');
  return plan.warnings
    .filter(({ key }) => !key.startsWith('readings') && packaging(key) === (sheet === 'cellar'))
    .map(({ message }) => sentence(capital(message)));
}

/** Hands out each blank once, by key; what a stage has not placed by its end is placed there. */
class Blanks {
  readonly #left: Map<string, Field>;
  readonly #view: (field: Field) => FieldView;
  constructor(fields: readonly Field[], view: (field: Field) => FieldView) {
    this.#left = new Map(fields.map((field) => [field.key, field]));
    this.#view = view;
  }
  take(...keys: readonly string[]): readonly FieldView[] {
    return keys.flatMap((key) => {
      const field = this.#left.get(key);
      this.#left.delete(key);
      return field === undefined ? [] : [this.#view(field)];
    });
  }
  /** The blank of an addition, by its moment. */
  at(moment: string): readonly FieldView[] {
    return this.take(...[...this.#left.values()].filter(({ at }) => at === moment).map(({ key }) => key));
  }
  rest(letters: string): readonly FieldView[] {
    const keys = [...this.#left.values()]
      .filter(({ id }) => letters.includes(id.charAt(0)))
      .map(({ key }) => key);
    return this.take(...keys);
  }
}

function fieldsBlock(fields: readonly FieldView[]): readonly SheetBlock[] {
  return fields.length === 0 ? [] : [{ kind: 'fields', fields }];
}

/** The blanks that belong right beside an act, by action; `mash` and `steep` have their own. */
function keysFor(row: TimetableRow, first: (action: TimetableRow['action']) => boolean): readonly string[] {
  const grain = row.phase === 'mash' ? 'mash' : 'steep';
  switch (row.action) {
    case 'heat':
      return first('heat') ? ['heating_started'] : [];
    case 'grain in':
      return [`${grain}_in`, `${grain}_temperature`];
    case 'grain out':
      return [`${grain}_out`];
    case 'boil begins':
      return ['boil_started'];
    case 'chill':
      return ['chilled.at', 'chilled.temperature'];
    case 'top up':
      return ['top_up.volume', 'top_up.temperature'];
    case 'pitch':
      return [];
    default:
      return [];
  }
}

/** Whether extract comes in cans or jars, as all does that is no powder. */
const hasCans = ({ recipe }: Batch): boolean => recipe.extract.some(({ form }) => form !== 'dry');

/** The cautions that stand directly before an act, the first time that it comes. */
function cautionsFor(row: TimetableRow, first: boolean, batch: Batch): readonly Caution[] {
  if (!first) return [];
  switch (row.action) {
    case 'heat':
      return [CAUTIONS.carbonMonoxide];
    case 'stir in':
      return hasCans(batch) ? [CAUTIONS.closedCan] : [];
    case 'boil begins':
      return [CAUTIONS.boilOver];
    case 'chill':
      return [CAUTIONS.hotWort];
    case 'seal':
      return [CAUTIONS.airlock];
    default:
      return [];
  }
}

/** Steps nearer than this to the last notch hang on it too: nobody keeps to the minute there. */
const CLOSE_MIN = 10;

/** At most this many things go in by one step. */
const MOST_TOGETHER = 3;
const TOGETHER: readonly TimetableRow['action'][] = ['grain in', 'stir in'];

/** Things that go in by the same act at the same minute stand in one step, up to three of them. */
function together(rows: readonly TimetableRow[]): readonly TimetableRow[] {
  const merged: TimetableRow[][] = [];
  for (const row of rows) {
    const last = merged.at(-1);
    const joins =
      last?.[0]?.action === row.action && last[0].minute === row.minute && TOGETHER.includes(row.action);
    if (joins && last.length < MOST_TOGETHER) last.push(row);
    else merged.push([row]);
  }
  return merged.flatMap(([first, ...others]) =>
    first === undefined
      ? []
      : [
          others.length === 0
            ? first
            : {
                ...first,
                items: [first, ...others].flatMap((row) => row.items),
              },
        ],
  );
}

/** `Flame off` stands in the line of what it goes off for, so that the two are one act. */
function mergeFlameOff(given: readonly TimetableRow[]): readonly { row: TimetableRow; flameOff: boolean }[] {
  const rows = together(given);
  return rows
    .map((row, index) => ({ row, flameOff: rows[index - 1]?.action === 'flame off' }))
    .filter(({ row }, index) => row.action !== 'flame off' || index === rows.length - 1);
}

function stepsOf(source: StepSource, rows: readonly TimetableRow[], blanks: Blanks): readonly SheetBlock[] {
  const all = source.plan.timetable;
  let marked = Number.NEGATIVE_INFINITY;
  return mergeFlameOff(rows).map(({ row, flameOff }) => {
    const near = row.minute - marked < CLOSE_MIN;
    if (!near) marked = row.minute;
    const first = all.find((one) => one.action === row.action);
    const isFirst = first?.minute === row.minute && first.items[0]?.path === row.items[0]?.path;
    const keys = keysFor(row, () => isFirst);
    const block = stepBlock(source, row, all, {
      cautions: cautionsFor(row, isFirst, source.batch),
      fields: row.action === 'add' && row.phase === 'heat' ? blanks.at('first wort') : blanks.take(...keys),
      ...(near ? { mark: null } : {}),
    });
    if (!flameOff) return block;
    const act = `Flame off. ${block.act}`;
    return { ...block, act, long: isLong(act.length + block.rest.length, block.fields.length) };
  });
}

const BEFORE_BOIL = ['heat', 'steep', 'mash'];

/** Splits the timetable into the pages' stages: up to the boil, boil and stand, cold side. */
function split(timetable: readonly TimetableRow[]) {
  const begins = timetable.findIndex((row) => row.action === 'boil begins');
  const inBoil = (row: TimetableRow, index: number): boolean =>
    (row.phase === 'boil' && (begins < 0 || index >= begins)) || row.phase === 'stand';
  const heat = timetable.filter(
    (row, index) =>
      row.action !== 'watch' &&
      (BEFORE_BOIL.includes(row.phase) || (row.phase === 'boil' && !inBoil(row, index))),
  );
  const toBoil = heat.findLastIndex((row) => row.action === 'heat');
  return {
    before: timetable.filter((row) => row.phase === 'gather'),
    // Extract goes in at the first boil: on the page of the heat where it fits, else on that of the boil.
    heat: toBoil < 0 ? heat : heat.slice(0, toBoil + 1),
    extract: toBoil < 0 ? [] : heat.slice(toBoil + 1),
    boil: timetable.filter(inBoil),
    // What must be sanitised stands on the gather list, under the sub-head that says when.
    chill: timetable.filter((row) => row.phase === 'chill' && row.action !== 'sanitise'),
    read: timetable.filter((row) => row.phase === 'read'),
    pitch: timetable.filter((row) => row.phase === 'pitch'),
  };
}

/** Whoever adds hops also has them left over. */
function hopCaution(batch: Batch): Caution | null {
  return batch.recipe.hops.length > 0 ? CAUTIONS.spentHops : null;
}

function boilBlocks(
  source: StepSource,
  rows: readonly TimetableRow[],
  fields: readonly Field[],
  blanks: Blanks,
) {
  const groups = additionGroups(
    source.batch,
    source.plan,
    rows,
    fields,
    (field) => {
      blanks.take(field.key);
      return fieldView(field, source.plan, source.units);
    },
    source.voice,
  );
  const begins = rows.filter((row) => row.action === 'boil begins');
  const clocks = groups.some((group) => group.due !== null);
  const startHasRow = groups.some((group) => group.gone === '0');
  const before = [
    // The watch for the first boil-over stands beside what goes in then, else beside the start itself.
    ...stepsOf(source, begins, blanks).map((step) => (startHasRow ? step : { ...step, watch: true })),
    ...fieldsBlock(blanks.take('boil_start_volume', 'boil_start_gravity')),
  ];
  const after = blanks.rest('B');
  if (groups.length === 0) return [...before, ...fieldsBlock(after)];
  return [
    ...before,
    { kind: 'additions' as const, caution: hopCaution(source.batch), clocks, groups, after },
  ];
}

/** Every stage with blanks says what the circle is for; one with a boil-over watch says what that is. */
function legendOf(blocks: readonly SheetBlock[]): string {
  const watch = blocks.some((block) => {
    if (block.kind === 'additions') return block.groups.some((group) => group.watch);
    return block.kind === 'step' && block.watch;
  });
  return watch ? 'watch: boil-over. Circle: not taken' : 'circle: not taken';
}

function stages(source: StepSource): readonly Stage[] {
  const { batch, plan, units } = source;
  const fields = sheetFields(batch, units).filter((field) => field.sheet === 'kettle');
  const blanks = new Blanks(fields, (field) => fieldView(field, plan, units));
  const rows = split(plan.timetable);
  const strips = stripsBlock(plan, units);
  const heatTitle = rows.heat.some((row) => row.phase === 'mash')
    ? 'Heat and mash'
    : rows.heat.some((row) => row.phase === 'steep')
      ? 'Heat and steep'
      : 'Heat';
  const all: readonly Omit<Stage, 'legend'>[] = [
    {
      id: 'heat',
      title: heatTitle,
      page: false,
      blocks: [...stepsOf(source, rows.heat, blanks), ...fieldsBlock(blanks.rest('A'))],
    },
    {
      id: 'extract',
      title: null,
      page: false,
      blocks: stepsOf(source, rows.extract, blanks),
    },
    {
      id: 'boil',
      title: rows.boil.some((row) => row.phase === 'stand') ? 'Boil and stand' : 'Boil',
      page: false,
      blocks: boilBlocks(source, rows.boil, fields, blanks),
    },
    {
      id: 'cold',
      title: 'Chill, read, pitch',
      page: false,
      blocks: [
        ...stepsOf(source, [...rows.chill, ...rows.read], blanks),
        ...fieldsBlock([...blanks.rest('C'), ...blanks.rest('D')]),
        ...(strips === null ? [] : [strips]),
        ...stepsOf(source, rows.pitch, blanks),
        ...fieldsBlock(blanks.rest('E')),
      ],
    },
  ];
  return all
    .filter((stage) => stage.blocks.length > 0)
    .map((stage) => ({ ...stage, legend: legendOf(stage.blocks) }));
}

/** Turns a plan into the kettle sheet, in work order and in the brewer's units. */
export function kettleSheet(batch: Batch, plan: Plan, voice: Voice): KettleSheet {
  const { units } = voice;
  const before = plan.timetable.filter((row) => row.phase === 'gather' && row.action === 'prepare');
  return {
    head: { ...sheetHead(batch, plan, 'Kettle sheet'), setup: batch.setup.title },
    headlines: headlines(batch, plan, units),
    rules: CAUTIONS.rules,
    warnings: warningsFor(plan, 'kettle'),
    assumed: assumedLines(plan),
    dayBefore: before.map((row) => rowWords(row, voice)),
    equipment: equipment(batch, plan, voice),
    sanitiserCaution: CAUTIONS.sanitiser,
    sanitiser: sanitiserLine(batch, voice),
    ingredients: ingredientBlocks(batch, plan, voice),
    allergens: allergenLine(batch),
    stages: stages({ batch, plan, units, voice }),
  };
}
