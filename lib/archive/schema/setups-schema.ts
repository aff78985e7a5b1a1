import { z } from 'zod';
import { POSSIBLE } from '../../units/parse/possible.ts';
import { quantities } from './quantities.ts';
import { choice, decimal, line } from './scalars.ts';
import { byUnits, optional } from './shapes.ts';

export const CHILLERS = ['ice bath', 'cold-water bath', 'coil', 'none'] as const;

/** A group of which every key may be left out. */
const group = <S extends Readonly<Record<string, z.ZodType>>>(description: string, keys: S) =>
  z.strictObject(optional(keys)).describe(description);

/** One setup of `content/setups.yaml`. */
export const setupSchema = byUnits((units) => {
  const q = quantities(units);
  const heats = z.strictObject({
    volume: q.volume('Water that was heated.', 10),
    from: q.temperature('Its temperature before.', 20),
    to: q.temperature('Its temperature after.', 95),
    in: q.time('How long it took.', '45 min', POSSIBLE.heating),
  });
  const sanitiser = z.strictObject({
    dose: q.dose('Dose, from its label.', 1.5),
    ...optional({
      make: q.amount('How much is made up.', q.shown(8, 'volume')),
      note: line('What else its label says.', 'as on your label'),
    }),
  });
  return z.strictObject({
    title: line('Name of the setup.', 'Gas ring and the 15 L pot').nullish(),
    kettle: q.volume('The kettle, to the brim.', 15),
    ...optional({
      heat: q.power('Heat that reaches the liquid.', '1.8 kW'),
      heats: heats.describe('Instead of heat: how long your stove takes for so much water.'),
      boil_off: q.volumeRate('Boil-off: what leaves as steam in an hour of boiling.', 2.2),
      kettle_loss: q.volume('Wort left behind with the trub.', 0.5, POSSIBLE.volumeOrNone),
      hop_absorption: q.absorption('Wort that the hops hold.', 6),
      grain_absorption: q.absorption('Water that the grain holds, drained, not squeezed.', 0.9),
      fermenter: q.volume('The fermenter, to the brim.', 25),
      fermenter_loss: q.volume('Beer left on the yeast.', 0.7, POSSIBLE.volumeOrNone),
      steep_efficiency: q.percent("Share of the grain's laboratory extract that a steep gives.", '50 %'),
      mash_efficiency: q.percent("Share of the grain's laboratory extract that a mash gives.", '70 %'),
      chill: group('Chilling.', {
        to: q.temperature('How far it chills before top-up.', 22),
        in: q.time('How long it takes.', '25 min'),
        with: choice(CHILLERS, 'What chills.'),
      }),
      water_temperature: q.temperature('Water from the tap.', 12),
      top_up_temperature: q.temperature('Water to top up with.', 8),
      room_temperature: q.temperature('The room.', 20, POSSIBLE.beer),
      altitude: q.altitude('Height above the sea.', 150),
      hydrometer: group('The hydrometer.', {
        at: q.temperature('Temperature that it is calibrated at.', 20),
        step: decimal('Its graduation.', 0.0001, 0.02, '0.002'),
      }),
      refractometer_factor: q.factor('Correction factor of the refractometer.', '1.04'),
      sanitiser: sanitiser.describe('The sanitiser, by its own label.'),
      uncertainty: group('How well your instruments can be read.', {
        kettle_mark: q.volume("Standard uncertainty of the kettle's marks.", 0.3),
        fermenter_mark: q.volume("Standard uncertainty of the fermenter's marks.", 0.3),
        scale: q.percent('Standard uncertainty of the scale, share of the weight.', '1 %'),
        thermometer: q.temperatureStep('Standard uncertainty of the thermometer.', 0.5),
      }),
      learned: choice(['show', 'use'], 'Whether figures learned from your batches are shown, or used.'),
    }),
  });
});

export type SetupData = z.output<ReturnType<typeof setupSchema>>;
