import { z } from 'zod';
import { type Bounds, POSSIBLE, type Quantities } from './quantities.ts';
import { choice, clock, count, line, moment, score } from './scalars.ts';
import { oneOrMany, reading } from './shapes.ts';

/** The word that an addition was given by in the recipe: `60 min`, `flameout`. */
const additionName = () => line('Which addition: its minutes or word in the recipe.', '60 min');

/** One blank among those of a group. */
const part = <T extends z.ZodType>(schema: T) => reading(schema, schema.meta()?.description ?? '');

function packagedRow(q: Quantities) {
  return z.strictObject({
    on: moment('The day of packaging.'),
    into: choice(['bottles', 'keg'], 'Bottles or keg.').nullish(),
    volume: part(q.volumeReading('Beer that was packaged.', POSSIBLE.volume, '18 L')),
    temperature: part(q.temperature('Temperature of the beer.', POSSIBLE.beer, '18 °C')),
    sugar: part(q.mass('Priming sugar that went in.', POSSIBLE.massOrNone, '100 g')),
    bottles: part(count('How many bottles were filled.', 0, 100_000)),
    burst: part(count('How many bottles burst.', 0, 100_000)),
  });
}

/** The `readings:` of a batch file: what was written on the sheets. */
export function readingsSchema(q: Quantities) {
  const gravity = (description: string, sample: string) =>
    reading(q.gravity(description, sample), description);
  const time = (description: string) => reading(clock(description), description);
  const volume = (description: string, sample: string) =>
    reading(q.volumeReading(description, POSSIBLE.volumeOrNone, sample), description);
  const temperature = (description: string, sample: string, possible: Bounds = POSSIBLE.liquor) =>
    reading(q.temperature(description, possible, sample), description);
  const beer = (description: string, sample: string) =>
    part(q.temperature(description, POSSIBLE.beer, sample));
  return z
    .strictObject({
      heating_started: time('Clock time when the kettle went on.'),
      steep_in: time('Clock time when the grain went in.'),
      steep_temperature: temperature('Temperature with the grain in.', '67 °C'),
      steep_out: time('Clock time when the grain came out.'),
      mash_in: time('Clock time when the mash began.'),
      mash_temperature: temperature('Temperature of the mash.', '66 °C'),
      mash_out: time('Clock time when the mash ended.'),
      boil_started: time('Clock time when the countdown began.'),
      boil_start_volume: volume('Wort at the start of the boil, as the eye reads it, boiling hot.', '10.8 L'),
      boil_start_gravity: gravity('Gravity at the start of the boil.', '1.042 @ 45 °C'),
      additions: reading(
        z.array(
          z.strictObject({
            at: additionName(),
            what: line('Which of several at that moment, by its name.', 'yeast nutrient').nullish(),
            clock: z
              .union([z.literal('not taken'), z.literal('left out'), clock('Clock time when it went in.')])
              .describe('Clock time when it went in; `left out` where it never did.'),
          }),
        ),
        'When each addition went in.',
      ),
      boil_ended: time('Clock time when the flame went off.'),
      boil_end_volume: volume('Wort at the end of the boil, as the eye reads it, boiling hot.', '9.7 L'),
      boil_end_gravity: gravity('Gravity at the end of the boil.', '1.094 @ 25 °C'),
      chilled: reading(
        z.strictObject({
          at: part(clock('Clock time when it was cool.')),
          temperature: part(q.temperature('Temperature that was reached.', POSSIBLE.liquor, '24 °C')),
        }),
        'The end of chilling.',
      ),
      top_up: reading(
        z.strictObject({
          volume: part(q.volumeReading('Water that was added.', POSSIBLE.volumeOrNone, '10.5 L')),
          temperature: part(q.temperature('Its temperature.', POSSIBLE.liquor, '9 °C')),
        }),
        'Top-up water.',
      ),
      original_gravity: gravity('Gravity in the fermenter, before the yeast.', '1.044 @ 24 °C'),
      fermenter_volume: volume('Wort in the fermenter, at pitching temperature.', '19 L'),
      pitched: reading(
        z.strictObject({
          on: moment('When the yeast went in.'),
          temperature: beer('Temperature of the wort.', '19 °C'),
          yeast: part(q.amount('How much yeast.', '11 g')),
        }),
        'The pitching of the yeast.',
      ),
      fermentation: reading(
        z.array(
          z.strictObject({
            on: moment('When it was looked at.'),
            gravity: reading(q.gravity('Gravity.', '1.019 @ 20 °C'), 'Gravity.'),
            temperature: reading(
              q.temperature('Temperature of the beer.', POSSIBLE.beer, '19 °C'),
              'Temperature.',
            ),
            note: line('What was seen.', 'krausen falling').nullish(),
          }),
        ),
        'Readings during fermentation, by date.',
      ),
      warmest_after: temperature(
        'The warmest that the beer has been since fermentation stopped.',
        '20 °C',
        POSSIBLE.beer,
      ),
      fermented_out: gravity(
        'Gravity of a warm sample with fresh yeast, fermented to its end.',
        '1.010 @ 20 °C',
      ),
      final_gravity: gravity('Gravity when fermentation had finished.', '1.010 @ 19 °C'),
      packaged: reading(oneOrMany(packagedRow(q), 'Packaging.'), 'Packaging; a list where part was kegged.'),
      tasted: reading(
        z.array(
          z.strictObject({
            on: moment('The day of tasting.'),
            score: part(score('0 to 5, halves allowed.')),
            note: line('What it tasted of.', 'bread crust and a dry end').nullish(),
          }),
        ),
        'Tastings.',
      ),
      abandoned: z
        .strictObject({
          on: moment('The day on which the batch was given up.'),
          why: line('Why.', 'the fermenter fell over'),
        })
        .nullish()
        .describe('The batch was given up.'),
    })
    .describe('What was written on the sheets; each may be `not taken`.');
}

export type ReadingsData = z.output<ReturnType<typeof readingsSchema>>;
