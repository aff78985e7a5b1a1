import type { Plan } from '../../batch/types/plan.ts';
import type { Moment } from '../../batch/types/readings.ts';
import { dayNumber } from '../../batch/types/time.ts';
import { fixed } from '../../units/format/format.ts';
import { pitchedDay } from '../../words/ferment-words.ts';
import { MONTHS, volumeText } from '../../words/measures.ts';
import { lockSvg } from '../charts/lock.ts';
import {
  type SharedScale,
  type SmallCurve,
  scoreBar,
  sharedScale,
  smallFerment,
} from '../charts/small-ferment.ts';
import { laterPages, pageLinks, rowsOfPage } from '../paging.ts';
import { colourOf, ofEntry, type Published, type SiteEntry } from '../site.ts';
import { headView } from './head.ts';
import { scoreOf, statusOf } from './status.ts';

export const YEARS_PATH = 'years/index.html';
/** A page of a year, from 1. */
export const yearPath = (year: string, page = 1): string =>
  `years/${year}/${page === 1 ? '' : `${page}/`}index.html`;

/** Fermentations drawn on one page. */
const CURVES_A_PAGE = 48;
/** More batches than this are counted beside their month: their names are on the page of their year. */
const MOST_NAMED = 300;

export const counted = (n: number): string => (n === 1 ? 'one batch' : `${n} batches`);

/** Batches by the year of their brewing day, newest first. */
export function byYear(site: Published): ReadonlyMap<string, readonly SiteEntry[]> {
  const years = new Map<string, SiteEntry[]>();
  for (const entry of site.batches) {
    const year = entry.batch.brewed?.slice(0, 4);
    if (year === undefined) continue;
    const entries = years.get(year) ?? [];
    years.set(year, entries);
    entries.push(entry);
  }
  return years;
}

const beerOf = (entry: SiteEntry, root: string) => ({
  href: `${root}batches/${entry.batch.slug}/index.html`,
  title: entry.batch.title,
  lock: lockSvg(colourOf(entry)),
});

/** The months of a year, each with what was brewed in it, first to last; a count in place of too many names. */
const monthsOf = (entries: readonly SiteEntry[], root: string, named = true) =>
  MONTHS.map((name, index) => {
    const own = entries.filter(({ batch }) => Number(batch.brewed?.slice(5, 7)) === index + 1);
    if (!named) return { name, count: own.length === 0 ? '' : counted(own.length), batches: [] };
    return { name, count: '', batches: own.map((entry) => beerOf(entry, root)).reverse() };
  });

/** The archive on a rule of years and months. */
export function yearsView(site: Published) {
  const head = headView(
    site.brewery,
    YEARS_PATH,
    'Year by year',
    `What ${site.brewery.name} brewed, by year and month.`,
  );
  const named = site.batches.length <= MOST_NAMED;
  return {
    head,
    years: [...byYear(site)].map(([year, entries]) => ({
      year,
      href: `${year}/index.html`,
      count: counted(entries.length),
      months: monthsOf(entries, head.root, named),
    })),
  };
}

const dayOf = ({ date, clock }: Moment): number => dayNumber(date, clock ?? '12:00');

/** A fermentation from pitching on, in days and gravities corrected for temperature; null with fewer than two readings. */
export const curveOf = (entry: SiteEntry): SmallCurve | null => ofEntry(entry, 'curve', drawnCurve);

function drawnCurve({ batch, plan }: SiteEntry): SmallCurve | null {
  const { fermentation, pitched } = batch.readings;
  if (fermentation === undefined || fermentation === 'not taken') return null;
  const points = fermentation.flatMap((row, index) => {
    const gravity = plan.readings[`fermentation[${index}].gravity`]?.value ?? null;
    return gravity === null ? [] : [{ day: dayOf(row.on), gravity }];
  });
  const start = plan.readings.original_gravity?.value ?? null;
  if (start !== null && pitched !== undefined && pitched !== 'not taken')
    points.unshift({ day: dayOf(pitched.on), gravity: start });
  const first = points[0];
  if (first === undefined || points.length < 2) return null;
  const from = points.map(({ day, gravity }) => ({ day: day - first.day, gravity }));
  const last = from.at(-1)!;
  const label = `${batch.title}: from ${fixed(first.gravity, 3)} to ${fixed(last.gravity, 3)} in ${Math.round(last.day)} days`;
  return { label, points: from, ...fittedOf(plan, first.day, last.day) };
}

/** The fitted curve up to the last reading, in days from the first point. */
function fittedOf(
  { fermentation_curve: curve }: Plan,
  first: number,
  last: number,
): Pick<SmallCurve, 'fitted'> {
  if (curve === undefined) return {};
  const pitched = pitchedDay(curve) - first;
  const fitted = curve.points
    .map(({ day, gravity }) => ({ day: pitched + day, gravity }))
    .filter(({ day }) => day >= 0 && day <= last)
    // Every second point, the last one included, is enough for so small a line.
    .filter((_, i, all) => i % 2 !== all.length % 2);
  return fitted.length < 2 ? {} : { fitted };
}

/** Numbers of a year's pages: one, and more where it has more fermentations than one page draws. */
export function yearPages(site: Published, year: string): readonly number[] {
  const curves = (byYear(site).get(year) ?? []).filter((entry) => curveOf(entry) !== null).length;
  return [1, ...laterPages(curves, CURVES_A_PAGE)];
}

/** What a year gave: how much beer, and how it was liked, the best first. */
function tastedIn(entries: readonly SiteEntry[], { brewery }: Published, root: string) {
  const litres = entries
    .filter(({ batch }) => !['planned', 'abandoned'].includes(statusOf(batch)))
    .reduce((sum, { batch }) => sum + batch.recipe.intoFermenter_L.value, 0);
  const scores = entries.flatMap(({ batch }) => {
    const score = scoreOf(batch);
    return score === null
      ? []
      : [
          {
            href: `${root}batches/${batch.slug}/index.html`,
            title: batch.title,
            style: batch.style,
            score,
            svg: scoreBar(Number.parseFloat(score)),
          },
        ];
  });
  scores.sort((a, b) => Number.parseFloat(b.score) - Number.parseFloat(a.score));
  return {
    made: litres === 0 ? '' : volumeText(litres, brewery.units),
    best: scores[0] ?? null,
    scores,
  };
}

/** One year: its months, and its fermentations side by side on one scale. */
export function yearView(site: Published, year: string, page = 1) {
  const entries = byYear(site).get(year) ?? [];
  const where = page === 1 ? '' : `, page ${page}`;
  const head = headView(
    site.brewery,
    yearPath(year, page),
    `Brewed in ${year}${where}`,
    `What ${site.brewery.name} brewed in ${year}, and how each batch fermented${where}.`,
  );
  const drawn = entries.flatMap((entry) => {
    const curve = curveOf(entry);
    return curve === null ? [] : [{ entry, curve }];
  });
  const scale: SharedScale = sharedScale(drawn.map(({ curve }) => curve));
  return {
    head,
    year,
    count: counted(entries.length),
    top: `${head.root}${YEARS_PATH}`,
    ...tastedIn(entries, site, head.root),
    // The later pages have fermentations alone.
    months: page === 1 ? monthsOf(entries, head.root) : [],
    pages: pageLinks(drawn.length, page, (other) => `${head.root}${yearPath(year, other)}`, CURVES_A_PAGE),
    curves: rowsOfPage(drawn, page, CURVES_A_PAGE).map(({ entry: { batch }, curve }) => ({
      href: `${head.root}batches/${batch.slug}/index.html`,
      title: batch.title,
      svg: smallFerment(curve, scale),
      start: fixed(curve.points[0]!.gravity, 3),
      end: fixed(curve.points.at(-1)!.gravity, 3),
      days: String(Math.round(curve.points.at(-1)!.day)),
    })),
  };
}
