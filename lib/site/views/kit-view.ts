import type { Batch } from '../../batch/batch.ts';
import { createLearner } from '../../batch/learning-archive.ts';
import { calibration } from '../../batch/learning-calibration.ts';
import { isShown } from '../../batch/learning-use.ts';
import type { Setup } from '../../batch/setup.ts';
import {
  type CalibrationView,
  calibrationView,
  type LearnedView,
  learnedViews,
  setupLines,
  yeastViews,
} from '../../view/learning-view.ts';
import { learningChart } from '../charts/learning-chart.ts';
import type { Published } from '../site.ts';
import { type HeadView, headView } from './head.ts';

interface PointLink {
  readonly href: string;
  readonly title: string;
  readonly text: string;
  readonly outlier: boolean;
  readonly sigmas: string;
}

export interface KitFigure extends Omit<LearnedView, 'points'> {
  readonly svg: string;
  readonly points: readonly PointLink[];
  readonly outliers: readonly PointLink[];
}

export interface KitSetup {
  readonly id: string;
  readonly title: string;
  /** True where plans are made with what was learned. */
  readonly used: boolean;
  readonly figures: readonly KitFigure[];
  readonly lines: string;
}

export interface KitView {
  readonly head: HeadView;
  readonly setups: readonly KitSetup[];
  readonly yeasts: readonly KitFigure[];
  readonly calibration: CalibrationView | null;
}

export const KIT_PATH = 'kit/index.html';

function figureOf(id: string, view: LearnedView, site: Published): KitFigure {
  const points = view.points.map(
    ({ slug, text, outlier, sigmas }): PointLink => ({
      href: `batches/${slug}/index.html`,
      title: site.bySlug.get(slug)?.batch.title ?? slug,
      text,
      outlier,
      sigmas,
    }),
  );
  return { ...view, svg: learningChart(id, view), points, outliers: points.filter(({ outlier }) => outlier) };
}

/**
 * What the brewer's own kit really does, from the batches that are shown; those that are not leave no trace here.
 *
 * @param planned batches as the brewer's files have them: what was learned must not be learned from again
 */
export function kitView(site: Published, planned: readonly Batch[]): KitView {
  const { units } = site.brewery;
  const shown = planned.filter((batch) => isShown(batch) && site.bySlug.has(batch.slug));
  const learner = createLearner(shown);
  const all = { before: null, counts: () => true };
  const setups = new Map<string, Setup>();
  for (const { setup } of shown) setups.set(setup.key, setup);
  const described = [...setups.values()].flatMap((setup): KitSetup[] => {
    const views = learnedViews(setup, learner.setup(setup, all), units);
    if (views.length === 0) return [];
    const figures = views.map((view) =>
      figureOf(`${setup.key}-${view.key.replaceAll(/\W/g, '-')}`, view, site),
    );
    const { key, title, learned } = setup;
    return [{ id: key, title, used: learned === 'use', figures, lines: setupLines(key, views) }];
  });
  const yeasts = yeastViews(learner.yeasts(all)).map((view, i) => figureOf(`yeast-${i}`, view, site));
  return {
    head: headView(
      site.brewery,
      KIT_PATH,
      'What the kit really does',
      'Evaporation, losses, yields, heat and attenuation, worked back from the readings of every batch.',
    ),
    setups: described,
    yeasts,
    calibration: calibrationView(calibration(site.batches.map(({ plan }) => plan))),
  };
}
