import { volumeOf } from '../../formulas/wort.ts';
import { FILL_WARNING } from './defaults.ts';
import { boiling, fillFor, largestBoil, topUpFor } from './design.ts';
import { heldByHops, kettleMasses } from './kettle.ts';
import type { Case, Draft } from './model-input.ts';

export interface WhatFits {
  /** Largest boil of the recipe as it is, L as `boil_volume` is; null where none fits. */
  readonly boil_L: number | null;
  /** Boils of an equal part of the recipe each that fit; null where even four do not. */
  readonly boils: number | null;
  /** Largest batch of the same beer in one boil, L into the fermenter; null where none of a useful size fits. */
  readonly batch_L: number | null;
}

const MOST_BOILS = 4;
/** Below this share of the recipe nobody would brew it. */
const SMALLEST_PERCENT = 10;
const DUST = 1e-6;

/**
 * The three ways out of a kettle that is too small: a smaller boil with more top-up, more than one boil, a smaller batch; each
 * fills the kettle to at most 85 % at its fullest. Volumes are rounded down to 0.1 L.
 */
export function whatFits(c: Case): WhatFits {
  const boil_L = fittingBoil(c);
  let boils: number | null = null;
  for (let n = 2; n <= MOST_BOILS && boils === null; n++) {
    if (fittingBoil(scaled(c, 1 / n)) !== null) boils = n;
  }
  return { boil_L: boil_L === null ? null : down(boil_L), boils, batch_L: largestBatch(c) };
}

const down = (litres: number) => Math.floor(litres * 10 + DUST) / 10;

/** The largest boil that fits, L; null where even that overfills the pot, leaves no wort or too much of it. */
function fittingBoil(c: Draft): number | null {
  const boil_L = largestBoil(c, FILL_WARNING);
  return fitsWith(c, boil_L) ? boil_L : null;
}

function fitsWith(c: Draft, boil_L: number): boolean {
  const trial = boiling(c, boil_L);
  const { chilled } = kettleMasses(trial);
  const soaks_L = (c.mash?.water_L ?? 0) + c.rinse_L + (c.steep?.water_L ?? 0);
  return (
    trial.waterToHeat_L >= soaks_L &&
    chilled.water_kg > 0 &&
    volumeOf(chilled) > c.kettleLoss_L + heldByHops(c) &&
    topUpFor(c, boil_L) >= -0.005 &&
    fillFor(c, boil_L) <= FILL_WARNING + DUST
  );
}

/** The boil of a smaller batch is the same share of it. */
function largestBatch(c: Case): number | null {
  for (let percent = 99; percent >= SMALLEST_PERCENT; percent--) {
    const share = percent / 100;
    if (fitsWith(scaled(c, share), share * c.boilVolume_L)) return down(share * c.intoFermenter_L);
  }
  return null;
}

/** The same recipe for a share of the volume, the boil left open. */
function scaled(c: Draft, share: number): Draft {
  return {
    ...c,
    intoFermenter_L: c.intoFermenter_L * share,
    parts: c.parts.map((part) => ({ ...part, weight_kg: part.weight_kg * share })),
    hops: c.hops.map((hop) => ({ ...hop, weight_kg: hop.weight_kg * share })),
    steep: c.steep && { ...c.steep, water_L: c.steep.water_L && c.steep.water_L * share },
    mash: c.mash && { ...c.mash, water_L: c.mash.water_L * share },
    rinse_L: c.rinse_L * share,
    steepGrain_kg: c.steepGrain_kg * share,
    mashGrain_kg: c.mashGrain_kg * share,
  };
}
