import { ASSUMED_BOTTLE_LIMIT_VOL } from '../../batch/model/defaults.ts';
import type { PackageStep, Recipe } from '../../batch/types/recipe.ts';
import { USUAL } from '../../units/parse/possible.ts';
import { findRow, nearNames, type Tables } from './names.ts';
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
import type { Occasion } from './resolve-moment.ts';
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
  has: Occasion['has'],
  report: Report,
): Recipe {
  const { label, steep, mash, stand } = data;
  report.unusual(steep?.temperature, USUAL.steep, 'steep', 'temperature');
  report.unusual(steep?.time, USUAL.steepTime, 'steep', 'time');
  const occasion = { boil: data.boil, has };
  const each = <Item, R>(
    list: 'grain' | 'extract' | 'sugar' | 'hops' | 'other' | 'yeast',
    items: readonly Item[] | null | undefined,
    resolve: (item: Item, lookup: Lookup) => R,
  ): R[] =>
    (items ?? []).map((item, i) => resolve(item, { tables, occasion, report: report.below(list, i) }));
  return {
    label: label
      ? {
          originalGravity: label.original_gravity ?? null,
          finalGravity: label.final_gravity ?? null,
          volume_L: label.volume ?? null,
        }
      : null,
    intoFermenter_L: data.into_fermenter,
    boil_min: data.boil,
    boilVolume_L: data.boil_volume ?? null,
    steep: steep
      ? { temperature_C: steep.temperature, time_min: steep.time, water_L: steep.water ?? null }
      : null,
    mash: mash ? { temperature_C: mash.temperature, time_min: mash.time, ratio_L_per_kg: mash.ratio } : null,
    rinse_L: data.rinse ?? null,
    grain: each('grain', data.grain, resolveGrain),
    extract: each('extract', data.extract, resolveExtract('extract')),
    sugar: each('sugar', data.sugar, resolveExtract('sugar')),
    hops: each('hops', data.hops, resolveHop),
    stand: stand ? { temperature_C: stand.temperature, time_min: stand.time } : null,
    other: each('other', data.other, resolveOther),
    yeast: each('yeast', data.yeast, resolveYeast),
    ferment: (data.ferment ?? []).map((step) => ({ temperature_C: step.temperature, time_min: step.time })),
    packaging: packaging(data.package, tables, report.below('package')),
  };
}

type PackageData = Extract<NonNullable<RecipeData['package']>, readonly unknown[]>[number];

function packaging(data: RecipeData['package'], tables: Tables, report: Report): PackageStep[] {
  if (!data) return [];
  if (!Array.isArray(data)) return [packageStep(data, false, tables, report)];
  return data.map((step, i) => packageStep(step, data.length > 1, tables, report.below(i)));
}

function packageStep(step: PackageData, divided: boolean, tables: Tables, report: Report): PackageStep {
  report.unusual(step.bottle, USUAL.bottle, 'bottle');
  if (step.into === 'keg' && !step.temperature)
    report.error('keg-temperature-missing', ['temperature'], { sample: report.text(5, 'temperature') });
  if (divided && !step.volume)
    report.error('package-volume-missing', ['volume'], { sample: report.text(9, 'volume') });
  return {
    into: step.into,
    carbonation_vol: step.carbonation,
    sugar: primer(step, tables, report),
    bottle_L: step.bottle ?? null,
    limit: step.limit ? { ...step.limit, assumed: false } : ASSUMED_LIMIT,
    temperature_C: step.temperature ?? null,
    volume_L: step.volume ?? null,
  };
}

const ASSUMED_LIMIT = {
  unit: 'vol',
  value: ASSUMED_BOTTLE_LIMIT_VOL,
  written: `${ASSUMED_BOTTLE_LIMIT_VOL} vol`,
  assumed: true,
} as const;

/** The sugar to prime with and the gas that it gives; bottles are primed with table sugar where nothing is said. */
function primer(step: PackageData, tables: Tables, report: Report): PackageStep['sugar'] {
  if (step.into === 'keg' && !step.sugar) return null;
  const name = step.sugar ?? DEFAULT_PRIMING;
  const row = findRow(tables, name, PRIMERS);
  if (row !== undefined && row.priming_g_per_g !== null)
    return { name, co2_g_per_g: row.priming_g_per_g, extract: row.yield ?? 1 };
  const able = { ...tables, rows: tables.rows.filter((known) => known.priming_g_per_g !== null) };
  const near = nearNames(able, name, PRIMERS);
  const code = row === undefined ? 'unknown-ingredient' : 'not-for-priming';
  report.error(code, ['sugar'], {
    name: quoted(name),
    such: near.length === 0 ? '' : `, such as ${listed(near)}`,
    sugar: near[0] ?? DEFAULT_PRIMING,
  });
  return null;
}
