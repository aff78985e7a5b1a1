/** One judgment a reading: the day, the fermentation and the bottles together. */

import { residualCo2_vol } from '../../formulas/co2.ts';
import { warmestAfterFermentation } from '../model/build-model-input.ts';
import { gasTemperature } from '../model/packaging.ts';
import type { Observation } from '../readings/normalise-readings.ts';
import type { Batch } from '../types/batch.ts';
import { type Cause, type Judgment, LEVELS, type Level } from '../types/judgment.ts';
import { placeOf } from '../types/places.ts';
import type { BottleJudgment, Targets } from '../types/plan.ts';
import { type PackagedReading, taken } from '../types/readings.ts';
import { dayNumber } from '../types/time.ts';
import { type Gas, gasIn } from './judge-bottles.ts';
import type { Ending } from './judge-fermentation.ts';

/** A tasting so long after packaging proves that the bottles held. Common practice, no source. */
const OVER_DAYS = 90;
/** Livelier or flatter than planned by more than this is worth a word, volumes. Common practice, no source. */
const CARBONATION_MATTERS_vol = 0.3;

export interface EndKnown {
  readonly batch: Batch;
  readonly ambient_kPa: number;
  readonly targets: Targets;
  readonly asBrewed: Partial<Targets> | null;
  /** Without those that are doubted. */
  readonly readings: readonly Observation[];
  readonly ending: Ending | null;
}

export interface End {
  readonly judgments: readonly Judgment[];
  readonly bottles: readonly BottleJudgment[] | null;
}

export const packagedParts = ({ readings: { packaged } }: Batch): readonly PackagedReading[] =>
  taken(packaged) ?? [];

/** Whether bottles have lived long enough to be spoken of no more: time alone proves nothing, a tasting does. */
export function isOver(batch: Batch): boolean {
  const tasted = taken(batch.readings.tasted) ?? [];
  const packaged = packagedParts(batch).map(({ on }) => dayNumber(on.date));
  if (packaged.length === 0) return false;
  return tasted.some(({ on }) => dayNumber(on.date) - Math.max(...packaged) >= OVER_DAYS);
}

const rank = (level: Level): number => LEVELS.indexOf(level);
const loudest = (levels: readonly Level[]): Level => LEVELS[Math.max(0, ...levels.map(rank))]!;

/** Fermentation and bottles, judged together: what one says of the other is said once. */
export function judgeEnd(known: EndKnown): End {
  const { batch, ending } = known;
  if (batch.readings.abandoned) return { judgments: [], bottles: null };
  const parts = bottledParts(known);
  const packaged = packagedParts(batch).length > 0;
  const over = isOver(batch);
  const settled = ending !== null && (ending.flat_days > 0 || ending.last?.key === 'final_gravity');
  const weighed = parts.some(({ sugar }) => sugar);
  const told = packaged ? ending?.last || weighed : settled;
  const gases = told ? parts.map(({ gas }) => (over ? { ...gas, level: 'calm' as const } : gas)) : [];
  const bottles = gases.length === 0 ? null : gases.map(published);
  const burst = burstJudgments(known);
  if (over || burst.length > 0) return { judgments: over ? [] : burst, bottles };
  return {
    judgments: packaged ? packagedJudgments(known, parts, gases) : openJudgments(known, parts, gases),
    bottles,
  };
}

const published = ({ level, grade, likely_vol, at_most_vol, limit_vol }: Gas): BottleJudgment => ({
  level,
  grade,
  likely_vol,
  at_most_vol,
  limit_vol,
});

interface BottledPart {
  readonly gas: Gas;
  readonly sugar: Observation | null;
  readonly planned_vol: number;
  /** Sugar that these bottles stand in the beer that is there; null without a sugar. */
  readonly safe: { readonly mass_g: number; readonly name: string } | null;
}

function bottledParts(known: EndKnown): readonly BottledPart[] {
  const { batch, readings, ending, ambient_kPa, targets, asBrewed } = known;
  const parts = packagedParts(batch);
  const value = (key: string) => readings.find((one) => one.key === key && one.value !== null) ?? null;
  const spoken_L = batch.recipe.packaging.reduce((sum, { volume_L }) => sum + (volume_L?.value ?? 0), 0);
  const all_L = (asBrewed?.packaged_volume_l ?? targets.packaged_volume_l)?.value ?? 0;
  const warmest_C = value('warmest_after')?.value ?? warmestAfterFermentation(batch.recipe);
  return batch.recipe.packaging.flatMap((step, i): BottledPart[] => {
    if (step.into !== 'bottles') return [];
    const own = parts.findIndex((part) => part.into === 'bottles');
    const at = parts.length <= 1 ? 'packaged' : `packaged[${own >= 0 ? own : i}]`;
    const sugar = value(`${at}.sugar`);
    const volume = value(`${at}.volume`);
    const packaged_C = value(`${at}.temperature`)?.value ?? ending?.last?.t_C ?? warmest_C;
    const planned_L = step.volume_L?.value ?? Math.max(0, all_L - spoken_L);
    const gas = gasIn({
      step,
      ambient_kPa,
      ending: ending?.last ? ending : null,
      warmest_C,
      packaged_C,
      sugar: sugar && { g: sugar.value!, u: sugar.u },
      volume: volume && { L: volume.value!, u: volume.u },
      planned_L,
    });
    const residual_vol = residualCo2_vol({ t_C: gasTemperature(warmest_C), ambient_kPa });
    const planned_g = sugar?.value ?? asBrewed?.priming_sugar_g?.value ?? targets.priming_sugar_g?.value ?? 0;
    const sugar_vol = gas.settled_vol - residual_vol;
    const share = Math.min(1, Math.max(0, (sugar_vol - (gas.at_most_vol - gas.limit_vol)) / sugar_vol));
    const safe = step.sugar && sugar_vol > 0 ? { mass_g: share * planned_g, name: step.sugar.name } : null;
    return [{ gas, sugar, planned_vol: Math.max(residual_vol, step.carbonation_vol.value), safe }];
  });
}

function burstJudgments({ readings }: EndKnown): readonly Judgment[] {
  return readings
    .filter(({ key, value }) => placeOf(key)?.part === 'burst' && value !== null)
    .map(({ key, value }) => ({
      key,
      level: 'act' as const,
      cause: { code: 'burst' as const, bottles: value! },
      do: { code: 'danger' as const },
    }));
}

const standing = ({ last, expected, flat_days }: Ending) => ({
  gravity_SG: last!.sg,
  expected_SG: expected.gravity_SG,
  days: flat_days,
});

/** What the last gravity says by itself. */
function stateCause(ending: Ending): Cause {
  const { state, last, fall_points, since_days, needed_days } = ending;
  if (last === null || state === 'too few readings')
    return { code: 'too few readings', gravity_SG: last?.sg ?? null };
  const own = standing(ending);
  switch (state) {
    case 'still falling':
      return { code: 'falling', ...own, fall_points, since_days };
    case 'not yet flat':
      return { code: 'not yet flat', ...own, needed_days };
    case 'finished':
      return { code: 'finished', ...own, below: ending.above_points < -2 * ending.u_points };
    case 'nearly':
    case 'stopped high':
    case 'falling below':
      return { code: state, ...own };
  }
}

const gasCause = ({ likely_vol, at_most_vol, limit_vol, too_much }: Gas, ending: Ending | null): Cause => ({
  code: 'gas',
  likely_vol,
  at_most_vol,
  limit_vol,
  too_much,
  gravity_SG: ending?.last?.sg ?? null,
  expected_SG: ending?.last ? ending.expected.gravity_SG : null,
});

const worst = (gases: readonly Gas[]): Gas | null =>
  [...gases].sort((a, b) => rank(b.level) - rank(a.level) || b.at_most_vol - a.at_most_vol)[0] ?? null;

/** A beer that is still in the fermenter. */
function openJudgments(
  { ending, batch }: EndKnown,
  parts: readonly BottledPart[],
  gases: readonly Gas[],
): readonly Judgment[] {
  if (ending === null || ending.last === null || batch.readings.fermentation === 'not taken') return [];
  const { last, state, next } = ending;
  const { key } = last;
  const cause = stateCause(ending);
  const on = next!;
  switch (state) {
    case 'too few readings':
      // The first reading of a log is no fault: the next is only due.
      return [
        {
          key,
          level: ending.since_days === 0 ? 'calm' : 'look again',
          cause,
          do: { code: 'next reading', on },
        },
      ];
    case 'still falling':
    case 'not yet flat':
      return [{ key, level: 'calm', cause, do: { code: 'next reading', on } }];
    case 'falling below':
    case 'nearly':
      return [
        {
          key,
          level: 'look again',
          cause,
          do: { code: 'read once more', on, below: state === 'falling below' },
        },
      ];
    case 'stopped high':
      return [{ key, level: 'act', cause, do: { code: 'warm and rouse', on } }];
    case 'finished': {
      const gas = worst(gases);
      if (gas === null || gas.level === 'calm')
        return [{ key, level: 'calm', cause, do: { code: 'package' } }];
      const safe = parts.find((part) => part.gas === gas)?.safe ?? null;
      const act = safe
        ? ({ code: 'use less sugar', ...safe } as const)
        : ({ code: 'stronger bottles' } as const);
      return [{ key, level: gas.level, cause: gasCause(gas, ending), do: act }];
    }
  }
}

/** A beer in its bottles: gas that the sugar makes is said of the sugar, gas that may still come of the gravity. */
function packagedJudgments(
  { ending, batch }: EndKnown,
  parts: readonly BottledPart[],
  gases: readonly Gas[],
): readonly Judgment[] {
  const gravity = ending?.last ?? null;
  const gas = worst(gases);
  const kegged = batch.recipe.packaging.length > 0 && parts.length === 0;
  if (gas === null) {
    if (!gravity || !ending || !kegged) return [];
    return [{ key: gravity.key, level: 'calm', cause: stateCause(ending), do: null }];
  }
  const sugar = parts.find((part) => part.sugar) ?? null;
  const sugarKey = sugar?.sugar?.key ?? null;
  const ofSugar = gas.too_much === 'sugar' || !gravity;
  const key = (ofSugar ? sugarKey : null) ?? gravity?.key ?? sugarKey;
  if (key === null) return [];
  if (gas.level !== 'calm') {
    const act =
      gas.level === 'act'
        ? ({ code: 'danger' } as const)
        : ({ code: 'open one', opened: (taken(batch.readings.tasted) ?? []).length > 0 } as const);
    return [{ key, level: gas.level, cause: gasCause(gas, ending), do: act }];
  }
  const calm = { level: 'calm', do: null } as const;
  const finished = gravity && ending ? [{ ...calm, key: gravity.key, cause: stateCause(ending) }] : [];
  if (sugarKey === null) return finished;
  const flat = sugar !== null && Math.abs(gas.settled_vol - sugar.planned_vol) > CARBONATION_MATTERS_vol;
  const cause: Cause = flat
    ? { code: 'carbonation', makes_vol: gas.settled_vol, planned_vol: sugar.planned_vol }
    : gasCause(gas, ending);
  return [...finished, { ...calm, key: sugarKey, cause }];
}

/** One judgment a reading, the loudest of what was found of it, in the order of the readings. */
export function oneEach(keys: readonly string[], found: readonly Judgment[]): readonly Judgment[] {
  return keys.map((key) => {
    const own = found.filter((one) => one.key === key);
    const level = loudest(own.map((one) => one.level));
    return own.find((one) => one.level === level) ?? { key, level: 'calm', cause: null, do: null };
  });
}
