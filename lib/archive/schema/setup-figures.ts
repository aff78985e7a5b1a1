import { hydrometerUncertainty, SETUP_DEFAULTS, type SetupDefaultKey } from '../../batch/model/defaults.ts';
import { brimFigure, statedFigure } from '../../batch/model/stated-figure.ts';
import type { Setup, SetupFigure } from '../../batch/types/setup.ts';
import type { Given } from '../../units/parse/given.ts';
import type { SetupData } from './setups-schema.ts';

type Maybe = Given<number> | null | undefined;

/** Specific heat of water, kJ/(kg K), and density, kg/L, between 20 and 95 °C to half a percent (CRC Handbook). */
const WATER_kJ_PER_kgK = 4.19;
const WATER_KG_PER_L = 0.998;
/** A kitchen clock read twice. */
const ASSUMED_CLOCK_u_MIN = 0.5;

/** A setup with every figure the brewer's own or the marked default. */
export function setupFrom(key: string, data: SetupData): Setup {
  const water = statedFigure('water_temperature', data.water_temperature);
  const topUp = data.top_up_temperature ? statedFigure('top_up_temperature', data.top_up_temperature) : water;
  return {
    key,
    title: data.title ?? key,
    kettle_L: brimFigure(data.kettle),
    heat_kW: heat(data),
    boilOff_L_per_h: statedFigure('boil_off', data.boil_off),
    kettleLoss_L: statedFigure('kettle_loss', data.kettle_loss),
    hopAbsorption_L_per_kg: statedFigure('hop_absorption', data.hop_absorption),
    grainAbsorption_L_per_kg: statedFigure('grain_absorption', data.grain_absorption),
    fermenter_L: data.fermenter ? brimFigure(data.fermenter) : null,
    fermenterLoss_L: statedFigure('fermenter_loss', data.fermenter_loss),
    steepEfficiency: statedFigure('steep_efficiency', data.steep_efficiency),
    mashEfficiency: statedFigure('mash_efficiency', data.mash_efficiency),
    chill: {
      to_C: statedFigure('chill.to', data.chill?.to),
      in_min: statedFigure('chill.in', data.chill?.in),
      with: data.chill?.with ?? 'cold-water bath',
      assumed: !data.chill?.with,
    },
    waterTemperature_C: water,
    topUpTemperature_C: data.top_up_temperature ? topUp : { ...topUp, assumed: true },
    roomTemperature_C: statedFigure('room_temperature', data.room_temperature),
    altitude_m: statedFigure('altitude', data.altitude),
    hydrometer: hydrometer(data),
    refractometerFactor: statedFigure('refractometer_factor', data.refractometer_factor),
    sanitiser: data.sanitiser
      ? {
          dose_ml_per_L: data.sanitiser.dose.value,
          doseWritten: data.sanitiser.dose.written,
          make: data.sanitiser.make ?? null,
          note: data.sanitiser.note ?? null,
        }
      : null,
    instruments: {
      kettleMark_L: mark('uncertainty.kettle_mark', data.uncertainty?.kettle_mark),
      fermenterMark_L: mark('uncertainty.fermenter_mark', data.uncertainty?.fermenter_mark),
      scale: mark('uncertainty.scale', data.uncertainty?.scale),
      thermometer_C: mark('uncertainty.thermometer', data.uncertainty?.thermometer),
    },
    learned: data.learned ?? 'show',
  };
}

/** An instrument's uncertainty: the figure itself stays at its neutral value. */
function mark(key: SetupDefaultKey, given: Maybe): SetupFigure {
  const assumed = SETUP_DEFAULTS[key];
  return given
    ? { value: assumed.value, u: given.value, written: given.written, assumed: false }
    : { value: assumed.value, u: assumed.u, written: null, assumed: true };
}

/**
 * Power into the liquid from how long it took to warm so much water: P = m · c · ΔT / t, with its uncertainty from
 * the volume mark, two thermometer readings and the clock by the law of propagation (JCGM 100, 5.1.2).
 */
function heat(data: SetupData): SetupFigure {
  if (data.heat) return statedFigure('heat', data.heat);
  if (!data.heats) return statedFigure('heat', null);
  const { volume, from, to, in: time } = data.heats;
  const rise_K = to.value - from.value;
  const value = (volume.value * WATER_KG_PER_L * WATER_kJ_PER_kgK * rise_K) / (time.value * 60);
  const thermometer = data.uncertainty?.thermometer?.value ?? SETUP_DEFAULTS['uncertainty.thermometer'].u;
  const kettleMark = data.uncertainty?.kettle_mark?.value ?? SETUP_DEFAULTS['uncertainty.kettle_mark'].u;
  const relative = Math.hypot(
    (volume.u ?? kettleMark) / volume.value,
    Math.hypot(from.u ?? thermometer, to.u ?? thermometer) / rise_K,
    (time.u ?? ASSUMED_CLOCK_u_MIN) / time.value,
  );
  const written = `${volume.written} from ${from.written} to ${to.written} in ${time.written}`;
  return { value, u: value * relative, written, assumed: false };
}

function hydrometer(data: SetupData): Setup['hydrometer'] {
  const step = data.hydrometer?.step ?? SETUP_DEFAULTS['hydrometer.step'].value;
  return {
    at_C: statedFigure('hydrometer.at', data.hydrometer?.at),
    step,
    u: hydrometerUncertainty(step),
    assumed: !data.hydrometer?.step,
  };
}
