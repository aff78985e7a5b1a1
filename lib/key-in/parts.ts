import { parseMoment } from '../units/parse/parse.ts';
import { type Blank, NOT_TAKEN } from './key-in.ts';

/** A blank taken apart into the inputs of a form; absent parts are empty. */
export interface Parts {
  readonly value: string;
  readonly unit: string;
  readonly sample: string;
  readonly sampleUnit: string;
  readonly day: string;
  readonly month: string;
  readonly year: string;
  readonly clock: string;
  readonly notTaken: boolean;
}

/** Endings of the names of a blank's inputs; the value itself has the bare number of the blank, `C4`. */
export const PART_NAMES = {
  unit: '-u',
  sample: '-s',
  sampleUnit: '-su',
  day: '-d',
  month: '-m',
  year: '-y',
  clock: '-c',
  notTaken: '-n',
  /** The figure a second time, for brewers who key twice. */
  again: '-2',
  /** The answer that was confirmed although it is unlikely. */
  sure: '-ok',
} as const;

const NUMBER = String.raw`[-−]?\d+(?:[.,]\d+)?`;

/** Whether a blank has a day, and a clock time beside it. */
export const hasClock = ({ groups }: Pick<Blank, 'groups'>): boolean =>
  groups.some(({ part }) => part === 'clock');

/** Takes a text of the file apart for a form; what is written in an unusual way goes into the first input whole. */
export function partsOf(blank: Blank, text: string, brewed: string | null): Parts {
  const empty: Parts = {
    value: '',
    unit: blank.unit,
    sample: '',
    sampleUnit: blank.sampleUnit,
    day: '',
    month: '',
    year: '',
    clock: '',
    notTaken: text === NOT_TAKEN,
  };
  if (blank.kind === 'date') return { ...empty, ...dateParts(blank, text, brewed) };
  if (text === '' || text === NOT_TAKEN) return empty;
  const [head = '', tail] = text.split('@').map((part) => part.trim());
  const figure = figureParts(head, blank);
  if (blank.kind !== 'gravity' || tail === undefined) {
    return tail === undefined ? { ...empty, ...figure } : { ...empty, value: text };
  }
  const sample = new RegExp(`^(${NUMBER}) ?(°[CF])$`).exec(tail);
  if (sample === null) return { ...empty, value: text };
  return { ...empty, ...figure, sample: sample[1] ?? '', sampleUnit: sample[2] ?? blank.sampleUnit };
}

function figureParts(text: string, blank: Blank): { readonly value: string; readonly unit: string } {
  if (blank.choices.length === 0) {
    const alone = blank.unit !== '' && text.endsWith(` ${blank.unit}`);
    return { value: alone ? text.slice(0, -blank.unit.length - 1) : text, unit: blank.unit };
  }
  const form = new RegExp(`^(${NUMBER})(?: (.+))?$`).exec(text);
  const unit = form?.[2] ?? (blank.kind === 'gravity' ? 'SG' : '');
  return form !== null && blank.choices.includes(unit)
    ? { value: form[1] ?? '', unit }
    : { value: text, unit: blank.unit };
}

/** The month and year of the brewing day stand there already where the paper leaves them out. */
function dateParts(blank: Blank, text: string, brewed: string | null): Partial<Parts> {
  const read = parseMoment(text);
  if (!read.ok) {
    const known = blank.key === 'pitched.on' && brewed !== null ? brewed.split('-') : [];
    return { year: known[0] ?? '', month: plain(known[1]), value: text === NOT_TAKEN ? '' : text };
  }
  const [year = '', month, day] = read.value.date.split('-');
  return { year, month: plain(month), day: plain(day), clock: read.value.clock ?? '' };
}

const plain = (digits: string | undefined): string => (digits === undefined ? '' : String(Number(digits)));

/**
 * Puts the inputs of a form together into a line as it would be typed; undefined where the form has none of them. Where a
 * figure stands there and `not taken` is ticked too, the one that is new counts; where both are, the line says both.
 */
export function lineOf(blank: Blank, get: (name: string) => string | undefined): string | undefined {
  const ticked = (get(`${blank.id}${PART_NAMES.notTaken}`) ?? '') !== '';
  const line = typedLine(blank, get);
  if (!ticked || blank.now === NOT_TAKEN) return ticked && line === '' ? NOT_TAKEN : line;
  return line === undefined || line === '' || line === blank.now ? NOT_TAKEN : `${line} ${NOT_TAKEN}`;
}

function typedLine(blank: Blank, get: (name: string) => string | undefined): string | undefined {
  const part = (name: keyof typeof PART_NAMES) => (get(`${blank.id}${PART_NAMES[name]}`) ?? '').trim();
  const value = get(blank.id)?.trim();
  if (blank.kind === 'date') return dateLine(blank, get, part, value);
  if (value === undefined) return undefined;
  const sample = part('sample');
  // The temperature of a gravity that was emptied says nothing on its own.
  if (
    value === '' &&
    sample !== '' &&
    blank.now.includes('@') &&
    sample === partsOf(blank, blank.now, null).sample
  )
    return '';
  return figureLine(blank, value, part('unit'), sample, part('sampleUnit'));
}

/** The second keying of a figure, with the unit and the sample's temperature of the first. */
export function againOf(blank: Blank, get: (name: string) => string | undefined): string | undefined {
  const value = get(`${blank.id}${PART_NAMES.again}`)?.trim();
  if (value === undefined) return undefined;
  if (lineOf(blank, get) === NOT_TAKEN) return NOT_TAKEN;
  const part = (name: keyof typeof PART_NAMES) => (get(`${blank.id}${PART_NAMES[name]}`) ?? '').trim();
  return figureLine(blank, value, part('unit'), part('sample'), part('sampleUnit'));
}

function figureLine(blank: Blank, value: string, unit: string, sample: string, sampleUnit: string): string {
  const bare = new RegExp(`^(?:${NUMBER})$`).test(value);
  const chosen = blank.choices.includes(unit) && unit !== 'SG';
  const head = bare && chosen ? `${value} ${unit}` : value;
  if (blank.kind !== 'gravity' || sample === '' || head.includes('@')) return head;
  const bareSample = new RegExp(`^(?:${NUMBER})$`).test(sample);
  return `${head} @ ${sample}${bareSample ? ` ${sampleUnit || blank.sampleUnit}` : ''}`;
}

function dateLine(
  blank: Blank,
  get: (name: string) => string | undefined,
  part: (name: 'day' | 'month' | 'year' | 'clock') => string,
  value: string | undefined,
): string | undefined {
  if (get(`${blank.id}${PART_NAMES.day}`) === undefined) return value;
  const [day, month, year, clock] = [part('day'), part('month'), part('year'), part('clock')];
  // Month and year may stand there already: without a day nothing was keyed in, unless a time was.
  if (day === '' && clock === '') return '';
  const date =
    /^\d+$/.test(month) && /^\d{4}$/.test(year)
      ? `${year}-${two(month)}-${two(day)}`
      : `${day} ${month} ${year}`;
  return `${date.trim()}${clock === '' ? '' : ` ${clock}`}`;
}

const two = (digits: string): string => digits.padStart(2, '0');
