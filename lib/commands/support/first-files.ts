import { FORMAT } from '../../archive/schema/brewery-schema.ts';
import { reasonOf, writtenAs } from '../../batch/model/assumed.ts';
import { SETUP_DEFAULTS, type SetupDefaultKey } from '../../batch/model/defaults.ts';
import { STOVES, type Stove } from '../../batch/model/stoves.ts';
import { formatSample, formatTemperature, formatVolumeRate } from '../../units/format/format.ts';
import { yamlText } from '../../units/yaml-text.ts';
import { at, plain } from './new-batch-text.ts';

/** Heat that takes a kilogram of boiling water away: 2256.5 kJ/kg at 1 atm, IAPWS-IF97. */
const BOIL_OFF_kWh_per_kg = 2256.5 / 3600;

/** What the questions of the first evening bring. */
export interface Kitchen {
  readonly name: string;
  readonly units: 'metric' | 'us';
  readonly paper: string;
  readonly pot: string;
  readonly stove: Stove;
  readonly fermenter: string;
  readonly chilling: string;
  readonly height: string;
}

/** The brewer's `brewery.yaml`, every key explained. */
export const breweryText = ({ name, units, paper }: Kitchen): string =>
  [
    '# Who brews, and in which words and units. Lines that begin with # are ignored until you take the # away.',
    at(`format: ${FORMAT}`, 'of these files; leave it as it is'),
    at(`name: ${yamlText(name)}`, 'heads pages and sheets'),
    at('# author: your name', 'shown on pages and feeds'),
    at(`units: ${units}`, 'metric or us: units of all that is worked out'),
    at(`paper: ${paper}`, 'a4 or letter'),
    at(`language: ${units === 'us' ? 'en-US' : 'en-GB'}`, 'en-US or en-GB: spelling, dates and clock'),
    at('# url: https://beer.example/', 'where the site will be; for feeds and links to share'),
    '',
  ].join('\n');

/** Figures that a beginner has not measured yet, in the order of the table. */
const LATER = (Object.keys(SETUP_DEFAULTS) as SetupDefaultKey[]).filter(
  (key) => !/\.|^(?:heat|boil_off|altitude|refractometer_factor)$/.test(key),
);

/** The brewer's `setups.yaml`: what was answered as keys, and what is assumed meanwhile behind a #, with its reason. */
export function setupsText({ units, pot, stove, fermenter, chilling, height }: Kitchen): string {
  const { heat_kW, u_kW } = STOVES[stove];
  const litres = (volume_L: number): string => plain(formatSample(volume_L, 'volume', units));
  const temp = (t_C: number): string => plain(formatTemperature(t_C, units));
  const assumed = (key: SetupDefaultKey): string => {
    const { value, label } = SETUP_DEFAULTS[key];
    const written = plain(writtenAs(key, value, units));
    return at(`  # ${key}: ${written}`, `${label}: ${reasonOf(key, units)}`);
  };
  return [
    '# Your pots, each under a name of its own: add another below with a name and at least its kettle.',
    '# What follows a # is assumed as it says there, and the sheet says so. When you have measured it, write your',
    '# figure and take the # away; ± behind a figure says how sure you are of it.',
    'stove:',
    at(
      `  title: ${yamlText(`${stove[0]?.toUpperCase()}${stove.slice(1)} and the ${pot} pot`)}`,
      'as sheets and pages call it',
    ),
    at(`  kettle: ${pot}`, 'to the brim'),
    at(`  heat: ${heat_kW} ± ${u_kW} kW`, 'what reaches the water: the usual figure of such a stove'),
    `  # Better than heat, and in its place: how long your own pot takes.`,
    `  # heats: { volume: ${litres(10)}, from: ${temp(20)}, to: ${temp(95)}, in: 45 min }`,
    boilOffLine(heat_kW, units),
    at(`  fermenter: ${fermenter}`, 'to the brim'),
    at(`  chill: { with: ${chilling} }`, 'ice bath, cold-water bath, coil or none'),
    `  # chill: { to: ${temp(22)}, in: 40 min, with: ${chilling} }   # as it was the last time`,
    at(`  altitude: ${height}`, 'above the sea; it moves the boiling point'),
    ...LATER.map(assumed),
    at(
      `  # hydrometer: { at: ${temp(20)}, step: 0.002 }`,
      'temperature it is made for, and what one line of it is',
    ),
    at('  # refractometer_factor: 1.04', 'where you have one'),
    `  # sanitiser: { dose: ${plain(formatSample(1.5, 'dose', units))}, make: ${litres(8)}, note: as on your label }`,
    at('  # learned: show', 'use: plan with what your own batches have shown'),
    '',
  ].join('\n');
}

/** A ring cannot boil away more than its heat turns into steam: a weak one is given that, others the usual figure. */
function boilOffLine(heat_kW: number, units: Kitchen['units']): string {
  const most_L_per_h = Math.floor((10 * heat_kW) / BOIL_OFF_kWh_per_kg) / 10;
  const { value } = SETUP_DEFAULTS.boil_off;
  const text = (rate: number): string => plain(formatVolumeRate(rate, units));
  if (most_L_per_h >= value - 0.4) return at(`  # boil_off: ${text(value)}`, reasonOf('boil_off', units));
  return at(`  boil_off: ${text(most_L_per_h)}`, 'the most that so much heat boils away');
}
