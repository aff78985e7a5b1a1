import { minutesBetween } from '../batch/types/time.ts';
import { formatTemperature } from '../units/format/format.ts';
import { parseGravity, parseMoment, parseQuantity } from '../units/parse/parse.ts';
import { fixedNumber } from '../words/numbers.ts';
import { correctedGravity, type DoubtContext } from './corrected.ts';
import { daysBetween } from './dates.ts';
import { doubtfulAmount } from './doubts-amounts.ts';
import { type Answers, type Blank, NOT_TAKEN } from './key-in.ts';

/** An answer that is possible but unlikely: the brewer is asked whether it is what the paper says. */
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
/** Days after brewing by which a batch has usually been packaged, and by which it has been drunk. */
const LATE_DAYS = { pitched: 3, fermentation: 120, packaged: 180, abandoned: 400, tasted: 1500 } as const;

/**
 * Answers that are possible but unlikely, each with the reason. Only answers that differ from what the file says now are
 * doubted: what stands there has been confirmed before.
 */
export function doubtsOf(blanks: readonly Blank[], answers: Answers, ctx: DoubtContext): readonly Doubt[] {
  const found: Doubt[] = [];
  let clockBefore: { readonly clock: string; readonly blank: Blank } | null = null;
  for (const blank of blanks) {
    const text = answers.get(blank.key) ?? blank.now;
    if (text === '' || text === NOT_TAKEN) continue;
    const fresh = text !== blank.now;
    const message = fresh ? doubtOf(blank, text, answers, ctx) : null;
    if (message !== null) found.push({ key: blank.key, message });
    const clock = clockOf(blank, text);
    if (clock === null) continue;
    if (fresh && message === null && clockBefore !== null) {
      const late = clockDoubt(clockBefore, clock);
      if (late !== null) found.push({ key: blank.key, message: late });
    }
    clockBefore = { clock, blank };
  }
  return found;
}

/** Clock times of the brew day, in the order of the paper. */
function clockOf({ kind, key }: Blank, text: string): string | null {
  if (kind === 'clock') return text;
  const pitched = key === 'pitched.on' ? parseMoment(text) : null;
  return pitched?.ok ? pitched.value.clock : null;
}

/** Midnight may pass, but not most of a day. */
function clockDoubt(before: { readonly clock: string; readonly blank: Blank }, clock: string): string | null {
  const minutes = minutesBetween(before.clock, clock);
  if (minutes <= LONG_STEP_MIN || minutes >= DAY_MIN - SCATTER_MIN) return null;
  const at = `${before.clock} (${before.blank.id})`;
  return clock < before.clock
    ? `${clock} is earlier than ${at}, so it would be the next day.`
    : `${clock} is ${Math.floor(minutes / 60)} hours after ${at}.`;
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

const PLANNED = ['boil_start_gravity', 'boil_end_gravity', 'original_gravity', 'final_gravity'] as const;

function gravityDoubt({ key }: Blank, text: string, answers: Answers, ctx: DoubtContext): string | null {
  const read = parseGravity(text);
  if (!read.ok) return null;
  const sample_C = read.value.sample_C;
  const value = correctedGravity(ctx, key, text, answers);
  if (value === null)
    return 'No corrected value can be worked out for it: the sample is too warm or too strong.';
  const shown = fixedNumber(value, 3);
  const planned = PLANNED.find((known) => known === key);
  const target = planned === undefined ? null : ctx.targets[planned];
  if (target) {
    const far = Math.max(FAR_SG, 4 * ((target.printed.high - target.printed.low) / 2));
    if (Math.abs(value - target.value) > far) {
      const word = value > target.value ? 'above' : 'below';
      return `${shown} is far ${word} the ${fixedNumber(target.value, 3)} that was planned.`;
    }
  }
  if (key === 'final_gravity' || key.startsWith('fermentation')) {
    const before = gravityBefore(key, answers, ctx);
    if (before !== null && value > before.value + RISE_SG) {
      return `${shown} is higher than the ${fixedNumber(before.value, 3)} of ${before.of}; gravity falls while beer ferments.`;
    }
    if (value < LOW_SG) return `${shown} is very low, even for a dry beer.`;
  }
  if (sample_C !== null && sample_C > WARM_SAMPLE_C && read.value.scale !== 'brix') {
    return `A sample at ${formatTemperature(sample_C, ctx.units, { decimals: 0 })} changes while it is read, and its correction is large; a cooled sample tells more.`;
  }
  return null;
}

/** The gravity that was read before this one: the row above, else the original gravity. */
function gravityBefore(
  key: string,
  answers: Answers,
  ctx: DoubtContext,
): { readonly value: number; readonly of: string } | null {
  const row = /^fermentation\[(\d+)\]/.exec(key)?.[1];
  const last = row === undefined ? answers.size : Number(row);
  for (let i = last - 1; i >= 0; i--) {
    const other = `fermentation[${i}].gravity`;
    const value = correctedGravity(ctx, other, answers.get(other) ?? '', answers);
    if (value !== null) return { value, of: 'the row before' };
  }
  const original = correctedGravity(ctx, 'original_gravity', answers.get('original_gravity') ?? '', answers);
  return original === null ? null : { value: original, of: 'the original gravity' };
}

function dateDoubt({ key }: Blank, text: string, answers: Answers, ctx: DoubtContext): string | null {
  const read = parseMoment(text);
  if (!read.ok) return null;
  const { date } = read.value;
  const { brewed } = ctx.batch;
  const list = key.split(/[.[]/)[0] ?? '';
  if (ctx.today !== null && daysBetween(ctx.today, date) > 0) return `${date} has not come yet.`;
  if (brewed !== null) {
    const days = daysBetween(brewed, date);
    const late = Object.entries(LATE_DAYS).find(([known]) => known === list)?.[1];
    if (days < 0) return `${date} is before the brewing day, ${brewed}.`;
    if (late !== undefined && days > late) return `${date} is ${days} days after the brewing day, ${brewed}.`;
  }
  const row = /^(fermentation|tasted)\[(\d+)\]/.exec(key);
  const before = row === null ? '' : (answers.get(`${row[1]}[${Number(row[2]) - 1}].on`) ?? '');
  if (before !== '' && before > text) return `${text} is before the row above, ${before}.`;
  const pitched = answers.get('pitched.on') ?? '';
  const afterwards = list !== 'pitched' && /^\d/.test(pitched) && date < pitched.slice(0, 10);
  return afterwards ? `${date} is before the yeast was pitched, ${pitched.slice(0, 10)}.` : null;
}

/** Kitchen limits, °C; outside them a figure is more likely in the other unit or a slip. Common practice, no source. */
const USUAL_C: Readonly<Record<string, readonly [number, number]>> = {
  'chilled.temperature': [4, 60],
  'top_up.temperature': [0, 40],
  'pitched.temperature': [4, 38],
  warmest_after: [0, 38],
  fermentation: [-1, 38],
  packaged: [-1, 35],
};
const SOAK_OFF_K = 10;

function temperatureDoubt({ key }: Blank, text: string, ctx: DoubtContext): string | null {
  const read = parseQuantity(text, 'temperature', { units: ctx.units });
  if (!read.ok) return null;
  const { value } = read.value;
  const soak = key.startsWith('steep')
    ? ctx.batch.recipe.steep
    : key.startsWith('mash')
      ? ctx.batch.recipe.mash
      : null;
  if (soak && Math.abs(value - soak.temperature_C.value) > SOAK_OFF_K) {
    return `${text} is far from the ${soak.temperature_C.written} of the recipe.`;
  }
  const usual = USUAL_C[key] ?? USUAL_C[key.split(/[.[]/)[0] ?? ''];
  if (usual === undefined || (value >= usual[0] && value <= usual[1])) return null;
  const living = /^(pitched|fermentation|warmest)/.test(key) && value > usual[1];
  return `${text} is unusually ${value > usual[1] ? 'warm' : 'cold'} here${living ? '; most yeast does not live through it' : ''}.`;
}
