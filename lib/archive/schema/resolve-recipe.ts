import { ASSUMED_BOTTLE_LIMIT_VOL } from '../../batch/model/defaults.ts';
import type { PackageStep, Recipe } from '../../batch/types/recipe.ts';
import { findRow, nearNames, type Tables } from './names.ts';
import { USUAL } from './possible.ts';
import type { RecipeData } from './recipe-schema.ts';
import type { Report } from './report.ts';
import {
  type Lookup,
  resolveExtract,
  resolveGrain,
  resolveHop,
  resolveOther,
  resolveYeast,
} from './resolve-items.ts';
import { listed } from './scalars.ts';
import { quoted } from './value-fault.ts';

const DEFAULT_PRIMING = 'table sugar';
const PRIMERS = ['sugar', 'extract'] as const;

/**
 * A recipe with every ingredient looked up: figures of the recipe before `content/ingredients.yaml` before
 * the project's tables. What does not fit together is reported; the result then only serves to find more.
 *
 * @param has whether the file has a key below `recipe`, sound or not
 */
export function resolveRecipe(
  data: RecipeData,
  tables: Tables,
  has: (key: string) => boolean,
  report: Report,
): Recipe {
  report.unusual(data.steep?.temperature, USUAL.steep, ['recipe', 'steep', 'temperature']);
  report.unusual(data.steep?.time, USUAL.steepTime, ['recipe', 'steep', 'time']);
  const lookup: Lookup = { tables, report, occasion: { boil: data.boil, has } };
  return {
    label: data.label
      ? {
          originalGravity: data.label.original_gravity ?? null,
          finalGravity: data.label.final_gravity ?? null,
          volume_L: data.label.volume ?? null,
        }
      : null,
    intoFermenter_L: data.into_fermenter,
    boil_min: data.boil,
    boilVolume_L: data.boil_volume ?? null,
    steep: data.steep
      ? {
          temperature_C: data.steep.temperature,
          time_min: data.steep.time,
          water_L: data.steep.water ?? null,
        }
      : null,
    mash: data.mash
      ? {
          temperature_C: data.mash.temperature,
          time_min: data.mash.time,
          ratio_L_per_kg: data.mash.ratio,
        }
      : null,
    rinse_L: data.rinse ?? null,
    grain: (data.grain ?? []).map((item, index) => resolveGrain(item, index, lookup)),
    extract: (data.extract ?? []).map((item, index) => resolveExtract('extract', item, index, lookup)),
    sugar: (data.sugar ?? []).map((item, index) => resolveExtract('sugar', item, index, lookup)),
    hops: (data.hops ?? []).map((item, index) => resolveHop(item, index, lookup)),
    stand: data.stand ? { temperature_C: data.stand.temperature, time_min: data.stand.time } : null,
    other: (data.other ?? []).map((item, index) => resolveOther(item, index, lookup)),
    yeast: (data.yeast ?? []).map((item, index) => resolveYeast(item, index, lookup)),
    ferment: (data.ferment ?? []).map((step) => ({ temperature_C: step.temperature, time_min: step.time })),
    packaging: packaging(data, tables, report),
  };
}

type PackageData = Extract<NonNullable<RecipeData['package']>, readonly unknown[]>[number];

function packaging(data: RecipeData, tables: Tables, report: Report): PackageStep[] {
  if (!data.package) return [];
  const many = Array.isArray(data.package);
  const steps: readonly PackageData[] = Array.isArray(data.package) ? data.package : [data.package];
  return steps.map((step, index) => {
    const path = many ? ['recipe', 'package', index] : ['recipe', 'package'];
    report.unusual(step.bottle, USUAL.bottle, [...path, 'bottle']);
    const missing = (code: string, key: string, expected: string, sample: string): void => {
      const mend = report.example(`add for example ${key}: ${sample}`);
      report.error(code, [...path, key], 'nothing', expected, mend);
    };
    const served = 'the temperature that the keg is served at, which sets the pressure';
    if (step.into === 'keg' && !step.temperature)
      missing('keg-temperature-missing', 'temperature', served, '5 °C');
    if (steps.length > 1 && !step.volume)
      missing('package-volume-missing', 'volume', 'how much goes here, since the batch is divided', '9 L');
    return {
      into: step.into,
      carbonation_vol: step.carbonation,
      sugar: primer(step, tables, [...path, 'sugar'], report),
      bottle_L: step.bottle ?? null,
      limit: step.limit
        ? { ...step.limit, assumed: false }
        : {
            unit: 'vol',
            value: ASSUMED_BOTTLE_LIMIT_VOL,
            written: `${ASSUMED_BOTTLE_LIMIT_VOL} vol`,
            assumed: true,
          },
      temperature_C: step.temperature ?? null,
      volume_L: step.volume ?? null,
    };
  });
}

/** The sugar to prime with and the gas that it gives; bottles are primed with table sugar where nothing is said. */
function primer(
  step: PackageData,
  tables: Tables,
  path: readonly (string | number)[],
  report: Report,
): PackageStep['sugar'] {
  if (step.into === 'keg' && !step.sugar) return null;
  const name = step.sugar ?? DEFAULT_PRIMING;
  const row = findRow(tables, name, PRIMERS);
  if (row !== undefined && row.priming_g_per_g !== null) {
    return { name, co2_g_per_g: row.priming_g_per_g, extract: row.yield ?? 1 };
  }
  const able = { ...tables, rows: tables.rows.filter((known) => known.priming_g_per_g !== null) };
  const near = nearNames(able, name, PRIMERS);
  report.error(
    row === undefined ? 'unknown-ingredient' : 'not-for-priming',
    path,
    quoted(name),
    `a sugar whose gas the tables know${near.length === 0 ? '' : `, such as ${listed(near)}`}`,
    `write ${near[0] ?? DEFAULT_PRIMING}, or give its priming: in content/ingredients.yaml`,
  );
  return null;
}
