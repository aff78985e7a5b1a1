/** Gas, sugar, bottles and pressure of one run. */
import { co2Pressure_kPa_gauge, residualCo2_vol } from '../../formulas/co2.ts';
import { co2FromSugar_vol, primingSugar_g } from '../../formulas/priming.ts';
import type { Case, PackagePart } from './model-input.ts';
import { type Outcome, TARGET_INDEX } from './target-vector.ts';

/** One bottled or kegged part as it is planned. */
export interface PackedPart {
  readonly part: PackagePart;
  readonly volume_L: number;
  /** Carbonation once the sugar has fermented, volumes. */
  readonly volumes: number;
  /** What goes in; null where nothing is primed. */
  readonly sugar_g: number | null;
}

// Names of this module: an imported one is looked up again at each use, and this runs some hundred times a plan.
const T = TARGET_INDEX;
const pressureOf = co2Pressure_kPa_gauge;

const COLDEST_C = 0;
const WARMEST_C = 40;
const MOST_VOL = 20;
const MOST_KEG_kPa = 5000;

/**
 * Share of the gas in water that beer holds in a keg: 0.95 below 8 °C, 0.97 to 12 °C, against two published charts, which give
 * 12.3 psi for 2.5 vol at 40 °F (from memory). Warmer than that the charts part, and beer is taken as water.
 */
const kegHolds = (t_C: number): number => (t_C < 8 ? 0.95 : t_C <= 12 ? 0.97 : 1);

/** A temperature held inside the range of the gas formulas: a lager stored at 0 °C is nudged below it, a kveik above. */
export const gasTemperature = (t_C: number): number => Math.min(WARMEST_C, Math.max(COLDEST_C, t_C));

/**
 * Beer for bottles and kegs, what gas it keeps, the sugar for the rest, and the pressures that follow.
 *
 * Volume = into the fermenter − what stays on the yeast − what dry hops soak up (or what was read); residual gas by
 * `residualCo2_vol` at the warmest since fermentation ended; sugar = missing volumes × litres × 1.9768 g/L ÷ the sugar's CO2;
 * pressures by `co2Pressure_kPa_gauge`, no head space. Several bottled parts: sugar and bottles are summed, pressures are those
 * of the liveliest; several kegs: of the liveliest, never below 0.
 */
export function packaging(c: Case, out: Outcome, final_L: number, ambient_kPa: number): PackedPart[] {
  let dry_kg = 0;
  for (const hop of c.hops) if (hop.stage === 'dry') dry_kg += hop.weight_kg;
  const left_L = final_L - c.fermenterLoss_L - dry_kg * c.scale * c.hopAbsorption_L_per_kg;
  const packaged_L = c.packagedRead_L ?? Math.max(0, left_L);
  const residual = c.beerSolubility * residualCo2_vol({ t_C: gasTemperature(c.warmest_C), ambient_kPa });
  out[T.packaged_volume_l] = packaged_L;
  out[T.residual_co2_vol] = residual;
  out[T.priming_sugar_g] = Number.NaN;
  out[T.bottles] = Number.NaN;
  out[T.keg_pressure_kpa] = Number.NaN;
  out[T.bottle_pressure_20c_kpa] = Number.NaN;
  out[T.bottle_pressure_30c_kpa] = Number.NaN;
  let spoken_L = 0;
  let open = 0;
  for (const part of c.packages) {
    if (part.volume_L === null) open++;
    else spoken_L += part.volume_L;
  }
  const share_L = Math.max(0, packaged_L - spoken_L) / open;
  return c.packages.map((part) => {
    const volume_L = part.volume_L ?? share_L;
    const { volumes, sugar_g } = primed(c, out, part, volume_L, residual);
    const inWater = Math.min(MOST_VOL, volumes / c.beerSolubility);
    if (part.into === 'keg') {
      const serving_C = gasTemperature(part.serving_C);
      const wanted = Math.min(MOST_VOL, part.carbonation_vol / (kegHolds(serving_C) + c.kegSolubility));
      const keg_kPa = Math.max(0, pressureOf({ volumes: wanted, t_C: serving_C, ambient_kPa }));
      highest(out, T.keg_pressure_kpa, Math.min(MOST_KEG_kPa, keg_kPa));
    } else {
      if (part.bottle_L !== null) added(out, T.bottles, volume_L / part.bottle_L);
      highest(out, T.bottle_pressure_20c_kpa, pressureOf({ volumes: inWater, t_C: 20, ambient_kPa }));
      highest(out, T.bottle_pressure_30c_kpa, pressureOf({ volumes: inWater, t_C: 30, ambient_kPa }));
    }
    return { part, volume_L, volumes, sugar_g };
  });
}

/** Sugar for one part, and the carbonation that it leads to. */
function primed(
  c: Case,
  out: Outcome,
  part: PackagePart,
  volume_L: number,
  residual: number,
): { readonly volumes: number; readonly sugar_g: number | null } {
  const missing_vol = part.carbonation_vol - residual;
  const co2_g_per_g = part.co2_g_per_g * c.co2Yield;
  if (!(co2_g_per_g > 0)) return { volumes: Math.max(residual, part.carbonation_vol), sugar_g: null };
  const wanted_g = primingSugar_g({ volume_L, missing_vol, co2_g_per_g });
  added(out, T.priming_sugar_g, wanted_g);
  const sugar_g = part.sugar_g ?? wanted_g;
  const made_vol = volume_L > 0 ? co2FromSugar_vol({ sugar_g, volume_L, co2_g_per_g }) : 0;
  return { volumes: residual + made_vol, sugar_g };
}

/** The case with the sugar of a run held: what is weighed out does not follow what is nudged. */
export const withSugar = (c: Case, packed: readonly PackedPart[]): Case => ({
  ...c,
  packages: packed.map(({ part, sugar_g }) => ({ ...part, sugar_g })),
});

function added(out: Outcome, index: number, value: number): void {
  out[index] = (Number.isNaN(out[index]!) ? 0 : out[index]!) + value;
}

function highest(out: Outcome, index: number, value: number): void {
  if (!(out[index]! >= value)) out[index] = value;
}
