import type { Batch } from '../batch/types/batch.ts';
import type { Plan, PrimingTable } from '../batch/types/plan.ts';
import type { ReadingKey } from '../batch/types/readings.ts';
import type { PackageStep } from '../batch/types/recipe.ts';
import { dateAfter } from '../batch/types/time.ts';
import type { Units } from '../units/dimension.ts';
import { echoed, fixed, massParts, stepped, temperatureParts } from '../units/format/format.ts';
import { CAUTIONS, type Caution } from '../words/cautions.ts';
import { isOfBottles, judgmentWords } from '../words/judgments.ts';
import { inWorkOrder, isLate } from '../words/lists.ts';
import {
  dateText,
  durationText,
  givenTemperature,
  pressureText,
  temperatureText,
  type Voice,
  volumeText,
} from '../words/measures.ts';
import { itemWords, listed } from '../words/words.ts';
import { FERMENTATION_ROWS, sheetFields } from './blanks.ts';
import type { FieldView, Headline, SheetHead } from './blocks.ts';
import { fieldView } from './field-view.ts';
import { headline, sheetHead, warningsFor } from './kettle.ts';

/** Something that is put into the fermenter days after pitching. */
export interface LateAddition {
  readonly day: string;
  /** The date due, where the brewing day is known. */
  readonly due: string | null;
  readonly what: string;
}

export interface PrimingView {
  readonly heading: string;
  readonly temperatures: readonly string[];
  /** The unit of the temperatures. */
  readonly scale: string;
  readonly rows: readonly { readonly volume: string; readonly amounts: readonly string[] }[];
}

export interface PackagingView {
  readonly title: string;
  readonly facts: readonly string[];
  readonly caution: Caution;
  readonly fields: readonly FieldView[];
}

/** The sheet that hangs by the fermenter: one page from pitching to the first tasting. */
export interface CellarSheet {
  readonly head: SheetHead;
  readonly headlines: readonly Headline[];
  readonly warnings: readonly string[];
  /** Rows are closer, so that it stays on one page. */
  readonly tight: boolean;
  readonly late: readonly LateAddition[];
  readonly logHead: readonly FieldView[];
  readonly log: readonly (readonly FieldView[])[];
  /** The rule that says when it is finished, as things to tick. */
  readonly finished: readonly string[];
  readonly unfinished: string;
  readonly finishedFields: readonly FieldView[];
  readonly priming: PrimingView | null;
  readonly packaging: readonly PackagingView[];
  readonly tasting: readonly FieldView[];
  readonly abandoned: readonly FieldView[];
}

/** What goes into the fermenter later, in order of its day. */
export function lateAdditions(batch: Batch, { units, language }: Voice): readonly LateAddition[] {
  return inWorkOrder(batch)
    .flatMap((item) => (isLate(item.add) ? [{ item, add: item.add }] : []))
    .sort((a, b) => a.add.day - b.add.day)
    .map(({ item, add }) => {
      const out =
        add.at === 'dry' && add.forWritten !== null ? `; out after ${echoed(add.forWritten, units)}` : '';
      return {
        day: `day\u00a0${add.day}`,
        due: batch.brewed === null ? null : dateText(dateAfter(batch.brewed, add.day), language),
        what: `Add ${itemWords(item, units)}${out}.`,
      };
    });
}

function bandHeadline({ recipe }: Batch, units: Units): Headline | null {
  const step = recipe.ferment[0];
  const band = recipe.yeast[0]?.temperature_C ?? null;
  const bandText =
    band === null
      ? null
      : `yeast ${temperatureText(band.low, units)} to ${temperatureText(band.high, units)}`;
  if (step === undefined && band === null) return null;
  const middle = step?.temperature_C.value ?? ((band?.low ?? 0) + (band?.high ?? 0)) / 2;
  const steps = recipe.ferment.map(
    ({ temperature_C, time_min }) =>
      `${givenTemperature(temperature_C.value, units)} for ${durationText(time_min.value)}`,
  );
  return {
    label: 'keep at',
    ...temperatureParts(middle, units),
    range: steps.length > 1 ? `then ${listed(steps.slice(1))}` : bandText,
  };
}

function finishedRules(plan: Plan): readonly string[] {
  const { finish } = plan;
  if (finish === null) return [];
  const { days, apart, finished_at_most } = finish;
  return [
    `Read twice, ${days}\u00a0days apart: the same.`,
    `${fixed(apart, 3)} lower: ${2 * days}\u00a0days apart.`,
    `Last: ${fixed(finished_at_most, 3)} or\u00a0less.`,
  ];
}

/** What to do where the boxes cannot be ticked, with this beer's numbers. */
function unfinishedRule({ finish }: Plan): string {
  const nearly =
    finish === null ? '' : ` Up to ${fixed(finish.nearly_at_most, 3)}: rouse it, read once more.`;
  return `Still falling: wait.${nearly} Stopped higher: do not bottle; warm it, rouse the yeast, read again.`;
}

/** The sugar table in the brewer's units, amounts to be read off with no arithmetic. */
export function primingView(table: PrimingTable, units: Units): PrimingView {
  const ounces = units === 'us';
  return {
    heading: `${ounces ? 'Ounces' : 'Grams'} of ${table.sugar} for ${stepped(table.carbonation_vol, 0.1)}\u00a0vol`,
    temperatures: table.temperatures_c.map((celsius) => temperatureParts(celsius, units).number),
    scale: temperatureParts(20, units).unit,
    rows: table.rows.map((row) => ({
      volume: volumeText(row.volume_l, units),
      amounts: row.sugar_g.map((grams) => (ounces ? massParts(grams, units).number : stepped(grams, 1))),
    })),
  };
}

function bottleFacts(plan: Plan, step: PackageStep | null, units: Units): readonly string[] {
  const { bottles, packaged_volume_l, bottle_pressure_30c_kpa } = plan.targets;
  const size = step?.bottle_L?.written;
  const volume_L = step?.volume_L?.value ?? packaged_volume_l?.value;
  return [
    ...(bottles === null
      ? []
      : [`${Math.round(bottles.value)} bottles${size === undefined ? '' : ` of ${echoed(size, units)}`}`]),
    ...(volume_L === undefined ? [] : [volumeText(volume_L, units)]),
    ...(step === null
      ? []
      : [`made for ${echoed(step.limit.written, units)}${step.limit.assumed ? ' (assumed)' : ''}`]),
    ...(bottle_pressure_30c_kpa === null
      ? []
      : [`at ${temperatureText(30, units)} up to ${pressureText(bottle_pressure_30c_kpa.high, units)}`]),
  ];
}

function kegFacts(plan: Plan, step: PackageStep, units: Units): readonly string[] {
  const pressure = plan.targets.keg_pressure_kpa;
  const at = step.temperature_C === null ? '' : ` at ${echoed(step.temperature_C.written, units)}`;
  return [
    `${echoed(step.carbonation_vol.written, units)} of gas`,
    ...(pressure === null ? [] : [`set the regulator to ${pressureText(pressure.value, units)}${at}`]),
  ];
}

/** The blanks of one reading, or of one row of it. */
type View = (of: ReadingKey, row?: number) => readonly FieldView[];

function packagingViews(batch: Batch, plan: Plan, voice: Voice, view: View) {
  const { units } = voice;
  const steps = batch.recipe.packaging.length === 0 ? [null] : batch.recipe.packaging;
  return steps.map((step, index): PackagingView => {
    const keg = step?.into === 'keg';
    return {
      title: keg ? 'Keg' : 'Bottle',
      facts: keg ? kegFacts(plan, step, units) : bottleFacts(plan, step, units),
      caution: keg ? CAUTIONS.keg : bottleCaution(plan, voice),
      fields: view('packaged', index),
    };
  });
}

/** The caution on bottles; where readings already say that these are in danger, it says so. */
export function bottleCaution({ judgments }: Plan, voice: Voice): Caution {
  const found = judgments.find(isOfBottles);
  if (found === undefined) return CAUTIONS.bottles;
  const { cause, do: act } = judgmentWords(found, voice);
  return {
    id: 'bottleDanger',
    hazard: 'Bottles',
    consequence: `can burst. ${cause ?? ''}`,
    avoid: act ?? '',
  };
}

/** Turns a plan into the cellar sheet in the brewer's units. */
export function cellarSheet(batch: Batch, plan: Plan, voice: Voice): CellarSheet {
  const { units } = voice;
  const fields = sheetFields(batch, units).filter((field) => field.sheet === 'cellar');
  const view: View = (of, row) =>
    fields
      .filter(({ place }) => place.of === of && (row === undefined || place.row === row))
      .map((field) => fieldView(field, plan, units));
  const block = (letter: string): readonly FieldView[] =>
    fields.filter((field) => field.block === letter).map((field) => fieldView(field, plan, units));
  const late = lateAdditions(batch, voice);
  const log = Array.from({ length: FERMENTATION_ROWS }, (_, row) => view('fermentation', row));
  return {
    head: sheetHead(batch, plan, 'cellar', voice.language),
    headlines: [bandHeadline(batch, units), headline('final gravity', 'final_gravity', plan, units)].filter(
      (one) => one !== null,
    ),
    warnings: warningsFor(plan, 'cellar'),
    tight: late.length > 1 || bottleCaution(plan, voice).id === 'bottleDanger',
    late,
    logHead: log[0] ?? [],
    log,
    finished: finishedRules(plan),
    unfinished: unfinishedRule(plan),
    finishedFields: block('G'),
    priming: plan.priming === null ? null : primingView(plan.priming, units),
    packaging: packagingViews(batch, plan, voice, view),
    tasting: view('tasted'),
    abandoned: view('abandoned'),
  };
}
