/** What is taken home from a recipe's page builds into the beer that the page showed, in whatever kitchen and units. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { plainName } from '../../lib/archive/schema/names.ts';
import type { Plan } from '../../lib/batch/types/plan.ts';
import type { Setup, SetupFigure } from '../../lib/batch/types/setup.ts';
import { TARGET_KEYS, type TargetKey } from '../../lib/batch/types/targets.ts';
import { batchText, KNOWN_PRIMERS } from '../../lib/browser/recipe/batch-text.ts';
import { type Changes, packets } from '../../lib/browser/recipe/changes.ts';
import { type Travelled, travel } from '../../lib/browser/recipe/fit-to-kitchen.ts';
import { offersExtract } from '../../lib/browser/recipe/form-fields.ts';
import { loadSite } from '../../lib/site/archive.ts';
import { type Demo, loadDemo } from './demo.ts';

let demo: Demo;
let folder: string;
beforeAll(async () => {
  demo = await loadDemo();
  folder = mkdtempSync(join(tmpdir(), 'kettleside-home-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const exactly = ({ value, u }: SetupFigure, unit: string, size = 1): string =>
  `${value / size} ± ${u / size} ${unit}`;

/** A kit as a friend would describe the very same one. */
function kitLines(key: string, setup: Setup): string[] {
  const { chill, instruments } = setup;
  return [
    `${key}:`,
    `  kettle: ${exactly(setup.kettle_L, 'L')}`,
    `  heat: ${exactly(setup.heat_kW, 'kW')}`,
    `  boil_off: ${exactly(setup.boilOff_L_per_h, 'L/h')}`,
    `  kettle_loss: ${exactly(setup.kettleLoss_L, 'L')}`,
    `  hop_absorption: ${exactly(setup.hopAbsorption_L_per_kg, 'L/kg')}`,
    `  grain_absorption: ${exactly(setup.grainAbsorption_L_per_kg, 'L/kg')}`,
    `  fermenter_loss: ${exactly(setup.fermenterLoss_L, 'L')}`,
    `  steep_efficiency: ${exactly(setup.steepEfficiency, '%', 0.01)}`,
    `  mash_efficiency: ${exactly(setup.mashEfficiency, '%', 0.01)}`,
    `  chill: { to: ${exactly(chill.to_C, '°C')}, in: ${exactly(chill.in_min, 'min')}, with: ${chill.with} }`,
    `  water_temperature: ${exactly(setup.waterTemperature_C, '°C')}`,
    `  top_up_temperature: ${exactly(setup.topUpTemperature_C, '°C')}`,
    `  room_temperature: ${exactly(setup.roomTemperature_C, '°C')}`,
    `  altitude: ${exactly(setup.altitude_m, 'm')}`,
    `  hydrometer: { at: ${setup.hydrometer.at_C.value} °C, step: ${setup.hydrometer.step} }`,
    '  uncertainty:',
    `    kettle_mark: ${instruments.kettleMark_L.u} L`,
    `    fermenter_mark: ${instruments.fermenterMark_L.u} L`,
    `    scale: ${instruments.scale.u * 100} %`,
    `    thermometer: ${instruments.thermometer_C.u} °C`,
  ];
}

/** The kit that the file describes in its comment, under a name of its own. */
function saidKit(key: string, text: string): string[] {
  const lines = text.split('\n');
  const from = lines.indexOf('# kitchen:');
  const said = lines.slice(from + 1);
  return [
    `${key}:`,
    ...said
      .slice(
        0,
        said.findIndex((line) => !line.startsWith('#   ')),
      )
      .map((line) => line.slice(2)),
  ];
}

interface Fitted {
  readonly slug: string;
  readonly changes: Changes;
  readonly travelled: Travelled;
}

/** Builds all files in one archive of a friend's; gives the targets that come of each. */
async function built(
  fits: readonly Fitted[],
  units: 'metric' | 'us',
  kitOf = (key: string, { travelled }: Fitted): string[] => kitLines(key, travelled.batch.setup),
): Promise<readonly Plan['targets'][]> {
  const home = mkdtempSync(join(folder, `${units}-`));
  mkdirSync(join(home, 'batches'));
  writeFileSync(join(home, 'brewery.yaml'), `name: A friend\nunits: ${units}\npaper: a4\n`);
  const setups = fits.flatMap((fit, i) => kitOf(`kitchen-${i}`, fit));
  writeFileSync(join(home, 'setups.yaml'), `${setups.join('\n')}\n`);
  fits.forEach(({ travelled }, i) => {
    const text = batchText(travelled, 'https://example.org/x/');
    writeFileSync(
      join(home, 'batches', `home-${i}.md`),
      text.replace(/^title:/m, `setup: kitchen-${i}\ntitle:`),
    );
  });
  const site = await loadSite(home);
  expect(site.problems.filter(({ severity }) => severity === 'error')).toEqual([]);
  const bySlug = new Map(site.content.entries.map(({ batch, plan }) => [batch.slug, plan.targets]));
  return fits.map((_, i) => bySlug.get(`home-${i}`)!);
}

/** A sugar that only its author knows is left out, and the file says so: other sugar, other grams. */
const primesAlike = ({ batch }: Travelled): boolean =>
  batch.recipe.packaging.every(
    ({ sugar }) => sugar === null || KNOWN_PRIMERS.includes(sugar.name.toLowerCase()),
  );

/** Binary dust about nought. */
const NOISE = 1e-9;

/** Where the file's plan is none that the page's sheet would call fine. */
function differences(page: Travelled, home: Plan['targets']): string[] {
  return TARGET_KEYS.flatMap((key: TargetKey) => {
    const [wanted, found] = [page.plan.targets[key], home[key]];
    if (key === 'priming_sugar_g' && !primesAlike(page)) return [];
    if (wanted === null && found === null) return [];
    if (wanted === null || found === null) return [`${key}: one of the two has none`];
    const { low, high } = wanted.printed;
    // A gallon is written to its hundredth, which may make the last bottle one more or one less.
    const room = key === 'bottles' ? 1 : NOISE;
    return found.value < low - room || found.value > high + room
      ? [`${key}: ${found.value}, the page ${wanted.value} (${low} to ${high})`]
      : [];
  });
}

/** A kit that is known as well gives ranges as wide. */
function widths(page: Travelled, home: Plan['targets']): string[] {
  return (['original_gravity', 'boil_end_volume_l', 'bitterness_ibu'] as const).flatMap((key) => {
    const [wanted, found] = [page.plan.targets[key], home[key]];
    if (!wanted || !found) return [];
    const ratio = (found.high - found.low) / (wanted.high - wanted.low);
    return Math.abs(ratio - 1) > 0.05 ? [`${key}: a range ${ratio} times as wide`] : [];
  });
}

/** Figures as people type them. */
const tenths = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: min * 10, max: max * 10 }).map((n) => n / 10);

function changesFor(slug: string): fc.Arbitrary<Changes> {
  const data = demo.recipes.get(slug)!;
  const { recipe } = data.batch;
  const forms = (['liquid', 'dry'] as const).filter((kind) => offersExtract(data, kind));
  const alphas = fc.dictionary(
    fc.constantFrom(...packets(recipe).map((_, index) => String(index)), '0'),
    fc.integer({ min: 20, max: 160 }).map((n) => n / 1000),
    { maxKeys: 2 },
  );
  return fc.record(
    {
      intoFermenter_L: tenths(4, 24),
      kettle_L: tenths(8, 40),
      boilOff_L_per_h: tenths(1, 4),
      heat_kW: tenths(0.8, 3.5),
      altitude_m: fc.integer({ min: 0, max: 2500 }),
      units: fc.constantFrom('metric' as const, 'us' as const),
      ...(packets(recipe).length === 0 ? {} : { alphas }),
      ...(forms.length === 0 ? {} : { extract: fc.constantFrom(...forms) }),
    },
    { requiredKeys: [] },
  );
}

const SEED = 20260214;
const FITS_A_RECIPE = 6;

describe('what is taken home', () => {
  it.each(['metric', 'us'] as const)('is the beer of the page, in an archive of %s units', async (units) => {
    const fits = [...demo.recipes].flatMap(([slug, data]) =>
      [{}, ...fc.sample(changesFor(slug), { numRuns: FITS_A_RECIPE, seed: SEED })].flatMap((changes) => {
        const travelled = travel(data, changes);
        return travelled.ok ? [{ slug, changes, travelled }] : [];
      }),
    );
    expect(fits.length).toBeGreaterThan(80);
    const homes = await built(fits, units);
    const found = fits.flatMap(({ slug, changes, travelled }, i) =>
      differences(travelled, homes[i]!).map((one) => `${slug} ${JSON.stringify(changes)} ${one}`),
    );
    expect(found).toEqual([]);
  });

  it.each(['metric', 'us'] as const)(
    'is the beer of the page with the kit that it describes itself, in %s units',
    async (units) => {
      const fits = [...demo.recipes].flatMap(([slug, data]) =>
        [{}, { units }, { units, kettle_L: 18, intoFermenter_L: 14, heat_kW: 2.2 }].flatMap((changes) => {
          const travelled = travel(data, changes);
          return travelled.ok ? [{ slug, changes, travelled }] : [];
        }),
      );
      const homes = await built(fits, units, (key, { travelled }) =>
        saidKit(key, batchText(travelled, null)),
      );
      const found = fits.flatMap(({ slug, changes, travelled }, i) => [
        ...differences(travelled, homes[i]!).map((one) => `${slug} ${JSON.stringify(changes)} ${one}`),
        ...widths(travelled, homes[i]!).map((one) => `${slug} ${JSON.stringify(changes)} ${one}`),
      ]);
      expect(found).toEqual([]);
    },
  );

  it('says the heat and the chilling that the page reckoned with, and weighs dry yeast in grams', () => {
    const taken = (slug: string, changes: Changes): string => {
      const travelled = travel(demo.recipes.get(slug)!, changes);
      if (!travelled.ok) throw new Error(slug);
      return batchText(travelled, null);
    };
    const text = taken('moorhen-brown-1', { heat_kW: 2.2, intoFermenter_L: 18 });
    expect(text).toContain('#   heat: 2.2 kW\n');
    expect(text).toContain('#   chill: { to: 30 °C, in: 25 min, with: ice bath }\n');
    const dry = [...demo.recipes].flatMap(([slug, { batch }]) =>
      batch.recipe.yeast.some(({ form, amount }) => form === 'dry' && amount.unit === 'g') ? [slug] : [],
    );
    expect(dry.length).toBeGreaterThan(3);
    for (const slug of dry)
      expect(taken(slug, { units: 'us', intoFermenter_L: 30, kettle_L: 60 }), slug).toMatch(
        /form: dry, kind: \w+, amount: [\d.]+ g,/,
      );
  });

  it('is primed alike, whichever of the sugars that every copy of the project knows', async () => {
    const slug = 'regatta-bitter';
    const data = demo.recipes.get(slug)!;
    const fits = KNOWN_PRIMERS.flatMap((name) => {
      const row = demo.loaded.archive.tables.byName
        .get(plainName(name))
        ?.find((one) => one.priming_g_per_g !== null);
      const sugar = { name, co2_g_per_g: row!.priming_g_per_g!, extract: row!.yield ?? 1 };
      const { recipe } = data.batch;
      const packaging = recipe.packaging.map((step) => ({ ...step, sugar }));
      const own = { ...data, batch: { ...data.batch, recipe: { ...recipe, packaging } } };
      return [{}, { intoFermenter_L: 11.3, kettle_L: 14 }].flatMap((changes) => {
        const travelled = travel(own, changes);
        return travelled.ok ? [{ slug, changes, travelled }] : [];
      });
    });
    expect(fits).toHaveLength(2 * KNOWN_PRIMERS.length);
    const homes = await built(fits, 'metric');
    expect(fits.flatMap(({ travelled }, i) => differences(travelled, homes[i]!))).toEqual([]);
    const grams = new Set(homes.map((targets) => Math.round(targets.priming_sugar_g!.value)));
    expect(grams.size).toBeGreaterThan(10);
  });
});
