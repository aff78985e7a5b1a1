/** Which readings of a day do not fit the others and the plan, all taken together. */

import { TARGET_INDEX } from '../model/target-vector.ts';
import type { Observation } from '../readings/normalise-readings.ts';
import { kindAt } from '../types/places.ts';
import type { TargetKey } from '../types/targets.ts';
import { lowerTriangle, solved, zeros } from '../uncertainty/cholesky.ts';
import type { Input } from '../uncertainty/inputs.ts';
import type { Propagation } from '../uncertainty/propagate.ts';

/** Residuals from which a reading is looked at again, and from which something is done; joint standard uncertainties. */
export const LOOK_AGAIN_u = 3;
export const ACT_u = 4;

/** The inputs that volumes and strengths depend on: to find out which readings are doubted, no others are needed. */
export const DAY_INPUTS: ReadonlySet<Input['key']> = new Set<Input['key']>([
  'fermenterMark_L',
  'kettleMark_L',
  'scale',
  'yield',
  'steepEfficiency',
  'mashEfficiency',
  'boilOff_L_per_h',
  'kettleLoss_L',
  'hopAbsorption_L_per_kg',
  'grainAbsorption_L_per_kg',
  'fermenterLoss_L',
]);

/** Readings of volume and strength, in the order of the day; each is held against the target of its key. */
const JOINT: readonly (readonly [key: string, target: TargetKey])[] = [
  ['boil_start_volume', 'boil_start_volume_l'],
  ['boil_start_gravity', 'boil_start_gravity'],
  ['boil_end_volume', 'boil_end_volume_l'],
  ['boil_end_gravity', 'boil_end_gravity'],
  ['top_up.volume', 'top_up_l'],
  ['original_gravity', 'original_gravity'],
];
/** Beyond doubt less is trusted in a gravity than in a mark: it is blamed where it is so nearly as odd as the oddest. */
const GRAVITY_FIRST = 0.8;

/** At least two readings must lie this far the same way for one cause to stand behind them. */
const SUPPORTS_u = 1.5;

/** A reading that does not fit. */
export interface Odd {
  readonly key: string;
  /** Joint standard uncertainties from what all others let expect. */
  readonly residual: number;
  readonly read: number;
  readonly expected: number;
}

/** What would explain several odd readings at once: another amount of extract, of water, another evaporation. */
export interface Common {
  readonly what: 'extract' | 'water' | 'evaporation';
  readonly keys: readonly string[];
  readonly residual: number;
}

export interface Oddities {
  readonly odd: readonly Odd[];
  readonly common: Common | null;
}

interface Row {
  readonly key: string;
  readonly read: number;
  readonly difference: number;
  readonly u: number;
  /** By input. */
  readonly effects: readonly number[];
}

/**
 * Readings further from what the plan and all other readings let expect than three joint standard uncertainties, the furthest
 * first; each is left out before the next is looked for, so that what one explains of another is said once.
 *
 * Formula: differences d ~ N(0, S), S = A Aᵀ + R, A the inputs' contributions, R the instruments' variances; residual of
 *   reading i given all others = (S⁻¹d)ᵢ / √(S⁻¹)ᵢᵢ. Where one wide change of extract, water or evaporation leaves
 *   fewer of them, and at least two readings point its way, that is their cause.
 * Source: conditional normal distribution (JCGM 102:2011, 5.3.2; from memory).
 * @param nominal what is expected at the volume that was read
 */
export function oddReadings(
  readings: readonly Observation[],
  nominal: ArrayLike<number>,
  propagation: Propagation,
  inputs: readonly Input[],
  filled_u: number,
): Oddities {
  const mark = inputs.findIndex(({ key }) => key === 'fermenterMark_L');
  const rows = JOINT.flatMap(([key, target]): Row[] => {
    const reading = readings.find((one) => one.key === key);
    const index = TARGET_INDEX[target];
    const expected = nominal[index]!;
    if (!reading || reading.value === null || !(reading.u > 0) || !Number.isFinite(expected)) return [];
    const effects = propagation.contributions.map((row) => row[index] || 0);
    const perLitre = mark >= 0 ? effects[mark]! / inputs[mark]!.u : 0;
    const { value: read, u } = reading;
    return [{ key, read, difference: read - expected, u, effects: [...effects, perLitre * filled_u] }];
  });
  const plain = withoutOdd(rows);
  if (plain.length === 0) return { odd: plain, common: null };
  let best: Oddities = { odd: plain, common: null };
  const alone = jointResiduals(rows);
  for (const { what, effects } of wideChanges(inputs)) {
    const odd = withoutOdd(rows.map((row) => ({ ...row, effects: [...row.effects, effects(row)] })));
    const explained = plain.filter(({ key }) => !odd.some((one) => one.key === key));
    if (odd.length >= best.odd.length) continue;
    const [first] = explained;
    const towards = (row: Row, i: number) => alone[i]!.residual * Math.sign(effects(row));
    const sign = Math.sign(towards(...rowOf(rows, first!.key)));
    const behind = rows.filter((row, i) => sign * towards(row, i) > SUPPORTS_u);
    if (behind.length < 2) continue;
    const residual = Math.max(...explained.map((one) => Math.abs(one.residual)));
    best = { odd, common: { what, keys: behind.map(({ key }) => key), residual } };
  }
  return best;
}

const rowOf = (rows: readonly Row[], key: string): [Row, number] => {
  const i = rows.findIndex((row) => row.key === key);
  return [rows[i]!, i];
};

/** Changes wide enough for anything that can happen in a kitchen, as one more input each. */
const WIDE = { extract: 0.3, water_L: 3, evaporation_L_per_h: 2 } as const;

function wideChanges(
  inputs: readonly Input[],
): readonly { readonly what: Common['what']; readonly effects: (row: Row) => number }[] {
  const scaled = (key: Input['key'], size: number) => (row: Row) =>
    inputs.reduce((sum, input, k) => sum + (input.key === key ? (row.effects[k]! / input.u) * size : 0), 0);
  return [
    { what: 'extract', effects: scaled('yield', WIDE.extract) },
    { what: 'water', effects: scaled('kettleMark_L', WIDE.water_L) },
    { what: 'evaporation', effects: scaled('boilOff_L_per_h', WIDE.evaporation_L_per_h) },
  ];
}

function withoutOdd(all: readonly Row[]): Odd[] {
  let rows = all;
  const found: Odd[] = [];
  while (rows.length > 0) {
    const residuals = jointResiduals(rows);
    const size = (i: number) => Math.abs(residuals[i]!.residual);
    const order = rows.map((_, i) => i).sort((a, b) => size(b) - size(a));
    const worst = order[0]!;
    if (!(size(worst) > LOOK_AGAIN_u)) break;
    const gravity = order.find((i) => kindAt(rows[i]!.key) === 'gravity' && size(i) > LOOK_AGAIN_u);
    const out = gravity !== undefined && size(gravity) >= GRAVITY_FIRST * size(worst) ? gravity : worst;
    const { key, read } = rows[out]!;
    found.push({ key, read, ...residuals[out]! });
    rows = rows.filter((_, i) => i !== out);
  }
  return found;
}

/** By row: how far it is from what all other rows let expect, and what that is. */
function jointResiduals(
  rows: readonly Row[],
): readonly { readonly residual: number; readonly expected: number }[] {
  const covariance = rows.map((a, i) =>
    rows.map((b, j) => {
      const shared = a.effects.reduce((sum, effect, k) => sum + effect * b.effects[k]!, 0);
      return shared + (i === j ? a.u ** 2 : 0);
    }),
  );
  const lower = lowerTriangle(covariance);
  if (lower === null) return rows.map(({ read }) => ({ residual: 0, expected: read }));
  const differences = rows.map(({ difference }) => difference);
  const weighted = solved(lower, differences);
  return rows.map(({ read }, i) => {
    const unit = zeros(rows.length);
    unit[i] = 1;
    const precision = solved(lower, unit)[i]!;
    return {
      residual: weighted[i]! / Math.sqrt(precision),
      expected: read - weighted[i]! / precision,
    };
  });
}
