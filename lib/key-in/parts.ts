import { parseMoment } from '../units/parse/parse.ts';
import { type Blank, LEFT_OUT, NOT_TAKEN } from './key-in.ts';

/** A blank taken apart into the inputs of a form; absent parts are empty. */
export interface Parts {
  /** The figure or the words; of a day, `2026-02-14`. */
  readonly value: string;
  readonly unit: string;
  readonly sample: string;
  readonly sampleUnit: string;
  readonly clock: string;
  /** The tick that is an answer without a figure. */
  readonly word: '' | typeof NOT_TAKEN | typeof LEFT_OUT;
}

const NUMBER = String.raw`[-−]?\d+(?:[.,]\d+)?`;

export const hasClock = ({ groups }: Pick<Blank, 'groups'>): boolean =>
  groups.some(({ part }) => part === 'clock');

/** Takes a text of the file apart for a form; what is written in an unusual way goes into the first input whole. */
export function partsOf(blank: Blank, text: string): Parts {
  const { unit, sampleUnit } = blank;
  const empty: Parts = { value: '', unit, sample: '', sampleUnit, clock: '', word: '' };
  if (text === NOT_TAKEN || text === LEFT_OUT) return { ...empty, word: text };
  if (blank.kind === 'date') {
    const read = parseMoment(text);
    return read.ok ? { ...empty, value: read.value.date, clock: read.value.clock ?? '' } : empty;
  }
  const [head = '', tail] = text.split('@').map((part) => part.trim());
  if (tail === undefined) return { ...empty, ...figureParts(head, blank) };
  const sample = new RegExp(`^(${NUMBER}) ?(°[CF])$`).exec(tail);
  if (blank.kind !== 'gravity' || sample === null) return { ...empty, value: text };
  return {
    ...empty,
    ...figureParts(head, blank),
    sample: sample[1] ?? '',
    sampleUnit: sample[2] ?? sampleUnit,
  };
}

function figureParts(text: string, blank: Blank): Pick<Parts, 'value' | 'unit'> {
  const { unit, choices } = blank;
  if (choices.length === 0) {
    const alone = unit !== '' && text.endsWith(` ${unit}`);
    return { value: alone ? text.slice(0, -unit.length - 1) : text, unit };
  }
  const form = new RegExp(`^(${NUMBER})(?: (.+))?$`).exec(text);
  const written = form?.[2] ?? (blank.kind === 'gravity' ? 'SG' : '');
  return form !== null && choices.includes(written)
    ? { value: form[1] ?? '', unit: written }
    : { value: text, unit };
}

/** Puts the inputs of a form together into a line as it would be typed. */
export function lineOf(blank: Blank, { value, unit, sample, sampleUnit, clock, word }: Parts): string {
  if (word !== '') return word;
  const bare = (text: string) => new RegExp(`^(?:${NUMBER})$`).test(text);
  if (blank.kind === 'date') return [value, clock].filter((part) => part !== '').join(' ');
  // The temperature of a gravity that was emptied says nothing on its own.
  if (value === '' && sample === partsOf(blank, blank.now).sample) return '';
  const named = bare(value) && blank.choices.includes(unit) && unit !== 'SG';
  const head = named ? `${value} ${unit}` : value;
  if (blank.kind !== 'gravity' || sample === '' || head.includes('@')) return head;
  return `${head} @ ${sample}${bare(sample) ? ` ${sampleUnit || blank.sampleUnit}` : ''}`;
}
