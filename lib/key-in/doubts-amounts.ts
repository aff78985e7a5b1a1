import { formatMass, formatVolume } from '../units/format/format.ts';
import { parseAmount, parseQuantity, parseVolumeReading } from '../units/parse/parse.ts';
import { LITRES_PER_US_GALLON } from '../units/table.ts';
import type { DoubtContext } from './corrected.ts';
import { type Answers, type Blank, siblingKey } from './key-in.ts';

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
  if (blank.spec.kind === 'amount') return yeastDoubt(text, ctx);
  if (blank.kind === 'volume') return volumeDoubt(blank, text, answers, ctx);
  if (blank.kind === 'mass') return sugarDoubt(blank, text, answers, ctx);
  return blank.place.part === 'bottles' ? bottlesDoubt(blank, text, answers, ctx) : null;
}

function volumeDoubt(
  { place: { of }, spec }: Blank,
  text: string,
  answers: Answers,
  ctx: DoubtContext,
): string | null {
  const value = litresOf(text, ctx);
  if (value === null) return null;
  const { recipe, setup } = ctx.batch;
  const brim = setup.kettle_L;
  if (spec.blank?.when === 'boil' && value > brim.value) {
    return `${text} is more than the kettle holds${brim.written === null ? '' : `, ${brim.written} to the brim`}.`;
  }
  const fermenter = setup.fermenter_L;
  if (of === 'fermenter_volume' && fermenter !== null && value > fermenter.value) {
    return `${text} is more than the fermenter holds.`;
  }
  if (of === 'packaged') {
    const there = litresOf(answers.get('fermenter_volume'), ctx) ?? recipe.intoFermenter_L.value;
    return value > 1.05 * there ? `${text} is more than went into the fermenter.` : null;
  }
  const target = spec.target === undefined ? null : ctx.targets[spec.target];
  const planned = of === 'fermenter_volume' ? recipe.intoFermenter_L.value : target?.value;
  if (planned === undefined || Math.abs(value - planned) <= Math.max(FAR_SHARE * planned, 1)) return null;
  return `${text} is far from the ${formatVolume(planned, ctx.units)} that was planned.`;
}

function sugarDoubt(blank: Blank, text: string, answers: Answers, ctx: DoubtContext): string | null {
  const read = parseQuantity(text, 'mass', { units: ctx.units });
  const volume_L = litresOf(answers.get(siblingKey(blank, 'volume')), ctx);
  if (!read.ok || volume_L === null || volume_L <= 0) return null;
  const each_g = read.value.value / volume_L;
  if (each_g <= MUCH_SUGAR_g_per_L) return null;
  const [size_L, name] = ctx.units === 'us' ? [LITRES_PER_US_GALLON, 'gallon'] : [1, 'litre'];
  return `${text} in that much beer is ${formatMass(each_g * size_L, ctx.units)} in each ${name}: bottles can burst. If it is true, keep them cold, in a closed box, and touch them only with face and hands protected.`;
}

function bottlesDoubt(blank: Blank, text: string, answers: Answers, ctx: DoubtContext): string | null {
  const bottle = ctx.batch.recipe.packaging[blank.place.row ?? 0]?.bottle_L ?? null;
  const volume_L = litresOf(answers.get(siblingKey(blank, 'volume')), ctx);
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
