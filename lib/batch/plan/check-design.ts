/** Whether the boil fits the kettle, and what does where it does not. */

import { platoOf, volumeOf, WATER_KG_PER_L } from '../../formulas/wort.ts';
import { formatVolume } from '../../units/format/format.ts';
import type { KeyPath } from '../../units/problem.ts';
import { FILL_LIMIT, FILL_WARNING } from '../model/defaults.ts';
import { fillFor, largestBoil } from '../model/design.ts';
import { extractOf, heldByHops, kettleMasses } from '../model/kettle.ts';
import { type WhatFits, whatFits } from '../model/kettle-limits.ts';
import type { Case } from '../model/model-input.ts';
import { steepLiquor, steepWater_L } from '../model/peak-volume.ts';
import type { Batch } from '../types/batch.ts';
import type { Brewery } from '../types/brewery.ts';
import type { BatchFindings } from '../types/problem.ts';

/** A loss below this is not worth a word, L. */
const LEAST_NAMED_L = 0.01;
/** Extract above this share is a syrup that no stove boils and no yeast ferments: more extract than water. */
const MOST_EXTRACT_P = 50;
/** Wort over what the fermenter is to hold: named above the first two, whichever is more; too much above the third. Judgment. */
const NAMED_SURPLUS_L = 0.3;
const NAMED_SURPLUS = 0.02;
const MOST_SURPLUS = 0.25;
/** Less water than this soaks nothing. */
const LEAST_SOAK_KG = 0.01;
/** More extract than this to a litre of the batch is no beer: the weight is out of scale, not the boil. Common practice, no source. */
const MOST_EXTRACT_KG_PER_L = 0.4;

/** Errors of a case whose boil has been designed; run before the model, which needs a kettle that holds wort. */
export function checkDesign(batch: Batch, { units }: Brewery, c: Case, out: BatchFindings): void {
  const volume = (litres: number) => formatVolume(Math.max(0, litres), units);
  const boilKey: KeyPath = ['recipe', batch.recipe.boilVolume_L ? 'boil_volume' : 'into_fermenter'];
  const stated_L = c.steep?.water_L ?? null;
  const soaks_L = (c.mash?.water_L ?? 0) + (c.mash || c.steep ? c.rinse_L : 0) + (stated_L ?? 0);
  if (!(c.waterToHeat_L > 0)) {
    const { path, from } = extractInKettle(batch, c, boilKey);
    out.error('more-extract-than-water', path, { from, what: 'extract to a later addition' });
    return;
  }
  if (soaks_L > c.waterToHeat_L + 0.005)
    out.error('water-parts-exceed-total', ['recipe', c.mash ? 'mash' : 'steep'], {
      parts: volume(soaks_L),
      total: volume(c.waterToHeat_L),
    });
  if (c.steep && steepLiquor(c).water_kg < LEAST_SOAK_KG)
    out.error('soak-too-hot', ['recipe', 'steep'], {
      water: volume(steepWater_L(c)),
      open: stated_L === null ? '' : undefined,
    });
  const kettle = kettleMasses(c);
  const lost_L = c.kettleLoss_L + heldByHops(c);
  const { chilled } = kettle;
  if (!(chilled.water_kg > 0) || !(volumeOf(chilled) > lost_L)) {
    const evaporated_L = (c.boilOff_L_per_h * c.boil_min) / 60;
    const facts = { boil: volume(c.boilVolume_L), evaporated: volume(evaporated_L) };
    if (!(chilled.water_kg > 0) && evaporated_L + lost_L < c.boilVolume_L) {
      // A boil that is dry because extract fills most of it: its sum is of extract and water, not of losses.
      const { path, from } = extractInKettle(batch, c, boilKey);
      const water_L = kettle.start.water_kg / WATER_KG_PER_L;
      const water = water_L > LEAST_NAMED_L ? volume(water_L) : undefined;
      out.error('boils-dry', path, { ...facts, water, from, early: '' });
      return;
    }
    const lost = lost_L < LEAST_NAMED_L ? undefined : volume(lost_L);
    out.error('boils-dry', ['recipe', 'boil'], { ...facts, lost });
    return;
  }
  const strongest_P = Math.max(platoOf(kettle.start), platoOf(kettle.end), platoOf(chilled));
  if (strongest_P > MOST_EXTRACT_P) {
    const { path, from } = extractInKettle(batch, c, boilKey);
    out.error('more-extract-than-water', path, {
      strength: Math.round(strongest_P),
      from,
      most: MOST_EXTRACT_P,
      what: 'sugar to the fermenter',
    });
    return;
  }
  const surplus_L = volumeOf(chilled) - lost_L - c.intoFermenter_L;
  const tooMuch = surplus_L > MOST_SURPLUS * c.intoFermenter_L;
  if (tooMuch || surplus_L > Math.max(NAMED_SURPLUS_L, NAMED_SURPLUS * c.intoFermenter_L)) {
    const full = volume(c.intoFermenter_L + surplus_L);
    out[tooMuch ? 'error' : 'warn']('boil-too-large', boilKey, {
      boil: volume(c.boilVolume_L),
      surplus: volume(surplus_L),
      written: batch.recipe.intoFermenter_L.written,
      percent: Math.round((100 * surplus_L) / volumeOf(chilled)),
      largest: volume(Math.floor(largestBoil(c, FILL_LIMIT) * 10) / 10),
      keep: tooMuch ? '' : `fill the fermenter to ${full} to keep it, or `,
    });
  }
  const fill = fillFor(c, c.boilVolume_L);
  if (fill <= FILL_WARNING + 1e-6) return;
  const fits = whatFits(c);
  const facts = {
    pot: batch.setup.kettle_L.written ?? volume(c.kettle_L),
    percent: Math.round(fill * 100),
    boil: fits.boil_L === null ? undefined : volume(fits.boil_L),
    ways: waysOut(fits, volume),
  };
  if (fill > FILL_LIMIT) out.error('kettle-overflows', boilKey, facts);
  else out.warn('kettle-nearly-full', boilKey, facts);
}

/**
 * Where most of the extract in the kettle comes from, in words, and the key to look at: its weight where that is out
 * of scale with the batch, else the key that is given.
 */
function extractInKettle(
  batch: Batch,
  c: Case,
  otherwise: KeyPath,
): { readonly path: KeyPath; readonly from: string } {
  const parts = c.parts.filter(({ stage }) => stage !== 'fermenter');
  const total_kg = parts.reduce((sum, part) => sum + extractOf(part, c), 0);
  const most = parts.find((part) => extractOf(part, c) > total_kg / 2);
  if (most === undefined) return { path: otherwise, from: '' };
  const { kind: list, index } = most;
  const written = batch.recipe[list][index]?.weight_g.written;
  const tooMuch = total_kg > MOST_EXTRACT_KG_PER_L * c.intoFermenter_L;
  return {
    path: tooMuch ? ['recipe', list, index, 'weight'] : otherwise,
    from: written === undefined ? '' : `, most of it from ${written} of ${most.name}`,
  };
}

const PARTS = ['two', 'three', 'four'];

function waysOut(fits: WhatFits, volume: (litres: number) => string): string {
  const ways: string[] = [];
  if (fits.boil_L !== null) ways.push(`lower boil_volume to ${volume(fits.boil_L)} and top up`);
  if (fits.boils !== null) ways.push(`boil it in ${PARTS[fits.boils - 2]} equal parts, one after another`);
  if (fits.batch_L !== null) ways.push(`make a batch of at most ${volume(fits.batch_L)}`);
  return ways.length > 0 ? ways.join(', or ') : 'use a larger kettle';
}
