import { placeText } from '../batch/types/places.ts';
import { READINGS } from '../batch/types/readings.ts';
import { minutesBetween } from '../batch/types/time.ts';
import { fixed, formatMass, formatTemperature, formatVolume } from '../units/format/format.ts';
import {
  parseAmount,
  parseGravity,
  parseMoment,
  parseQuantity,
  parseVolumeReading,
} from '../units/parse/parse.ts';
import { LITRES_PER_US_GALLON } from '../units/table.ts';
import { clockText } from '../words/measures.ts';
import { correctedGravity, type DoubtContext } from './corrected.ts';
import { daysBetween } from './dates.ts';
import { type Answers, type Blank, isFilled, LEFT_OUT, siblingKey } from './key-in.ts';
import { shownText } from './words.ts';

export interface Doubt {
  readonly key: string;
  readonly message: string;
}

/** A step of the brew day that takes longer than this is more likely a slip, min. Common practice, no source. */
const LONG_STEP_MIN = 8 * 60;
/** Two things of one moment are written down in either order, min. Common practice, no source. */
const SCATTER_MIN = 10;
const DAY_MIN = 1440;
/** Further from plan than four times its half-range, and than this, a gravity is more likely a slip. */
const FAR_SG = 0.015;
/** A hydrometer's step or two of rise is scatter. */
const RISE_SG = 0.004;
/** Dry beers with much sugar end near 0.996; lower ones are rare. Common practice, no source. */
const LOW_SG = 0.994;
/** Above this a sample's correction is large and its temperature has usually changed since. Common practice. */
const WARM_SAMPLE_C = 45;
const SOAK_OFF_K = 10;
/** A volume off its target by more than this share is more likely a slip. Common practice, no source. */
const FAR_SHARE = 0.4;
/** More priming sugar than this in a litre is more than lively beer needs, g/L. Common practice, no source. */
const MUCH_SUGAR_g_per_L = 11;
/** Bottles and beer may differ by so much before one of the two is a slip. */
const BOTTLES_OFF = 0.25;
const YEAST_TIMES = 6;

/** One answer among all of them. */
interface Asked {
  readonly blank: Blank;
  readonly text: string;
  readonly answers: Answers;
  readonly ctx: DoubtContext;
}

/** Why an answer of a kind is unlikely; null where it is not. */
const DOUBTS: { readonly [K in Blank['kind']]?: (asked: Asked) => string | null } = {
  gravity: gravityDoubt,
  date: dateDoubt,
  temperature: temperatureDoubt,
  volume: volumeDoubt,
  mass: sugarDoubt,
  count: bottlesDoubt,
};

/**
 * Answers that are possible but unlikely, each with the reason. Only answers that differ from what the file says now are
 * doubted: what is there has been confirmed before.
 */
export function doubtsOf(blanks: readonly Blank[], answers: Answers, ctx: DoubtContext): readonly Doubt[] {
  const found: Doubt[] = [];
  let clockBefore: { readonly clock: string; readonly blank: Blank } | null = null;
  for (const blank of blanks) {
    const text = answers.get(blank.key) ?? blank.now;
    if (!isFilled(text) || text === LEFT_OUT) continue;
    const clock = clockOf(blank, text);
    if (text !== blank.now) {
      const doubt = blank.spec.kind === 'amount' ? yeastDoubt : DOUBTS[blank.kind];
      const late =
        clock !== null && clockBefore !== null ? clockDoubt(clockBefore, clock, ctx.language) : null;
      const message = doubt?.({ blank, text, answers, ctx }) ?? late;
      if (message !== null) found.push({ key: blank.key, message });
    }
    if (clock !== null) clockBefore = { clock, blank };
  }
  return found;
}

function clockOf({ kind, place, sheet }: Blank, text: string): string | null {
  if (kind === 'clock') return text;
  const pitched = sheet === 'kettle' && place.part === 'on' ? parseMoment(text) : null;
  return pitched?.ok ? pitched.value.clock : null;
}

/** Midnight may pass, but not most of a day. */
function clockDoubt(
  before: { readonly clock: string; readonly blank: Blank },
  clock: string,
  language: string,
): string | null {
  const minutes = minutesBetween(before.clock, clock);
  if (minutes <= LONG_STEP_MIN || minutes >= DAY_MIN - SCATTER_MIN) return null;
  const at = `${clockText(before.clock, language)} (${before.blank.id})`;
  const shown = clockText(clock, language);
  return clock < before.clock
    ? `${shown} is earlier than ${at}, so it would be the next day.`
    : `${shown} is ${Math.floor(minutes / 60)} hours after ${at}.`;
}

function gravityDoubt({ blank, text, answers, ctx }: Asked): string | null {
  const { spec } = blank;
  const read = parseGravity(text);
  if (!read.ok) return null;
  const sample_C = read.value.sample_C;
  const value = correctedGravity(ctx, spec, text, answers);
  if (value === null)
    return 'No corrected value can be worked out for it: the sample is too warm or too strong.';
  const shown = fixed(value, 3);
  const target = spec.target === undefined ? null : ctx.targets[spec.target];
  if (target) {
    const far = Math.max(FAR_SG, 4 * ((target.printed.high - target.printed.low) / 2));
    if (Math.abs(value - target.value) > far) {
      const word = value > target.value ? 'above' : 'below';
      return `${shown} is far ${word} the ${fixed(target.value, 3)} that was planned.`;
    }
  }
  if (spec.fermented) {
    const before = gravityBefore(blank, answers, ctx);
    if (before !== null && value > before.value + RISE_SG) {
      return `${shown} is higher than the ${fixed(before.value, 3)} of ${before.of}; gravity falls while beer ferments.`;
    }
    if (value < LOW_SG) return `${shown} is very low, even for a dry beer.`;
  }
  if (sample_C !== null && sample_C > WARM_SAMPLE_C && read.value.scale !== 'brix') {
    return `A sample at ${formatTemperature(sample_C, ctx.units)} changes while it is read, and its correction is large; a cooled sample is more exact.`;
  }
  return null;
}

/** The gravity that was read before this one: the row above, else the original gravity. */
function gravityBefore(
  { place }: Blank,
  answers: Answers,
  ctx: DoubtContext,
): { readonly value: number; readonly of: string } | null {
  const { gravity } = READINGS.fermentation.parts;
  for (let row = (place.row ?? answers.size) - 1; row >= 0; row--) {
    const above = answers.get(placeText({ of: 'fermentation', row, part: 'gravity' })) ?? '';
    const value = correctedGravity(ctx, gravity, above, answers);
    if (value !== null) return { value, of: 'the row before' };
  }
  const original = answers.get('original_gravity') ?? '';
  const value = correctedGravity(ctx, READINGS.original_gravity, original, answers);
  return value === null ? null : { value, of: 'the original gravity' };
}

function dateDoubt({ blank: { place, spec }, text, answers, ctx }: Asked): string | null {
  const read = parseMoment(text);
  if (!read.ok) return null;
  const { date } = read.value;
  const { brewed } = ctx.batch;
  const said = (day: string): string => shownText(day, 'date', ctx.language);
  if (ctx.today !== null && daysBetween(ctx.today, date) > 0) return `${said(date)} has not come yet.`;
  if (brewed !== null) {
    const days = daysBetween(brewed, date);
    if (days < 0) return `${said(date)} is before the brewing day, ${said(brewed)}.`;
    if (days > (spec.late_days ?? days))
      return `${said(date)} is ${days} days after the brewing day, ${said(brewed)}.`;
  }
  const { of, row } = place;
  const inLog = of === 'fermentation' || of === 'tasted';
  const before = inLog ? (answers.get(placeText({ ...place, row: (row ?? 0) - 1 })) ?? '') : '';
  if (before !== '' && before > text) return `${said(text)} is before the row above, ${said(before)}.`;
  const pitched = parseMoment(answers.get('pitched.on') ?? '');
  if (of === 'pitched' || !pitched.ok || date >= pitched.value.date) return null;
  return `${said(date)} is before the yeast was pitched, ${said(pitched.value.date)}.`;
}

function temperatureDoubt({ blank: { spec }, text, ctx: { batch, units } }: Asked): string | null {
  const read = parseQuantity(text, 'temperature', { units });
  if (!read.ok) return null;
  const { value } = read.value;
  const step = spec.blank?.when;
  const soak = step === 'steep' || step === 'mash' ? batch.recipe[step] : null;
  if (soak && Math.abs(value - soak.temperature_C.value) > SOAK_OFF_K) {
    return `${text} is far from the ${soak.temperature_C.written} of the recipe.`;
  }
  if (spec.usual_C === undefined) return null;
  const [low, high] = spec.usual_C;
  if (value >= low && value <= high) return null;
  const dies = spec.living && value > high ? '; most yeast does not live through it' : '';
  return `${text} is unusually ${value > high ? 'warm' : 'cold'} here${dies}.`;
}

const litresOf = (text: string | undefined, ctx: DoubtContext): number | null => {
  const read = parseVolumeReading(text ?? '', { units: ctx.units });
  return read.ok ? read.value.value : null;
};

function volumeDoubt({
  blank: {
    place: { of },
    spec,
  },
  text,
  answers,
  ctx,
}: Asked): string | null {
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

function sugarDoubt({ blank, text, answers, ctx }: Asked): string | null {
  const read = parseQuantity(text, 'mass', { units: ctx.units });
  const volume_L = litresOf(answers.get(siblingKey(blank, 'volume')), ctx);
  if (!read.ok || volume_L === null || volume_L <= 0) return null;
  const each_g = read.value.value / volume_L;
  if (each_g <= MUCH_SUGAR_g_per_L) return null;
  const [size_L, name] = ctx.units === 'us' ? [LITRES_PER_US_GALLON, 'gallon'] : [1, 'litre'];
  return `${text} in that much beer is ${formatMass(each_g * size_L, ctx.units)} in each ${name}: bottles can burst. If it is true, keep them cold, in a closed box, and touch them only with face and hands protected.`;
}

function bottlesDoubt({ blank, text, answers, ctx }: Asked): string | null {
  if (blank.place.part !== 'bottles') return null;
  const bottle = ctx.batch.recipe.packaging[blank.place.row ?? 0]?.bottle_L ?? null;
  const volume_L = litresOf(answers.get(siblingKey(blank, 'volume')), ctx);
  if (bottle === null || volume_L === null) return null;
  const filled_L = Number(text) * bottle.value;
  const off = Math.abs(filled_L - volume_L);
  if (off <= Math.max(BOTTLES_OFF * volume_L, 2 * bottle.value)) return null;
  return `${text} bottles of ${bottle.written} hold ${formatVolume(filled_L, ctx.units)}, and the beer is ${formatVolume(volume_L, ctx.units)}.`;
}

function yeastDoubt({ text, ctx }: Asked): string | null {
  const read = parseAmount(text, { units: ctx.units });
  const planned = ctx.batch.recipe.yeast[0]?.amount;
  if (!read.ok || planned === undefined || planned.unit !== read.value.unit || planned.value <= 0)
    return null;
  const times = read.value.value / planned.value;
  return times > YEAST_TIMES || times < 1 / YEAST_TIMES
    ? `${text} is far from the ${planned.written} of the recipe.`
    : null;
}
