/** What gas the bottles hold, likely and at most, against what they are made for. */

import { CO2_DENSITY_g_per_L_vol, co2Pressure_kPa_gauge, residualCo2_vol } from '../../formulas/co2.ts';
import { co2FromExtract_vol } from '../../formulas/priming.ts';
import { INPUT_DEFAULTS, SETUP_DEFAULTS } from '../model/defaults.ts';
import { gasTemperature } from '../model/packaging.ts';
import type { Level } from '../types/judgment.ts';
import type { BottleJudgment } from '../types/plan.ts';
import type { PackageStep } from '../types/recipe.ts';
import type { Ending } from './judge-fermentation.ts';

/** A warm cupboard in summer, °C. */
export const WARMEST_BOTTLE_C = 30;
/** The last points are taken to give a little more gas than the formula says, to be on the safe side. Common practice, no source. */
const SAFE_SIDE = 1.035;
/** Gas that a point of fall gives about where beers end: 0.51 vol. */
const POINT_vol = SAFE_SIDE * co2FromExtract_vol({ from_SG: 1.0115, to_SG: 1.0105 });
const GAS_YIELD = INPUT_DEFAULTS.co2Yield;
const SCALE_u = SETUP_DEFAULTS['uncertainty.scale'].u;
/** Of uneven stirring. Common practice, no source. */
const STIRRING_u = 0.05;
/** Of the residual gas, volumes. */
const RESIDUAL_u_vol = 0.03;
/** A packaged volume that was not read. Common practice, no source. */
const ASSUMED_VOLUME_u = 0.03;
/** Of a beer that is where it should be, points. */
const SETTLED_u_POINTS = 0.3;
/** One-sided 95 %. */
const ONE_SIDED_95 = 1.645;

/** Range of the pressure formula, volumes. */
const MOST_vol = 20;

export interface BottleFacts {
  readonly step: PackageStep;
  readonly ambient_kPa: number;
  /** Null where no gravity was read: the sugar alone is judged. */
  readonly ending: Ending | null;
  /** The warmest since it was flat, and now. */
  readonly warmest_C: number;
  readonly packaged_C: number;
  /** As weighed; null where it was not. */
  readonly sugar: { readonly g: number; readonly u: number } | null;
  /** As read; null where it was not. */
  readonly volume: { readonly L: number; readonly u: number } | null;
  readonly planned_L: number;
}

/** What bottles are made for, volumes; a limit in pressure is read as what gives it in a hot cupboard. */
export function limitOf({ limit }: PackageStep, ambient_kPa: number): number {
  if (limit.unit === 'vol') return limit.value;
  let [low, high] = [0, MOST_vol];
  for (let round = 0; round < 40; round++) {
    const middle = (low + high) / 2;
    if (co2Pressure_kPa_gauge({ volumes: middle, t_C: WARMEST_BOTTLE_C, ambient_kPa }) < limit.value)
      low = middle;
    else high = middle;
  }
  return low;
}

export interface Gas extends BottleJudgment {
  /** What makes most of what is too much; null where nothing is. */
  readonly too_much: 'sugar' | 'fall' | 'margin' | null;
  /** Without any further fall. */
  readonly settled_vol: number;
}

/**
 * Gas in a bottled part.
 *
 * Formula: likely = R + S + s D; at most = likely + 1.645 √(u_R² + u_S² + (s u_D)²). R residual gas, S the sugar's = 0.96 g y /
 *   (1.9768 V), s the gas of a point, D the fall still to come: none in grades A and B, else the last gravity above the expected
 *   one or the last fall, whichever is more.
 * Source: law of propagation (JCGM 100, 5.1.2); grades and spreads are common practice, no source.
 * Range: any readings inside the gas formulas'; result in volumes.
 */
export function gasIn(of: BottleFacts): Gas {
  const { step, ambient_kPa, ending, sugar, volume } = of;
  const grade = ending?.grade ?? 'C';
  const residualAt = (t_C: number) => residualCo2_vol({ t_C: gasTemperature(t_C), ambient_kPa });
  const warm_vol = residualAt(of.warmest_C);
  const residual_vol = ending && grade === 'C' ? residualAt(of.packaged_C) : warm_vol;
  const litres = volume?.L ?? of.planned_L;
  const planned_vol = Math.max(0, step.carbonation_vol.value - warm_vol);
  const sugar_vol =
    sugar && step.sugar && litres > 0
      ? (GAS_YIELD.value * sugar.g * step.sugar.co2_g_per_g) / (CO2_DENSITY_g_per_L_vol * litres)
      : planned_vol;
  const scale_u = sugar && sugar.g > 0 ? sugar.u / sugar.g : SCALE_u;
  const volume_u = volume && volume.L > 0 ? volume.u / volume.L : ASSUMED_VOLUME_u;
  const sugar_u = sugar_vol * Math.hypot(scale_u, volume_u, GAS_YIELD.u / GAS_YIELD.value, STIRRING_u);
  const { points, u } = fallToCome(ending);
  const settled_vol = residual_vol + sugar_vol;
  const likely_vol = settled_vol + POINT_vol * points;
  const at_most_vol = likely_vol + ONE_SIDED_95 * Math.hypot(RESIDUAL_u_vol, sugar_u, POINT_vol * u);
  const limit_vol = limitOf(step, ambient_kPa);
  const far =
    ending !== null &&
    grade === 'C' &&
    (ending.fall_points > 0.5 || ending.above_points > 1.5 * ending.u_points);
  const over = at_most_vol > limit_vol;
  const level: Level =
    likely_vol > limit_vol || (far && over)
      ? 'act'
      : over || (ending !== null && grade !== 'A')
        ? 'look again'
        : 'calm';
  const too_much = settled_vol > limit_vol ? 'sugar' : level === 'act' ? 'fall' : over ? 'margin' : null;
  return { level, grade, likely_vol, at_most_vol, limit_vol, too_much, settled_vol };
}

function fallToCome(ending: Ending | null): { readonly points: number; readonly u: number } {
  if (ending === null || ending.grade === 'A') return { points: 0, u: SETTLED_u_POINTS };
  if (ending.grade === 'B') return { points: 0, u: Math.max(0, ending.above_points, ending.fall_points) / 2 };
  return { points: Math.max(0, ending.above_points, ending.fall_points), u: ending.u_points };
}

/** Gas that a recipe plans for, in a beer that ends as expected. */
export const plannedGas = (step: PackageStep, ambient_kPa: number, warmest_C: number): Gas =>
  gasIn({
    step,
    ambient_kPa,
    ending: null,
    warmest_C,
    packaged_C: warmest_C,
    sugar: null,
    volume: null,
    planned_L: 1,
  });
