import { formatMass, formatVolume } from '../units/format/format.ts';
import { parseAmount, parseQuantity, parseVolumeReading } from '../units/parse/parse.ts';
import { US_GALLON_L } from '../words/measures.ts';
import type { DoubtContext } from './corrected.ts';
import type { Answers, Blank } from './key-in.ts';

/** A volume off its target by more than this share is more likely a slip. Common practice, no source. */
const FAR_SHARE = 0.4;
/** More priming sugar than this in a litre is more than lively beer needs, g/L. Common practice, no source. */
const MUCH_SUGAR_g_per_L = 11;
/** Bottles and beer may differ by so much before one of the two is a slip. */
const BOTTLES_OFF = 0.25;
const YEAST_TIMES = 6;

const litresOf = (text: string | undefined, ctx: DoubtContext): number | null => {
  const read = parseVolumeReading(text ?? '', { units: ctx.units });
  return read.ok ? read.value.value : null;
};

/** Why a volume, a weight or a count is unlikely; null where it is not. */
export function doubtfulAmount(
  blank: Blank,
  text: string,
  answers: Answers,
  ctx: DoubtContext,
): string | null {
  if (blank.key === 'pitched.yeast') return yeastDoubt(text, ctx);
  if (blank.kind === 'volume') return volumeDoubt(blank.key, text, answers, ctx);
  if (blank.key.endsWith('.sugar')) return sugarDoubt(blank.key, text, answers, ctx);
  return blank.key.endsWith('.bottles') ? bottlesDoubt(blank.key, text, answers, ctx) : null;
}

function volumeDoubt(key: string, text: string, answers: Answers, ctx: DoubtContext): string | null {
  const value = litresOf(text, ctx);
  if (value === null) return null;
  const { recipe, setup } = ctx.batch;
  const brim = setup.kettle_L;
  if (key.startsWith('boil') && value > brim.value) {
    return `${text} is more than the kettle holds${brim.written === null ? '' : `, ${brim.written} to the brim`}.`;
  }
  const fermenter = setup.fermenter_L;
  if (key === 'fermenter_volume' && fermenter !== null && value > fermenter.value) {
    return `${text} is more than the fermenter holds.`;
  }
  if (key.startsWith('packaged')) {
    const there = litresOf(answers.get('fermenter_volume'), ctx) ?? recipe.intoFermenter_L.value;
    return value > 1.05 * there ? `${text} is more than went into the fermenter.` : null;
  }
  const planned = plannedVolume(key, ctx);
  if (planned === null || Math.abs(value - planned) <= Math.max(FAR_SHARE * planned, 1)) return null;
  return `${text} is far from the ${formatVolume(planned, ctx.units)} that was planned.`;
}

function plannedVolume(key: string, { batch, targets }: DoubtContext): number | null {
  switch (key) {
    case 'fermenter_volume':
      return batch.recipe.intoFermenter_L.value;
    case 'top_up.volume':
      return targets.top_up_l?.value ?? null;
    case 'boil_start_volume':
      return targets.boil_start_volume_hot_l?.value ?? null;
    case 'boil_end_volume':
      return targets.boil_end_volume_hot_l?.value ?? null;
    default:
      return null;
  }
}

function sugarDoubt(key: string, text: string, answers: Answers, ctx: DoubtContext): string | null {
  const read = parseQuantity(text, 'mass', { units: ctx.units });
  const volume_L = litresOf(answers.get(key.replace('.sugar', '.volume')), ctx);
  if (!read.ok || volume_L === null || volume_L <= 0) return null;
  const each_g = read.value.value / volume_L;
  if (each_g <= MUCH_SUGAR_g_per_L) return null;
  const [size_L, name] = ctx.units === 'us' ? [US_GALLON_L, 'gallon'] : [1, 'litre'];
  return `${text} in that much beer is ${formatMass(each_g * size_L, ctx.units)} in each ${name}: bottles can burst. If it is true, keep them cold, in a closed box, and do not handle them unprotected.`;
}

function bottlesDoubt(key: string, text: string, answers: Answers, ctx: DoubtContext): string | null {
  const index = Number(/\[(\d+)\]/.exec(key)?.[1] ?? 0);
  const bottle = ctx.batch.recipe.packaging[index]?.bottle_L ?? null;
  const volume_L = litresOf(answers.get(key.replace('.bottles', '.volume')), ctx);
  if (bottle === null || volume_L === null) return null;
  const filled_L = Number(text) * bottle.value;
  const off = Math.abs(filled_L - volume_L);
  if (off <= Math.max(BOTTLES_OFF * volume_L, 2 * bottle.value)) return null;
  return `${text} bottles of ${bottle.written} hold ${formatVolume(filled_L, ctx.units)}, and the beer is ${formatVolume(volume_L, ctx.units)}.`;
}

function yeastDoubt(text: string, ctx: DoubtContext): string | null {
  const read = parseAmount(text, { units: ctx.units });
  const planned = ctx.batch.recipe.yeast[0]?.amount;
  if (!read.ok || planned === undefined || planned.unit !== read.value.unit || planned.value <= 0)
    return null;
  const times = read.value.value / planned.value;
  return times > YEAST_TIMES || times < 1 / YEAST_TIMES
    ? `${text} is far from the ${planned.written} of the recipe.`
    : null;
}
