import { createLearner } from '../../batch/learning/archive.ts';
import { isShown, tells } from '../../batch/learning/use.ts';
import type { Batch } from '../../batch/types/batch.ts';
import { LEARNED_KEYS, type Point } from '../../batch/types/learning.ts';
import { type Says, saysOf } from '../../words/learning-view.ts';
import { tellsOf } from '../plan-memo.ts';
import type { Published } from '../site.ts';

/**
 * What each batch says of its setup and its yeast, and which of it the setup's page leaves out; learned when it is first asked for.
 *
 * @param planned batches as the brewer's files have them, as for the setup's page
 */
export function saysView(site: Published, planned: readonly Batch[]): (batch: Batch) => readonly Says[] {
  const all = { before: null, counts: () => true };
  let known: { readonly setups: Map<string, LearnedPoints>; readonly yeasts: LearnedPoints } | null = null;
  const learner = createLearner(
    planned.filter((batch) => isShown(batch) && site.bySlug.has(batch.slug)),
    tellsOf,
  );
  const learnedOnce = () => {
    known ??= {
      setups: new Map(),
      yeasts: new Map(
        learner
          .yeasts(all)
          .filter(({ attenuation }) => tells(attenuation))
          .flatMap(({ attenuation }) =>
            attenuation.points.map((point) => [`attenuation ${point.slug}`, point] as const),
          ),
      ),
    };
    return known;
  };
  return (batch) => {
    const { setups, yeasts } = learnedOnce();
    const { setup } = batch;
    const points = setups.get(setup.key) ?? pointsOf(learner.setup(setup, all));
    setups.set(setup.key, points);
    return saysOf(
      tellsOf(batch),
      site.brewery.units,
      (key) => points.get(`${key} ${batch.slug}`) ?? yeasts.get(`${key} ${batch.slug}`) ?? null,
    );
  };
}

type LearnedPoints = ReadonlyMap<string, Point>;

const pointsOf = (learned: ReturnType<ReturnType<typeof createLearner>['setup']>): LearnedPoints =>
  new Map(
    LEARNED_KEYS.flatMap((key) =>
      (learned[key] !== null && tells(learned[key]) ? learned[key].points : []).map(
        (point) => [`${key} ${point.slug}`, point] as const,
      ),
    ),
  );
