import type { Phase } from '../batch/types/acts.ts';
import type { TimetableRow } from '../batch/types/plan.ts';
import { type Parts, volumeParts } from '../units/format/format.ts';
import { dateText } from './measures.ts';
import type { Units } from './numbers.ts';

/** A step in two pieces, so that paper can set the act in bold: `Add` + `30 g Fuggle.` */
export interface StepWords {
  readonly act: string;
  readonly rest: string;
}

/** What each part of the day is called, on paper and on the page. */
export const PHASE_TITLES: { readonly [P in Phase]: string } = {
  gather: 'Gather',
  heat: 'Heat',
  steep: 'Steep',
  mash: 'Mash',
  boil: 'Boil',
  stand: 'Stand',
  chill: 'Chill',
  read: 'Read',
  pitch: 'Pitch',
};

/** The first letter large; names that begin with a digit stay as they are. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Ends a sentence that does not end yet. */
export function sentence(text: string): string {
  const trimmed = text.trim();
  return trimmed === '' || /[.!?:]$/.test(trimmed) ? trimmed : `${trimmed}.`;
}

/** Words joined by single spaces, empty ones left out. */
export function words(...parts: readonly (string | null)[]): string {
  return parts.filter((part) => part !== null && part !== '').join(' ');
}

/** `hops`, `hops and peel`, `hops, peel and honey`. */
export function listed(items: readonly string[]): string {
  if (items.length < 2) return items.join('');
  return `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;
}

/** A number and its unit never parted by the end of a line. */
export function kept(text: string): string {
  return text.replace(/(\d) (?=(g|kg|L|ml|min|h|days?|°C|°F|F|gal|qt|oz|lb|tsp|tbsp|vol|%)\b)/g, '$1\u00a0');
}

const withAmount = (row: TimetableRow): string => words(row.amount, row.what);
const isTemperature = (text: string | null): boolean => text !== null && /\d\s*°?[CF]\b/.test(text);
const isDuration = (text: string | null): boolean => text !== null && /\d\s*(min|h|days?)\b/.test(text);

/** `what` in its own words, the amount after it. */
const followed = (row: TimetableRow, otherwise: string, between = ', '): string => {
  const what = row.what || otherwise;
  return row.amount === null ? what : `${what}${between}${row.amount}`;
};

function heatWords(act: string, row: TimetableRow): StepWords {
  if (isTemperature(row.amount)) return { act, rest: words(row.what, 'to', row.amount) };
  return { act, rest: followed(row, '', isDuration(row.amount) ? ', about ' : ', ') };
}

/** The amount in front of what it is an amount of: `10 L of water`; a phrase that only ends with it keeps it last. */
function pouredWords(row: TimetableRow): string {
  const what = row.what || 'water into the kettle';
  if (row.amount === null) return what;
  return /^(water|boiled|hot|cold)/.test(what) ? `${row.amount} of ${what}` : `${what}, ${row.amount}`;
}

function topUpWords(row: TimetableRow): string {
  // How the water was made ready stands among the steps of the day before.
  const water = row.what.replace(/^with /, '').replace(/^boiled(,| and) chilled/, 'chilled');
  return row.amount === null ? `with ${water}` : `with ${row.amount} of ${water}`;
}

function byAction(row: TimetableRow): StepWords {
  switch (row.action) {
    case 'prepare':
      return { act: '', rest: capital(followed(row, '')) };
    case 'sanitise':
      return row.what.startsWith('mix')
        ? { act: 'Mix', rest: followed({ ...row, what: row.what.replace(/^mix /, '') }, '', ': ') }
        : { act: 'Sanitise', rest: row.what };
    case 'weigh':
      return {
        act: 'Weigh out',
        rest: row.what.startsWith('weigh') ? 'everything in work order' : withAmount(row),
      };
    case 'fill':
      return { act: 'Pour', rest: pouredWords(row) };
    case 'heat':
      return heatWords('Heat', row);
    case 'grain in':
      return { act: 'Grain in:', rest: withAmount(row) };
    case 'hold':
      return { act: 'Hold', rest: followed(row, '', ' for ').replace(/ for for /, ' for ') };
    case 'grain out':
      return { act: 'Grain out:', rest: row.what || 'lift and drain, never squeeze' };
    case 'rinse':
      return { act: 'Rinse:', rest: followed(row, 'pour hot water over the drained grain') };
    case 'flame off':
      return row.what === '' ? { act: 'Flame off.', rest: '' } : { act: 'Flame off', rest: row.what };
    case 'stir in':
      return { act: 'Stir in', rest: withAmount(row) };
    case 'flame on':
      return row.what === ''
        ? { act: 'Flame on.', rest: 'Stir until it boils again' }
        : {
            act: 'Flame on',
            rest: followed({ ...row, what: row.what.replace(/^once nothing[^;]*; /, '') }, '', ', about '),
          };
    case 'boil begins':
      return { act: 'It boils:', rest: followed(row, 'start the countdown') };
    case 'watch':
      return { act: 'Watch', rest: row.what || 'for a boil-over' };
    case 'add':
      return { act: 'Add', rest: withAmount(row) };
    case 'flame out':
      return { act: 'Flame out:', rest: row.what || 'the boil is over' };
    case 'stand':
      return { act: 'Stand:', rest: followed(row, '', ' for ').replace(/ for for /, ' for ') };
    case 'chill':
      return { act: 'Chill', rest: followed(row, '') };
    case 'transfer':
      return {
        act: 'Pour',
        rest: words(row.amount, row.what || 'the wort into the fermenter; leave the trub behind'),
      };
    case 'top up':
      return { act: 'Top up', rest: topUpWords(row) };
    case 'read':
      return {
        act: 'Read',
        rest: row.what.includes('gravity') ? 'volume, gravity and sample temperature' : withAmount(row),
      };
    case 'air':
      return { act: 'Air in:', rest: row.what || 'stir hard or shake for two minutes' };
    case 'pitch':
      return { act: 'Pitch', rest: withAmount(row) };
    case 'seal':
      return { act: 'Close:', rest: row.what || 'lid on, airlock on and filled' };
  }
}

/** A row of the timetable as act and rest; a row that already says a whole sentence keeps it. */
export function rowWords(row: TimetableRow): StepWords {
  if (/[.!]$/.test(row.what.trim()))
    return { act: '', rest: kept(words(capital(row.what.trim()), row.amount)) };
  const { act, rest } = byAction(row);
  return { act, rest: kept(sentence(rest)) };
}

/** A row of the timetable as one short imperative sentence. */
export function rowSentence(row: TimetableRow): string {
  const { act, rest } = rowWords(row);
  return words(act, rest);
}

/** `Batch 12, 14 Feb 2026`: number and day where there are any. */
export function batchLine(batch: { readonly number: number | null; readonly brewed: string | null }): string {
  const number = batch.number === null ? null : `Batch\u00a0${batch.number}`;
  const day = batch.brewed === null ? null : dateText(batch.brewed);
  return [number, day].filter((part) => part !== null).join(', ');
}

/** Signs that a number in the head of a sheet has room for. */
const ROOM_FOR = 5;

/** A volume as it was written where it is short, `12 L`; `2 11/16 gal` is worked out. */
export function headVolume(
  { value, written }: { readonly value: number; readonly written: string },
  units: Units,
): Parts {
  const parts = writtenParts(written);
  return parts.number.length > ROOM_FOR || /\s/.test(parts.number) ? volumeParts(value, units) : parts;
}

/** What the brewer wrote, number and unit apart: `5 us gal` as 5 and us gal. */
function writtenParts(written: string): { readonly number: string; readonly unit: string } {
  const parts = /^([\d.,/ ]*\d)\s*(.*)$/.exec(written.trim());
  return { number: parts?.[1] ?? written, unit: parts?.[2] ?? '' };
}
