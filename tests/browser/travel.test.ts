import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkSetups } from '../../lib/archive/schema/check-tables.ts';
import { planBatch, planUnread } from '../../lib/batch/plan/plan-batch.ts';
import type { TargetKey } from '../../lib/batch/types/targets.ts';

import { batchText } from '../../lib/browser/recipe/batch-text.ts';
import type { Changes, TravelData } from '../../lib/browser/recipe/changes.ts';
import { type Travelled, travel } from '../../lib/browser/recipe/fit-to-kitchen.ts';
import { formFields, readForm } from '../../lib/browser/recipe/form-fields.ts';
import { friendsSetup } from '../../lib/browser/recipe/kitchen.ts';
import { whyNot } from '../../lib/browser/recipe/why-not.ts';
import { loadSite } from '../../lib/site/archive.ts';
import { type Demo, loadDemo } from './demo.ts';

let demo: Demo;
let folder: string;
beforeAll(async () => {
  demo = await loadDemo();
  folder = mkdtempSync(join(tmpdir(), 'kettleside-travel-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Four kitchens that are not the author's. */
const KITCHENS: Readonly<Record<string, Changes>> = {
  'a small pot': { intoFermenter_L: 8, kettle_L: 10, boilOff_L_per_h: 1.8 },
  'a large pot in the mountains': { intoFermenter_L: 23, kettle_L: 38, altitude_m: 1400, heat_kW: 3.5 },
  'another packet': { alphas: { 0: 0.075 }, kettle_L: 20, intoFermenter_L: 12 },
  'a kitchen in gallons': { units: 'us', paper: 'letter', intoFermenter_L: 9.4635, kettle_L: 15.1416 },
};

function fitted(slug: string, changes: Changes): Travelled {
  const result = travel(demo.recipes.get(slug)!, changes);
  if (!result.ok) throw new Error(`${slug}: ${result.found.join('; ')}`);
  return result;
}

describe('a recipe that travels', () => {
  it('is planned alike with and without what readings are read by, where there are none', () => {
    expect(demo.recipes.size).toBeGreaterThan(15);
    for (const [slug, { batch, brewery }] of demo.recipes)
      expect(planUnread(batch, brewery), slug).toEqual(planBatch(batch, brewery));
  });

  it('is planned as on its author’s site where nothing is changed', () => {
    expect(demo.recipes.size).toBeGreaterThan(15);
    for (const [slug, data] of demo.recipes) {
      const result = travel(data, {});
      expect(result.ok, slug).toBe(true);
      if (!result.ok) continue;
      expect(result.plan.targets, slug).toEqual(demo.site.bySlug.get(slug)!.plan.targets);
      expect(result.batch.recipe, slug).toEqual(demo.site.bySlug.get(slug)!.batch.recipe);
    }
  });

  it('takes nothing of the batch along', () => {
    for (const [slug, data] of demo.recipes) {
      const { brewed, number, notes } = demo.site.bySlug.get(slug)!.batch;
      const text = JSON.stringify(data);
      if (brewed !== null) expect(text, slug).not.toContain(brewed);
      expect(data.batch.number, slug).toBeNull();
      expect(number === null || data.batch.readings).toEqual(number === null ? true : {});
      const line = notes.split('\n').find((one) => one.length > 30);
      if (line !== undefined) expect(text, slug).not.toContain(JSON.stringify(line).slice(1, -1));
      expect(text, slug).not.toContain(demo.site.bySlug.get(slug)!.batch.setup.title);
    }
  });

  it.each(Object.keys(KITCHENS))('keeps gravity and bitterness in %s', (name) => {
    let brewable = 0;
    for (const slug of demo.recipes.keys()) {
      const result = travel(demo.recipes.get(slug)!, KITCHENS[name]!);
      if (!result.ok) continue;
      brewable++;
      const was = demo.site.bySlug.get(slug)!.plan.targets;
      const is = result.plan.targets;
      const lost = new Set(result.fit!.notKept.map(({ what }) => what));
      // A kitchen scale's step moves a small batch's gravity by half a point at most, its bitterness by one in twenty.
      if (!lost.has('original_gravity'))
        expect(Math.abs(is.original_gravity!.value - was.original_gravity!.value), slug).toBeLessThan(0.0006);
      if (was.bitterness_ibu !== null && !lost.has('bitterness_ibu'))
        expect(Math.abs(is.bitterness_ibu!.value - was.bitterness_ibu.value), slug).toBeLessThan(
          0.05 * was.bitterness_ibu.value + 0.5,
        );
    }
    expect(brewable).toBeGreaterThan(12);
  });

  it.each<readonly [string, string, Changes, string]>([
    [
      'a kettle that is too small',
      'moorhen-brown-1',
      { kettle_L: 5, intoFermenter_L: 18 },
      'does not go into a kettle of 5 L: take',
    ],
    [
      'one far too small',
      'regatta-bitter',
      { kettle_L: 1, intoFermenter_L: 50 },
      'does not go into a kettle of 1 L: take',
    ],
    [
      'a boil-off that leaves nothing',
      'moorhen-brown-1',
      { boilOff_L_per_h: 30, kettle_L: 20 },
      'does not work with a boil-off of 30 L/h',
    ],
    [
      'figures that do not go together',
      'twelfth-night-old',
      { kettle_L: 1, intoFermenter_L: 4, boilOff_L_per_h: 30 },
      'does not go into a kettle of 1 L: take a larger kettle',
    ],
  ])('says of %s what to change, in no formula’s words', (_, slug, changes, wanted) => {
    const data = demo.recipes.get(slug)!;
    const result = travel(data, changes);
    expect(result.ok).toBe(false);
    const said = result.ok ? '' : whyNot(data, changes, result.found).join(' ').replaceAll('\u00a0', ' ');
    expect(said).toContain(wanted);
    expect(said).not.toMatch(/must be|boil_volume/);
  });

  it('names vessels that do serve', () => {
    const tried = [...demo.recipes].slice(0, 6).flatMap(([slug, data]) =>
      [1, 2, 5].flatMap((kettle_L) => {
        const changes = { kettle_L, intoFermenter_L: 18 };
        const result = travel(data, changes);
        if (result.ok) return [];
        const [said = ''] = whyNot(data, changes, result.found);
        const named = (of: RegExp): number[] => [
          Number(of.exec(said.replaceAll('\u00a0', ' '))?.[1] ?? Number.NaN),
        ];
        return [
          ...named(/kettle of about ([\d.]+) L or more/).map((value) => ({
            slug,
            other: { kettle_L: value },
          })),
          ...named(/put about ([\d.]+) L into/).map((value) => ({ slug, other: { intoFermenter_L: value } })),
        ]
          .filter(({ other }) => Object.values(other).every((value) => !Number.isNaN(value)))
          .map(({ other }) => ({ slug, other, ok: travel(data, { ...changes, ...other }).ok }));
      }),
    );
    expect(tried.length).toBeGreaterThan(8);
    expect(tried.filter(({ ok }) => !ok)).toEqual([]);
  });
});

describe('a figure that a friend states', () => {
  it('is known as well as one in setups.yaml', () => {
    const yaml = {
      kitchen: { kettle: '12 L', boil_off: '3.1 L/h', heat: '2.4 kW', altitude: '900 m' },
    };
    const setup = checkSetups(yaml, 'metric').setups.get('kitchen')!;
    const other = checkSetups({ kitchen: { kettle: '30 L' } }, 'metric').setups.get('kitchen')!;
    const friends = friendsSetup(
      other,
      { kettle_L: 12, boilOff_L_per_h: 3.1, heat_kW: 2.4, altitude_m: 900 },
      'metric',
    );
    for (const key of ['kettle_L', 'boilOff_L_per_h', 'heat_kW', 'altitude_m'] as const) {
      expect(friends[key].value).toBeCloseTo(setup[key].value, 12);
      expect(friends[key].u, key).toBeCloseTo(setup[key].u, 12);
      expect(friends[key].written?.replaceAll('\u00a0', ' '), key).toBe(setup[key].written);
      expect(friends[key].assumed).toBe(false);
    }
  });
});

describe('the form', () => {
  const values = (data: TravelData, changes: Changes): Record<string, string> => ({
    ...Object.fromEntries(formFields(data, changes).map(({ name, value }) => [name, value])),
    units: changes.units ?? data.brewery.units,
    paper: changes.paper ?? data.brewery.paper,
    extract: changes.extract ?? '',
  });

  it('asks for nothing while it shows the author’s figures, in whatever units', () => {
    for (const data of demo.recipes.values()) {
      expect(readForm(data, values(data, {}), 'metric', {})).toEqual({ changes: {}, wrong: [] });
      const us: Changes = { units: 'us' };
      expect(readForm(data, values(data, us), 'us', us)).toEqual({ changes: us, wrong: [] });
    }
  });
});

/** Builds one file in a folder of the friend's, where nobody has heard of its kitchen, and gives the targets that come of it. */
async function built(text: string, units: 'metric' | 'us', setups: 'none' | 'several') {
  const home = mkdtempSync(join(folder, 'home-'));
  mkdirSync(join(home, 'batches'));
  writeFileSync(join(home, 'batches/from-a-friend.md'), text);
  writeFileSync(join(home, 'brewery.yaml'), `name: A friend\nunits: ${units}\npaper: a4\n`);
  if (setups === 'several')
    cpSync(join(import.meta.dirname, '../../content/setups.yaml'), join(home, 'setups.yaml'));
  const site = await loadSite(home);
  const errors = site.problems.filter(({ severity }) => severity === 'error');
  return { errors, targets: site.content.entries[0]?.plan.targets ?? null };
}

describe('what is taken home', () => {
  it.each(['as it was written', ...Object.keys(KITCHENS)])(
    'builds, and is the beer of the page: %s',
    async (name) => {
      let checked = 0;
      // Each kitchen has its own of the recipes.
      const own = 1 + Object.keys(KITCHENS).indexOf(name);
      for (const [slug, data] of [...demo.recipes].filter((_, at) => at % 5 === own)) {
        const result = travel(data, KITCHENS[name] ?? {});
        if (!result.ok) continue;
        for (const units of checked % 2 === 0 ? (['metric', 'us'] as const) : (['us'] as const)) {
          const { errors, targets } = await built(
            batchText(result, 'https://example.org/x/'),
            units,
            units === 'us' ? 'several' : 'none',
          );
          expect(errors, `${slug} ${units}`).toEqual([]);
          // The boil's volume is written to 0.1 L and gallons to 0.01: that much may move what follows from it.
          const near: readonly [TargetKey, number][] = [
            ['original_gravity', 0.0006],
            ['final_gravity', 0.0005],
            ['bitterness_ibu', 0.7],
            ['colour_ebc', 0.7],
          ];
          for (const [key, tolerance] of near) {
            const wanted = result.plan.targets[key]?.value ?? 0;
            expect(Math.abs((targets?.[key]?.value ?? 0) - wanted), `${slug} ${units} ${key}`).toBeLessThan(
              tolerance,
            );
          }
        }
        checked++;
      }
      expect(checked).toBeGreaterThan(1);
    },
  );

  it('cannot be led out of its frontmatter by a title, a style or a note', async () => {
    const data = demo.recipes.get('regatta-bitter')!;
    const mean = '---\nprivate: x # {{ y }} "z" \\ \u2028 : -';
    const travelled = fitted('regatta-bitter', {});
    const batch = { ...travelled.batch, title: mean, style: `- ${mean}` };
    const text = batchText(
      { ...travelled, batch, brewery: { ...data.brewery, author: mean } },
      `https://x/${mean}`,
    );
    const { errors } = await built(text, 'metric', 'none');
    expect(errors.filter(({ code }) => !/character|line|text/.test(code))).toEqual([]);
    expect(text.split('\n').filter((line) => line === '---')).toHaveLength(2);
  });
});
