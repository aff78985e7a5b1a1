/** The stove's heat and the chill's minutes, worked back from the clock. */
import { OutOfRange } from '../../formulas/range.ts';
import { ASSUMED_STIR_MIN } from '../model/defaults.ts';
import { TARGET_INDEX as T } from '../model/target-vector.ts';
import { ASSUMED_SPAN_u_MIN, elapsed } from '../readings/boil-clock.ts';
import { type Evidence, inputsOf, reading } from './evidence.ts';
import { type Measured, measure, type ReadingInput } from './measure.ts';

/** Shorter than this, a span tells more of the pencil than of the stove. */
const SHORTEST_SPAN_MIN = 5;
/** How far chills of the same setup differ by volume, stirring and changes of water. Common practice, no source. */
const ASSUMED_CHILL_SPREAD = 0.12;
/** A tub of ice and water about the pot. Common practice, no source. */
const ASSUMED_ICE_BATH = { value: 4, u: 3 } as const;

const span = (minutes: number): ReadingInput => ({
  name: 'minutes by the clock',
  value: minutes,
  u: ASSUMED_SPAN_u_MIN,
});

/** What the plan wanted in a first heating: energy at the planned rise, and what was read at its end. */
interface Heating {
  readonly energy_kJ: number;
  /** By the clock; 0 where it was not read. */
  readonly minutes: number;
  /** Planned temperature at its end; null: boiling. */
  readonly top_C: number | null;
  readonly target_C: number;
  readonly water_L: number;
  readonly soaked: ReadingInput | null;
}

function firstHeating(from: Evidence): Heating {
  const { batch, c, outcome, detail } = from;
  const { readings } = batch;
  const heat = (minutes: number) => minutes * 60 * c.heat_kW;
  const soak = c.mash ?? c.steep;
  if (soak) {
    const planned_min = c.mash ? (detail.thermal.minutesToStrike ?? 0) : outcome[T.minutes_to_steep]!;
    const top_C = outcome[c.mash ? T.strike_water_c : T.steep_water_c]!;
    const minutes = elapsed(readings.heating_started, c.mash ? readings.mash_in : readings.steep_in) ?? 0;
    const water_L = soak.water_L ?? c.waterToHeat_L - c.rinse_L;
    const soaked = reading(from, c.mash ? 'mash_temperature' : 'steep_temperature');
    return { energy_kJ: heat(planned_min), minutes, top_C, target_C: soak.target_C, water_L, soaked };
  }
  const minutes = elapsed(readings.heating_started, readings.boil_started) ?? 0;
  const pause = detail.thermal.pauses.find(({ timeIndex }) => timeIndex === 0);
  const stirred_min = pause === undefined ? 0 : ASSUMED_STIR_MIN;
  return {
    energy_kJ: heat(outcome[T.minutes_to_boil]! + (pause?.minutes ?? 0)),
    minutes: minutes - stirred_min,
    top_C: null,
    target_C: detail.boil_C,
    water_L: c.waterToHeat_L,
    soaked: null,
  };
}

/**
 * Heat that reaches the liquid, from the first heating of the day.
 *
 * Formula: energy of the planned heating × (rise that was had ÷ rise that was planned) ÷ (60 × minutes by the clock).
 * Source: definition of power. Derived.
 * Range: `heating_started` and the moment of the grain (or of the boil, without grain), at least 5 minutes apart; result in kW;
 *   else null.
 * Uncertainty: the clock, the mark that the water was filled to, the tap water, the thermometer.
 * Cases: tests/batch/learning/worked-back.test.ts.
 */
export function heatPower(from: Evidence): Measured | null {
  const heating = firstHeating(from);
  if (!(heating.minutes >= SHORTEST_SPAN_MIN) || !(heating.water_L > 0)) return null;
  const { c, batch } = from;
  const top_C = heating.top_C ?? heating.target_C;
  const planned_K = top_C - c.water_C;
  const mark = batch.setup.instruments.kettleMark_L.u / heating.water_L;
  const filled: ReadingInput = { name: 'water filled in', value: 1, u: mark };
  const soaked = heating.soaked ?? { name: 'end of the heating', value: heating.target_C, u: 0 };
  return measure(
    [span(heating.minutes), filled, soaked],
    c,
    inputsOf(from, 'water_C'),
    ([minutes = 0, share = 1, soaked_C = 0], now) => {
      const rise_K = top_C + (soaked_C - heating.target_C) - now.water_C;
      return (heating.energy_kJ * share * (rise_K / planned_K)) / (60 * minutes);
    },
  );
}

/** How far one chill of the same setup ends from another, K. Common practice, no source. */
const ASSUMED_END_SPREAD_K = 2;

/**
 * How far the setup chills, where it was asked to chill as far as it does; a wort that cold top-up water may finish tells nothing.
 *
 * Formula: the temperature read.
 * Range: `chilled` read, and asked for no more than a degree above the setup's `chill.to`, or ended above what was asked; result
 *   in °C; else null.
 * Uncertainty: the thermometer, and 2 K from one chill to the next (assumed).
 * Cases: tests/batch/learning/worked-back.test.ts.
 */
export function chilledTo(from: Evidence): Measured | null {
  const reached = reading(from, 'chilled.temperature');
  const { c, outcome } = from;
  const asked_C = outcome[T.chill_to_c]!;
  if (!reached || !(asked_C <= c.chillTo_C + 1 || reached.value > asked_C + 1)) return null;
  const spread: ReadingInput = { name: 'this chill', value: 0, u: ASSUMED_END_SPREAD_K };
  return measure([reached, spread], c, [], ([t_C = 0, by_K = 0]) => t_C + by_K);
}

/**
 * Minutes that the chill takes down to the setup's own `chill.to`.
 *
 * Formula: minutes by the clock × ln((Tb − Tc)/(Tto − Tc)) ÷ ln((Tb − Tc)/(T − Tc)), Tb boiling, Tc the cold side,
 *   T what it was chilled to.
 * Source: Newton's law of cooling (1701), the bath's temperature taken as steady. From memory.
 * Range: `boil_ended` and `chilled` read, both temperatures at least 2 K above the cold side; result in minutes; else null.
 * Uncertainty: the clock, the thermometer, the cold side, and 12 % for what a bath does differently each time (assumed).
 * Cases: tests/batch/learning/worked-back.test.ts.
 */
export function chillMinutes(from: Evidence): Measured | null {
  const { batch, c, detail } = from;
  const { boil_ended, chilled } = batch.readings;
  const reached = reading(from, 'chilled.temperature');
  if (!reached || !chilled || chilled === 'not taken') return null;
  const minutes = (elapsed(boil_ended, chilled.at) ?? 0) - c.standMinutes;
  if (!(minutes >= SHORTEST_SPAN_MIN)) return null;
  const top_C = c.standMinutes > 0 ? c.stand_C : detail.boil_C;
  const { with: how } = batch.setup.chill;
  const cold = coldSide(from, how);
  const spread: ReadingInput = { name: 'this chill', value: 1, u: ASSUMED_CHILL_SPREAD };
  return measure(
    [span(minutes), reached, cold, spread],
    c,
    [],
    ([time = 0, t_C = 0, cold_C = 0, factor = 1]) => {
      const wanted_C = c.chillTo_C;
      if (t_C < cold_C + 2 || wanted_C < cold_C + 2 || top_C <= t_C)
        throw new OutOfRange('colder than its bath');
      const whole = Math.log((top_C - cold_C) / (wanted_C - cold_C));
      return (factor * time * whole) / Math.log((top_C - cold_C) / (t_C - cold_C));
    },
  );
}

function coldSide({ batch }: Evidence, how: Evidence['batch']['setup']['chill']['with']): ReadingInput {
  const { waterTemperature_C: water, roomTemperature_C: room } = batch.setup;
  switch (how) {
    case 'ice bath':
      return { name: 'the ice bath', ...ASSUMED_ICE_BATH, shared: true };
    case 'none':
      return { name: 'the room', value: room.value, u: room.u, shared: true };
    case 'coil':
    case 'cold-water bath':
      return { name: 'the tap water', value: water.value, u: water.u, shared: true };
  }
}
