import { createLearner } from '../../batch/learning/archive.ts';
import { calibration, heldIn } from '../../batch/learning/calibration.ts';
import { isShown } from '../../batch/learning/use.ts';
import type { Batch } from '../../batch/types/batch.ts';
import type { Setup } from '../../batch/types/setup.ts';
import {
  type CalibrationView,
  calibrationView,
  type LearnedView,
  learnedViews,
  setupLines,
  yeastViews,
} from '../../words/learning-view.ts';
import { learningChart } from '../charts/learning-chart.ts';
import { pageCount, rowsOfPage } from '../paging.ts';
import { tellsOf } from '../plan-memo.ts';
import { ofEntry, type Published } from '../site.ts';
import { type HeadView, headView } from './head.ts';

interface PointLink {
  readonly href: string;
  readonly title: string;
  readonly text: string;
  readonly outlier: boolean;
}

export interface KitFigure extends Omit<LearnedView, 'points'> {
  readonly svg: string;
  readonly points: readonly PointLink[];
  readonly outliers: readonly PointLink[];
}

export interface KitSetup {
  readonly id: string;
  /** Its own page, where the setup takes several; else empty. */
  readonly href: string;
  readonly title: string;
  /** True where plans are made with what was learned. */
  readonly used: boolean;
  readonly figures: readonly KitFigure[];
  /** What too few batches speak of, in one line; else empty. */
  readonly early: string;
  readonly lines: string;
}

export interface KitView {
  readonly head: HeadView;
  readonly setups: readonly KitSetup[];
  readonly yeasts: readonly KitFigure[];
  readonly yeastsEarly: string;
  readonly calibration: CalibrationView | null;
  /** Pages of their own for what would make this one heavy: a setup each, and yeasts by the handful. Empty where one page is enough. */
  readonly parts: readonly KitPart[];
  /** Where each handful of yeasts is. */
  readonly yeastParts: readonly { readonly href: string; readonly title: string }[];
}

export interface KitPart {
  readonly path: string;
  readonly head: HeadView;
  readonly setup: KitSetup | null;
  readonly yeasts: readonly KitFigure[];
  readonly yeastsEarly: '';
  readonly yeastParts: readonly [];
}

export const KIT_PATH = 'kit/index.html';
/** Observations that one page draws and lists: some two hundred bytes each. */
const MOST_POINTS = 300;
/** Figures of yeasts on a page of their own. */
const YEASTS_A_PAGE = 8;

function figureOf(id: string, view: LearnedView, site: Published): KitFigure {
  const points = view.points.map(
    ({ slug, text, outlier }): PointLink => ({
      href: `batches/${slug}/index.html`,
      title: site.bySlug.get(slug)?.batch.title ?? slug,
      text,
      outlier,
    }),
  );
  return {
    ...view,
    svg: learningChart(id, view),
    points,
    outliers: points.filter(({ outlier }) => outlier),
  };
}

/** Those that enough batches speak of, and the others in one line. */
function told(
  views: readonly LearnedView[],
  site: Published,
  id: (view: LearnedView, index: number) => string,
): Pick<KitSetup, 'figures' | 'early'> {
  const early = views.filter((view) => view.early);
  return {
    figures: views.filter((view) => !view.early).map((view, i) => figureOf(id(view, i), view, site)),
    early: early.map(({ label, batches }) => `${label} (${batches})`).join(', '),
  };
}

/**
 * What the brewer's own pots really do, from the batches that are shown; those that are not leave no trace here.
 *
 * @param planned batches as the brewer's files have them: what was learned must not be learned from again
 */
export function kitView(site: Published, planned: readonly Batch[]): KitView {
  const { units } = site.brewery;
  const shown = planned.filter((batch) => isShown(batch) && site.bySlug.has(batch.slug));
  const learner = createLearner(shown, tellsOf);
  const all = { before: null, counts: () => true };
  const setups = new Map<string, Setup>();
  for (const { setup } of shown) setups.set(setup.key, setup);
  const described = [...setups.values()].flatMap((setup): KitSetup[] => {
    const views = learnedViews(setup, learner.setup(setup, all), units);
    if (views.length === 0) return [];
    const { key, title, learned } = setup;
    const figures = told(views, site, (view) => `${key}-${view.key.replaceAll(/\W/g, '-')}`);
    return [{ id: key, href: '', title, used: learned === 'use', ...figures, lines: setupLines(key, views) }];
  });
  const { figures: yeasts, early } = told(
    yeastViews(learner.yeasts(all)),
    site,
    (_, index) => `yeast-${index}`,
  );
  return {
    head: headView(
      site.brewery,
      KIT_PATH,
      'What my pots really do',
      'Boil-off, losses, yields, heat and attenuation, worked back from the readings of every batch.',
    ),
    yeastsEarly: early,
    calibration: calibrationView(
      calibration(site.batches.map((entry) => ofEntry(entry, 'held', ({ plan }) => heldIn(plan)))),
    ),
    ...parted(described, yeasts, site),
  };
}

/** Pages of their own where all figures together would make a heavy one. */
function parted(
  setups: readonly KitSetup[],
  yeasts: readonly KitFigure[],
  site: Published,
): Pick<KitView, 'setups' | 'yeasts' | 'parts' | 'yeastParts'> {
  const points = [...setups.flatMap(({ figures }) => figures), ...yeasts].reduce(
    (sum, figure) => sum + figure.points.length,
    0,
  );
  if (points <= MOST_POINTS) return { setups, yeasts, parts: [], yeastParts: [] };
  const part = (number: number, title: string, words: string) => {
    const path = `kit/${number}/index.html`;
    const head = headView(site.brewery, path, title, words);
    return { path, href: `${number}/index.html`, head, yeastsEarly: '', yeastParts: [] } as const;
  };
  const short = (figures: readonly KitFigure[]) => figures.map((figure) => ({ ...figure, points: [] }));
  const ofSetups = setups.map((setup, i) => {
    const words = `${setup.title}: what the readings of every batch say of it.`;
    return { ...part(i + 1, setup.title, words), setup, yeasts: [] };
  });
  const ofYeasts = Array.from({ length: pageCount(yeasts.length, YEASTS_A_PAGE) }, (_, i) => {
    const own = rowsOfPage(yeasts, i + 1, YEASTS_A_PAGE);
    const names = own.length > 1 ? `${own[0]?.label} to ${own.at(-1)?.label}` : (own[0]?.label ?? '');
    const words = `Attenuation by yeast, from the readings of every batch: ${names}.`;
    return {
      ...part(setups.length + i + 1, `Attenuation: ${names}`, words),
      names,
      setup: null,
      yeasts: own,
    };
  }).filter((one) => one.yeasts.length > 0);
  return {
    setups: ofSetups.map(({ setup, href }) => ({ ...setup, href, figures: short(setup.figures) })),
    yeasts: short(yeasts),
    parts: [...ofSetups, ...ofYeasts],
    yeastParts: ofYeasts.map(({ href, names }) => ({ href, title: names })),
  };
}
