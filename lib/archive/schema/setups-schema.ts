import { z } from 'zod';
import type { Units } from '../../units/dimension.ts';
import { POSSIBLE, quantities } from './quantities.ts';
import { choice, decimal, line } from './scalars.ts';

export const CHILLERS = ['ice bath', 'cold-water bath', 'coil', 'none'] as const;

function build(units: Units) {
  const q = quantities(units);
  const part = (description: string, sample: string) =>
    q.percent(description, POSSIBLE.percent, sample).nullish();
  return z.strictObject({
    title: line('Name of the kit.', 'Gas ring and the 15 L pot').nullish(),
    kettle: q.volume('The kettle, to the brim.', POSSIBLE.volume, '15 L'),
    heat: q.power('Heat that reaches the liquid.', POSSIBLE.power, '1.8 kW').nullish(),
    heats: z
      .strictObject({
        volume: q.volume('Water that was heated.', POSSIBLE.volume, '10 L'),
        from: q.temperature('Its temperature before.', POSSIBLE.liquor, '20 °C'),
        to: q.temperature('Its temperature after.', POSSIBLE.liquor, '95 °C'),
        in: q.time('How long it took.', POSSIBLE.heating, '45 min'),
      })
      .nullish()
      .describe('Instead of heat: how long your stove takes for so much water.'),
    boil_off: q.volumeRate('Evaporation at the boil.', POSSIBLE.boilOff, '2.2 L/h').nullish(),
    kettle_loss: q.volume('Wort left behind with the trub.', POSSIBLE.volumeOrNone, '0.5 L').nullish(),
    hop_absorption: q.absorption('Wort that the hops hold.', POSSIBLE.absorption, '6 L/kg').nullish(),
    grain_absorption: q
      .absorption('Water that the grain holds, drained, not squeezed.', POSSIBLE.absorption, '0.9 L/kg')
      .nullish(),
    fermenter: q.volume('The fermenter, to the brim.', POSSIBLE.volume, '25 L').nullish(),
    fermenter_loss: q.volume('Beer left on the yeast.', POSSIBLE.volumeOrNone, '0.7 L').nullish(),
    steep_efficiency: part("Share of the grain's laboratory extract that a steep gives.", '50 %'),
    mash_efficiency: part("Share of the grain's laboratory extract that a mash gives.", '70 %'),
    chill: z
      .strictObject({
        to: q.temperature('How far this kit chills before top-up.', POSSIBLE.liquor, '22 °C').nullish(),
        in: q.time('How long it takes.', POSSIBLE.time, '25 min').nullish(),
        with: choice(CHILLERS, 'What chills.').nullish(),
      })
      .nullish()
      .describe('Chilling.'),
    water_temperature: q.temperature('Water from the tap.', POSSIBLE.liquor, '12 °C').nullish(),
    top_up_temperature: q.temperature('Water to top up with.', POSSIBLE.liquor, '8 °C').nullish(),
    room_temperature: q.temperature('The room.', POSSIBLE.beer, '20 °C').nullish(),
    altitude: q.altitude('Height above the sea.', POSSIBLE.altitude, '150 m').nullish(),
    hydrometer: z
      .strictObject({
        at: q.temperature('Temperature that it is calibrated at.', POSSIBLE.liquor, '20 °C').nullish(),
        step: decimal('Its graduation.', 0.0001, 0.02, '0.002').nullish(),
      })
      .nullish()
      .describe('The hydrometer.'),
    refractometer_factor: q
      .factor('Correction factor of the refractometer.', POSSIBLE.factor, '1.04')
      .nullish(),
    sanitiser: z
      .strictObject({
        dose: q.dose('Dose, from its label.', POSSIBLE.dose, '1.5 ml/L'),
        make: q.amount('How much is made up.', '8 L').nullish(),
        note: line('What else its label says.', 'as on your label').nullish(),
      })
      .nullish()
      .describe('The sanitiser, by its own label.'),
    uncertainty: z
      .strictObject({
        kettle_mark: q
          .volume("Standard uncertainty of the kettle's marks.", POSSIBLE.volume, '0.3 L')
          .nullish(),
        fermenter_mark: q
          .volume("Standard uncertainty of the fermenter's marks.", POSSIBLE.volume, '0.3 L')
          .nullish(),
        scale: part('Standard uncertainty of the scale, share of the weight.', '1 %'),
        thermometer: q.temperatureStep('Standard uncertainty of the thermometer.').nullish(),
      })
      .nullish()
      .describe('How well your instruments can be read.'),
    learned: choice(
      ['show', 'use'],
      'Whether figures learned from your batches are shown, or used.',
    ).nullish(),
  });
}

const built: Partial<Record<Units, ReturnType<typeof build>>> = {};

export function setupSchema(units: Units): ReturnType<typeof build> {
  built[units] ??= build(units);
  return built[units];
}

export type SetupData = z.output<ReturnType<typeof build>>;
