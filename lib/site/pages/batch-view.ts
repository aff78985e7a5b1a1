import { assumedLabel } from '../../batch/model/assumed.ts';
import type { Batch } from '../../batch/types/batch.ts';
import { TARGET_GROUPS, targetsIn } from '../../batch/types/targets.ts';
import { fixed, nonBreaking, stepped } from '../../units/format/format.ts';
import { board } from '../../words/board.ts';
import { drinkableOn } from '../../words/calendar.ts';
import { timetableLines } from '../../words/day.ts';
import { figureLine, figureText, labelLine, labelOf } from '../../words/figures.ts';
import { itemLine } from '../../words/ingredients.ts';
import { ingredientBlocks } from '../../words/lists.ts';
import type { Voice } from '../../words/measures.ts';
import { dateText } from '../../words/measures.ts';
import { capital, sentence } from '../../words/words.ts';
import { dayChart } from '../charts/day-chart.ts';
import { kettleChart } from '../charts/kettle-chart.ts';
import { lockSvg } from '../charts/lock.ts';
import { pictureViews } from '../pictures.ts';
import type { Published, SiteEntry } from '../site.ts';
import { comparedPath } from './compare-view.ts';
import { fermentationView, momentView } from './fermentation.ts';
import { headView } from './head.ts';
import { lineView } from './line-view.ts';
import { comparison, readOf, saidOf } from './readings.ts';
import { STATUS_WORDS, scoreOf, statusOf } from './status.ts';

export interface BatchLink {
  readonly href: string;
  readonly title: string;
}

/** `brewed` where targets were worked out again from what was read. */
function targetTables(entry: SiteEntry, { units, language }: Voice) {
  const hidden = units === 'metric' ? 'colour_srm' : 'colour_ebc';
  return TARGET_GROUPS.map((group) => ({
    title: group,
    brewed: entry.plan.as_brewed !== null,
    rows: targetsIn(group).flatMap((key) => {
      const figure = entry.plan.targets[key];
      if (figure === null || key === hidden) return [];
      const text = figureText(key, figure, units);
      const value = text.unit === '' ? text.number : `${text.number}\u00a0${text.unit}`;
      const between = text.low === text.high ? '' : `${text.low} to ${text.high}`;
      // What was put in and filled is what it is; a plan for the beer as brewed would be another.
      const used = key === 'bottles' || key === 'priming_sugar_g' ? readOf(entry.plan, key, units) : null;
      const found = entry.plan.as_brewed?.[key] ?? null;
      const brewed = used ?? (found === null ? '' : figureLine(key, found, units));
      return [{ label: labelOf(key, language), value, between, brewed }];
    }),
  })).filter((group) => group.rows.length > 0);
}

function packagedRows({ readings }: Batch, language: string) {
  if (readings.packaged === undefined || readings.packaged === 'not taken') return [];
  return readings.packaged.map((row) => {
    const parts = [
      row.volume === null ? null : nonBreaking(row.volume.written),
      row.into === null ? null : row.into === 'keg' ? 'into the keg' : 'into bottles',
      row.bottles === null ? null : `${row.bottles}\u00a0bottles`,
      row.sugar_g === null ? null : `${nonBreaking(row.sugar_g.written)} of sugar`,
      row.temperature_C === null ? null : `at ${nonBreaking(row.temperature_C.written)}`,
    ].filter((part) => part !== null);
    const { iso, day } = momentView(row.on, language);
    return { iso, day, text: parts.join(', ') };
  });
}

function tastings({ readings }: Batch, language: string) {
  if (readings.tasted === undefined || readings.tasted === 'not taken') return [];
  return readings.tasted.map((row) => {
    const { iso, day } = momentView(row.on, language);
    const score = row.score === null ? null : `${stepped(row.score, 0.5)}\u00a0of\u00a05`;
    return { iso, day, score, note: row.note ?? '' };
  });
}

/** The batch that this one changes, where that one may be seen; a hidden one leaves no trace. */
function basedOn(batch: Batch, site: Published): BatchLink | null {
  const other = batch.basedOn === null ? undefined : site.bySlug.get(batch.basedOn);
  if (other === undefined) return null;
  const { slug, title, publish } = other.batch;
  return { href: `${publish === 'all' ? 'batches' : 'recipes'}/${slug}/index.html`, title };
}

/** Its neighbours in the order of brewing; `batches` has the newest first. */
function beside(entry: SiteEntry, { batches }: Published) {
  const at = batches.indexOf(entry);
  const link = (other: SiteEntry | undefined): BatchLink | null =>
    other === undefined ? null : { href: `../${other.batch.slug}/index.html`, title: other.batch.title };
  return { before: link(batches[at + 1]), after: at > 0 ? link(batches[at - 1]) : null };
}

/** Today, where it says something of a batch: while it ferments. */
export const todayFor = (batch: Batch, { today }: Published): string | null =>
  statusOf(batch) === 'fermenting' ? today : null;

/** Everything on a batch's page; `notes` is the HTML that its Markdown gave. */
export function batchView(entry: SiteEntry, site: Published, notes: string) {
  const { batch, plan } = entry;
  const { units, language } = site.brewery;
  const status = statusOf(batch);
  const style = batch.style ?? 'beer';
  const ready = drinkableOn(batch, plan);
  const said = saidOf(batch, plan, site.brewery);
  return {
    head: headView(
      site.brewery,
      `batches/${batch.slug}/index.html`,
      batch.title,
      `${batch.title}, ${style}: planned against brewed, minute by minute, with the readings.`,
    ),
    slug: batch.slug,
    title: batch.title,
    number: batch.number === null ? '' : String(batch.number),
    day: batch.brewed === null ? null : { iso: batch.brewed, text: dateText(batch.brewed, language) },
    style: batch.style ?? '',
    setup: plan.setup.title,
    tags: batch.tags,
    status,
    statusWords: capital(STATUS_WORDS[status]),
    givenUp: batch.readings.abandoned?.why ?? null,
    score: scoreOf(batch),
    lock: lockSvg(plan.swatch?.srgb ?? null),
    basedOn: basedOn(batch, site),
    line: lineView(entry, site),
    /** The page on which it is held against any other. */
    compare: comparedPath(batch.slug),
    board: board(plan, batch.recipe, site.brewery, status === 'planned', status !== 'planned'),
    /** What a kit's label says, where the plan differs, with why. */
    label: labelLine(plan, batch.recipe.intoFermenter_L.value, units),
    /** What is to be in the house before the day; empty once it has begun. */
    shopping: status === 'planned' || status === 'brewing' ? ingredientBlocks(batch, plan, site.brewery) : [],
    /** The day on which it can be drunk, once it is packaged. */
    ready:
      status === 'conditioning' && ready !== null ? { iso: ready, text: dateText(ready, language) } : null,
    dayChart: dayChart(batch, plan, language),
    pictures: pictureViews(site.photographs, batch.slug, '../../'),
    beside: beside(entry, site),
    warnings: plan.warnings.map((warning) => sentence(capital(warning.message))),
    /** What the readings say: with a mark, and without. */
    marked: said.filter(({ level }) => level !== 'calm'),
    calm: said.filter(({ level }) => level === 'calm'),
    comparison: comparison(batch, plan, site.brewery),
    printed:
      plan.printed === undefined || plan.printed.revision === plan.revision ? null : plan.printed.revision,
    targets: targetTables(entry, site.brewery),
    timetable: timetableLines(plan, site.brewery),
    kettle: kettleChart(plan, units),
    bitterness: plan.bitterness.map((row) => ({
      what: itemLine(batch.recipe, row.item, units) ?? row.what,
      minutes: row.equivalent_minutes === null ? '–' : stepped(row.equivalent_minutes, 1),
      ibu: row.ibu === null ? '–' : fixed(row.ibu, 1),
      /** In place of a figure. */
      remark: row.ibu === null ? row.remark : null,
    })),
    fermentation: fermentationView(batch, plan, site.brewery, todayFor(batch, site)),
    packaged: packagedRows(batch, language),
    tasted: tastings(batch, language),
    assumed: plan.assumed.map(({ key, value, reason }) => ({
      label: capital(assumedLabel(key)),
      value: nonBreaking(value),
      reason,
    })),
    notes,
    revision: plan.revision,
  };
}

export type BatchView = ReturnType<typeof batchView>;
