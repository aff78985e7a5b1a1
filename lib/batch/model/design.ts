/** What the plan decides before it predicts: how much to boil, and from it the water to heat. */
import { boilingPoint_C } from '../../formulas/boiling-point.ts';
import { volumeOf, WATER_KG_PER_L, waterForVolume } from '../../formulas/wort.ts';
import { FILL_WARNING } from './defaults.ts';
import { extractOf, heldByHops, kettleMasses, waterToHeat } from './kettle.ts';
import type { Case, Draft } from './model-input.ts';
import { fullestMoment } from './peak-volume.ts';

/** The case with a boil of this size, and the water for it. */
export function boiling(c: Draft, boilVolume_L: number): Case {
  const trial: Case = { ...c, boilVolume_L, waterToHeat_L: 0, keepsSurplus: false };
  return { ...trial, waterToHeat_L: waterToHeat(trial) };
}

/** Top-up that a boil of this size leaves room for, L; negative where the kettle gives more than is wanted. */
export function topUpFor(c: Draft, boilVolume_L: number): number {
  const run = kettleMasses(boiling(c, boilVolume_L));
  if (run.chilled.water_kg <= 0) return c.intoFermenter_L;
  const chilled_L = volumeOf(run.chilled);
  const share = (chilled_L - c.kettleLoss_L - heldByHops(c)) / chilled_L;
  const extract_kg = run.chilled.extract_kg * share;
  return (waterForVolume(extract_kg, c.intoFermenter_L) - run.chilled.water_kg * share) / WATER_KG_PER_L;
}

/** How full the pot gets with a boil of this size, share of the brim. */
export function fillFor(c: Draft, boilVolume_L: number): number {
  const trial = boiling(c, boilVolume_L);
  return fullestMoment(trial, kettleMasses(trial), boilingPoint_C(c.altitude_m)) / c.kettle_L;
}

/** The largest boil that neither leaves too much wort nor fills the pot above a share of its brim. */
export function largestBoil(c: Draft, fill: number): number {
  const whole_L = rootOf((volume) => topUpFor(c, volume), c);
  if (fillFor(c, whole_L) <= fill) return whole_L;
  // A soak that fills the pot further by itself is no reason to boil less.
  const limit = Math.max(fill, fillFor(c, smallestBoil(c)) + 1e-6);
  return Math.min(
    whole_L,
    rootOf((volume) => limit - fillFor(c, volume), c),
  );
}

/** Less over than this is a whole boil, poured out whole. */
const LEAST_SURPLUS_L = 0.005;

/** Decides how much is boiled, where the recipe leaves it open, and how much water is heated for it. */
export function designBoil(c: Draft): Case {
  const boilVolume_L = c.statedBoil_L ?? largestBoil(c, FILL_WARNING);
  return { ...boiling(c, boilVolume_L), keepsSurplus: topUpFor(c, boilVolume_L) < -LEAST_SURPLUS_L };
}

/** Room that the extract in the kettle takes by itself, L: no boil can be smaller. */
export function smallestBoil(c: Draft): number {
  let extract_kg = 0;
  for (const part of c.parts) if (part.stage === 'before') extract_kg += extractOf(part, c);
  return 0.65 * extract_kg + 0.05;
}

/** Where a falling, nearly straight function of the boil volume crosses zero: bisection kept inside safe bounds. */
function rootOf(f: (volume_L: number) => number, c: Draft): number {
  let low = smallestBoil(c);
  let high = Math.max(low * 1.01, 3 * c.intoFermenter_L + (c.boilOff_L_per_h * c.boil_min) / 30 + 10);
  let fLow = f(low);
  if (fLow <= 0) return low;
  let fHigh = f(high);
  if (fHigh >= 0) return high;
  for (let round = 0; round < 60 && high - low > 1e-9 * high; round++) {
    // The chord hits a straight line at once; when it stalls at one end, halving takes over.
    const chord = low + ((high - low) * fLow) / (fLow - fHigh);
    const next = round % 3 === 2 ? (low + high) / 2 : chord;
    const value = f(next);
    if (Math.abs(value) < 1e-10) return next;
    if (value > 0) {
      low = next;
      fLow = value;
    } else {
      high = next;
      fHigh = value;
    }
  }
  return (low + high) / 2;
}
