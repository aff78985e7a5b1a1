import { placeText } from '../batch/types/places.ts';
import { READINGS } from '../batch/types/readings.ts';
import { minutesBetween } from '../batch/types/time.ts';
import { fixed, formatTemperature } from '../units/format/format.ts';
import { parseGravity, parseMoment, parseQuantity } from '../units/parse/parse.ts';
import { clockText } from '../words/measures.ts';
import { correctedGravity, type DoubtContext } from './corrected.ts';
import { daysBetween } from './dates.ts';
import { doubtfulAmount } from './doubts-amounts.ts';
import { type Answers, type Blank, isFilled, LEFT_OUT } from './key-in.ts';
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
    const fresh = text !== blank.now;
    const message = fresh ? doubtOf(blank, text, answers, ctx) : null;
    if (message !== null) found.push({ key: blank.key, message });
    const clock = clockOf(blank, text);
    if (clock === null) continue;
    if (fresh && message === null && clockBefore !== null) {
      const late = clockDoubt(clockBefore, clock, ctx.language);
      if (late !== null) found.push({ key: blank.key, message: late });
    }
    clockBefore = { clock, blank };
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

function doubtOf(blank: Blank, text: string, answers: Answers, ctx: DoubtContext): string | null {
  switch (blank.kind) {
    case 'gravity':
      return gravityDoubt(blank, text, answers, ctx);
    case 'date':
      return dateDoubt(blank, text, answers, ctx);
    case 'temperature':
      return temperatureDoubt(blank, text, ctx);
    case 'volume':
    case 'mass':
    case 'count':
      return doubtfulAmount(blank, text, answers, ctx);
    default:
      return null;
  }
}

function gravityDoubt(blank: Blank, text: string, answers: Answers, ctx: DoubtContext): string | null {
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

function dateDoubt({ place, spec }: Blank, text: string, answers: Answers, ctx: DoubtContext): string | null {
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

const SOAK_OFF_K = 10;

function temperatureDoubt({ spec }: Blank, text: string, { batch, units }: DoubtContext): string | null {
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
