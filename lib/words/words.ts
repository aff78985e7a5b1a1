import type { Act, Phase, RowItem, TimetableRow } from '../batch/types/acts.ts';
import type { Units } from '../units/dimension.ts';
import { breaking, echoed } from '../units/format/format.ts';
import {
  dateText,
  durationText,
  givenTemperature,
  iceText,
  temperatureText,
  type Voice,
  volumeText,
} from './measures.ts';

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
  return trimmed === '' || '.!?:'.includes(trimmed.at(-1) ?? '.') ? trimmed : `${trimmed}.`;
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

/** An item of the recipe with its amount: `30 g Fuggle`. */
export const itemWords = ({ amount, name }: Pick<RowItem, 'amount' | 'name'>, units: Units): string =>
  `${echoed(amount.written, units)} ${name}`;

/** Minutes of a wait as the gauge shows them: from one whole minute to the next, so that they add up. */
export function waitMinutes(row: TimetableRow & { readonly minutes: number }): number {
  return Math.max(1, Math.round(row.minute + row.minutes) - Math.round(row.minute));
}

/** A row in words: `act` and `rest` are a sentence, `what` and `amount` the same apart. */
interface ActWords extends StepWords {
  readonly what: string;
  readonly amount: string | null;
}

const WATER: { readonly [T in Extract<Act, { action: 'fill' }>['thing']]: string } = {
  mash: 'water for the mash',
  steep: 'water for the steep',
  rest: 'the rest of the water',
  kettle: 'water into the kettle',
};

function actWords(row: TimetableRow, { units, language }: Voice): ActWords {
  const said = (act: string, what: string, amount: string | null = null, rest = what): ActWords => ({
    act,
    what,
    amount,
    rest,
  });
  const volume = (litres: number): string => volumeText(litres, units);
  const degrees = (celsius: number): string => temperatureText(celsius, units);
  const given = (celsius: number): string => givenTemperature(celsius, units);
  const [item] = row.items;
  const items = (act: string): ActWords => {
    const all = listed(row.items.map((one) => itemWords(one, units)));
    return said(
      act,
      listed(row.items.map(({ name }) => name)),
      row.items.length === 1 && item !== undefined ? echoed(item.amount.written, units) : null,
      all,
    );
  };
  switch (row.action) {
    case 'prepare': {
      if (row.thing === 'top-up water') {
        const amount = volume(row.volume_L);
        return said(
          '',
          'boil, cover and chill the top-up water',
          amount,
          `Boil, cover and chill ${amount} of water`,
        );
      }
      if (row.thing === 'ice') {
        const amount = iceText(row.ice_kg, units);
        return said('', 'freeze the ice for the bath', amount, `Freeze ${amount} of ice for the bath`);
      }
      const amount = item === undefined ? null : echoed(item.amount.written, units);
      const name = item?.name ?? '';
      return row.thing === 'dry yeast'
        ? said('', `have the yeast ready: ${name}`, amount, `Have the yeast ready: ${name}, ${amount}`)
        : said(
            '',
            `make the yeast’s starter, if it needs one: ${name}`,
            amount,
            `Make the yeast’s starter, if it needs one: ${name}, ${amount}`,
          );
    }
    case 'sanitise': {
      if (row.thing === 'tools')
        return said(
          spelled('Sanitise', language),
          'whatever touches the cooled wort: fermenter, lid, airlock, siphon, thermometer',
          null,
          'fermenter, lid, airlock, siphon, thermometer',
        );
      const amount =
        row.dose_L === null || row.water_L === null
          ? null
          : `${volume(row.dose_L)} in ${volume(row.water_L)}`;
      return said(
        'Mix',
        spelled('mix the sanitiser as its label says', language),
        amount,
        words(spelled('the sanitiser as its label says', language), amount),
      );
    }
    case 'weigh':
      return said(
        'Weigh out',
        'weigh everything out in the order of the day',
        null,
        'everything in work order',
      );
    case 'fill': {
      const amount = volume(row.volume_L);
      return said(
        'Pour',
        WATER[row.thing],
        amount,
        row.thing === 'rest' ? `the rest of the water, ${amount}` : `${amount} of ${WATER[row.thing]}`,
      );
    }
    case 'heat': {
      const to = row.to_C === null ? 'to the boil' : `to ${degrees(row.to_C)}`;
      const amount = durationText(waitMinutes(row));
      return said('Heat', to, amount, `${to}, about ${amount}`);
    }
    case 'grain in':
      return items('Grain in:');
    case 'hold': {
      const at = row.phase === 'steep' ? `at ${given(row.at_C)}, off the heat` : `at ${given(row.at_C)}`;
      return said('Hold', at, durationText(row.minutes), `${at}, for ${durationText(row.minutes)}`);
    }
    case 'grain out':
      return said('Grain out:', 'lift it, never squeeze', null, 'never squeeze');
    case 'drain':
      return said('Drain', 'over the pot', durationText(row.minutes), durationText(row.minutes));
    case 'heat the rinse': {
      const amount = volume(row.volume_L);
      const to = `to ${degrees(row.to_C)}, in another pot`;
      return said('Heat', `water for the rinse ${to}`, amount, `${amount} for the rinse ${to}`);
    }
    case 'rinse':
      return said(
        'Rinse:',
        'pour over the drained grain',
        volume(row.volume_L),
        `pour ${volume(row.volume_L)} of hot water over the grain`,
      );
    case 'flame off':
      return said('Flame off.', `before the ${row.thing} goes in`, null, '');
    case 'stir in': {
      const put = items('Stir in');
      return row.minutes > 0 ? { ...put, rest: `${put.rest}; stir ${durationText(row.minutes)}` } : put;
    }
    case 'flame on': {
      const amount = durationText(waitMinutes(row));
      return said(
        'Flame on',
        'once nothing sticks to the bottom; back to the boil',
        amount,
        `back to the boil, about ${amount}`,
      );
    }
    case 'boil begins':
      return said(
        'It boils:',
        'start the countdown',
        `${Math.round(row.minutes)}\u00a0min`,
        'start the countdown',
      );
    case 'watch':
      return said('Watch', row.phase === 'heat' ? 'for the first boil-over' : 'for a boil-over');
    case 'add':
      return items('Add');
    case 'flame out':
      return said('Flame out:', 'the boil is over');
    case 'stand': {
      const fall = `let it fall to ${given(row.at_C)}, cover and leave it`;
      return said('Stand:', fall, durationText(row.minutes), `${fall} for ${durationText(row.minutes)}`);
    }
    case 'ready': {
      const ice = row.ice_kg === null ? null : iceText(row.ice_kg, units);
      const ready = (bath: string): string =>
        [...(row.bath ? [bath] : []), 'yeast out of the cold', 'jar, hydrometer'].join('; ');
      return ice === null
        ? said('Ready:', ready('tub, cold water'))
        : said('Ready:', ready('tub, cold water, ice'), ice, ready(`tub, cold water, ${ice} ice`));
    }
    case 'coil in':
      return said('Coil in:', 'it boils clean until the end');
    case 'chill': {
      const to = `to ${degrees(row.to_C)}, lid on`;
      const time = durationText(row.minutes);
      const ice =
        row.ice_kg === null || row.bath_C === null
          ? null
          : `in water to ${degrees(row.bath_C)}, then ${iceText(row.ice_kg, units)} ice`;
      return said(
        'Chill',
        to,
        ice,
        row.coil
          ? `to ${degrees(row.to_C)} with cold water through the coil, ${time}`
          : words(`${to}, ${time}`, ice === null ? null : `(${ice})`),
      );
    }
    case 'transfer':
      return said(
        'Pour',
        'into the fermenter, leave the trub behind',
        volume(row.volume_L),
        `${volume(row.volume_L)} into the fermenter, leave the trub behind`,
      );
    case 'top up': {
      const amount = volume(row.volume_L);
      const at = row.at_C === null ? '' : ` at ${degrees(row.at_C)}`;
      return said(
        'Top up',
        `with boiled and chilled water${at}, to ${volume(row.to_L)}`,
        amount,
        `with ${amount} of cold water, to ${volume(row.to_L)}`,
      );
    }
    case 'read':
      return said(
        'Read',
        'volume, gravity and the temperature of the sample',
        null,
        'volume, gravity and sample temperature',
      );
    case 'air':
      return said(
        'Air in:',
        'shake or stir air in, now that it is cool',
        null,
        'shake or stir hard for two minutes, now that it is cool',
      );
    case 'pitch':
      return items('Pitch');
    case 'seal':
      return said('Close:', 'lid on, airlock on and filled');
  }
}

/** A row of the timetable as act and rest, a sentence. */
export function rowWords(row: TimetableRow, voice: Voice): StepWords {
  const { act, rest } = actWords(row, voice);
  return { act, rest: sentence(rest) };
}

/** What a row is about and its amount apart, as `plan.json` has them: with ordinary spaces. */
export function rowParts(
  row: TimetableRow,
  voice: Voice,
): { readonly what: string; readonly amount: string | null } {
  const { what, amount } = actWords(row, voice);
  return { what: breaking(what), amount: amount === null ? null : breaking(amount) };
}

/** A row of the timetable as one short imperative sentence. */
export function rowSentence(row: TimetableRow, voice: Voice): string {
  const { act, rest } = rowWords(row, voice);
  return words(act, rest);
}

/** `1 batch`, `3 batches`, never parted by the end of a line. */
export const counted = (n: number, one: string, many: string): string => `${n}\u00a0${n === 1 ? one : many}`;

/** `Batch 12, 14 Feb 2026`: number and day where there are any. */
export function batchLine(
  batch: { readonly number: number | null; readonly brewed: string | null },
  language: string,
): string {
  const number = batch.number === null ? null : `Batch\u00a0${batch.number}`;
  const day = batch.brewed === null ? null : dateText(batch.brewed, language);
  return [number, day].filter((part) => part !== null).join(', ');
}

/** What American English spells, or says, in another way; the tables and sentences here are in British English. */
const AMERICAN: readonly (readonly [british: string, american: string])[] = [
  ['sanitis', 'sanitiz'],
  ['colour', 'color'],
  ['litre', 'liter'],
  ['tin opener', 'can opener'],
];

/** Words of ours in the English of the brewer; what a brewer wrote never goes through here. */
export const spelled = (text: string, language: string): string =>
  language === 'en-US'
    ? AMERICAN.reduce(
        (all, [british, american]) =>
          all.replaceAll(british, american).replaceAll(capital(british), capital(american)),
        text,
      )
    : text;
