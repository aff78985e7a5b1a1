import { type TargetKey, targetOf } from '../types/targets.ts';

/** A figure that binary arithmetic puts just over a step is on the step, not beyond it. */
const HAIR = 1e-9;

/** Rounds outward to whole steps: the printed range never hides a part of the real one. */
export function roundOutward(low: number, high: number, step: number): { low: number; high: number } {
  const tidy = (n: number) => Number((n * step).toPrecision(12));
  return { low: tidy(Math.floor(low / step + HAIR)), high: tidy(Math.ceil(high / step - HAIR)) };
}

/** Range as the sheet prints it; gravities go by the hydrometer's own step. */
export function printedRange(
  key: TargetKey,
  range: { readonly value: number; readonly low: number; readonly high: number },
  hydrometerStep_SG: number,
): { readonly low: number; readonly high: number } {
  const { step, coarse, neverBelow0 } = targetOf(key);
  if (step === null) return roundOutward(range.low, range.high, hydrometerStep_SG);
  const printed = roundOutward(
    range.low,
    range.high,
    coarse && range.value > coarse.from ? coarse.step : step,
  );
  return neverBelow0 ? { low: Math.max(0, printed.low), high: Math.max(0, printed.high) } : printed;
}

export const isWhole = (key: TargetKey): boolean => targetOf(key).unit === 'count';
