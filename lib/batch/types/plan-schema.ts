import { z } from 'zod';
import { PHASES } from './acts.ts';
import { FERMENTATION_STATES, LEVELS } from './judgment.ts';
import { USED_KEYS } from './learning.ts';
import { TARGET_KEYS, type TargetKey } from './targets.ts';

const text = z.string();
const number = z.number();
const maybe = z.nullable;

const figure = z
  .strictObject({
    value: number.describe('Unrounded.'),
    low: number.describe('value − 2u, the reading instrument’s own u included where the target is read.'),
    high: number.describe('value + 2u.'),
    printed: z
      .strictObject({ low: number, high: number })
      .describe('The range rounded outward, as the sheet prints it.'),
    contributors: z.array(z.strictObject({ input: text, share: number.min(0).max(1) })),
  })
  .meta({ id: 'figure' });

const { contributors: _, ...printedShape } = figure.shape;
/** Figures as a sheet said them. */
export const printedFigures = z.partialRecord(z.enum(TARGET_KEYS), z.strictObject(printedShape));

const targetShape = Object.fromEntries(TARGET_KEYS.map((key) => [key, maybe(figure)])) as Record<
  TargetKey,
  z.ZodNullable<typeof figure>
>;
const targets = z.strictObject(targetShape);

const verdict = z.strictObject({
  value: maybe(number).describe('Reduced to 20 °C and SG 20/20; null where it was not taken.'),
  verdict: maybe(z.enum(['fine', 'a_little_off', 'off', 'not_taken'])),
  target: maybe(z.enum(TARGET_KEYS)),
  likeliest_cause: maybe(text),
  doubted: z
    .exactOptional(z.literal(true))
    .describe('Another reading contradicts it: nothing is worked out or learned from it.'),
});

/** One description of `plan.json`, from which its published JSON Schema is made. */
export const planSchema = z
  .strictObject({
    version: z.literal(1),
    slug: text,
    title: text,
    revision: text.describe('Short hash of recipe, setup and targets; it is on every sheet.'),
    setup: z.strictObject({ key: text, title: text }),
    targets: targets.describe('Every key is always present; null where it does not apply.'),
    timetable: z.array(
      z.strictObject({
        phase: z.enum(PHASES),
        minutes_left: maybe(number).describe('Minutes left of the boil; null outside it.'),
        minute: number.describe('Minutes after the kettle goes on; negative before.'),
        action: text,
        what: text.describe('A thing or a plain sentence.'),
        amount: maybe(text).describe(
          'As the brewer wrote it, or in the brewer’s units; null where there is none.',
        ),
        clock: maybe(text).describe('Clock time due where the batch has a start.'),
        items: z.array(text).describe('Recipe items that it uses, as key paths below `recipe`: `hops[1]`.'),
      }),
    ),
    bitterness: z.array(
      z.strictObject({
        what: text,
        item: text.describe('`hops[1]` or `extract[0]`.'),
        equivalent_minutes: maybe(number),
        mean_gravity: maybe(number),
        utilisation: maybe(number),
        ibu: maybe(number),
        remark: maybe(text).describe('Why no bitterness is counted, or whose figure it is; null elsewhere.'),
      }),
    ),
    kettle: z
      .array(z.strictObject({ minutes_left: number, volume_l: number, gravity: number }))
      .describe(
        'One row a minute from the boil’s start to 0 left, volumes at 20 °C, after that minute’s additions.',
      ),
    pauses: z
      .array(z.strictObject({ minutes_left: number, minutes: number }))
      .describe('Minutes left at which the flame is off, and how long it takes to boil again.'),
    corrections: z.array(
      z.strictObject({
        from: maybe(number).describe('Gravity read, SG 20/20, in printed steps.'),
        to: maybe(number),
        meaning: z.enum(['far below', 'below', 'fine', 'above', 'far above']),
        add_water_l: maybe(number),
        add_extract_g: maybe(number),
        boil_on_min: maybe(number),
      }),
    ),
    sample_corrections: z
      .array(z.strictObject({ temperature_c: number, add: number }))
      .describe('Temperature of a sample, and the SG to add to what the hydrometer shows.'),
    priming: maybe(
      z.strictObject({
        sugar: text,
        carbonation_vol: number,
        temperatures_c: z.array(number),
        rows: z.array(
          z.strictObject({ volume_l: number, sugar_g: z.array(number).describe('By temperature.') }),
        ),
      }),
    ),
    yeast: z.array(
      z.strictObject({
        name: text,
        wanted_billion: number.describe('Cells.'),
        wanted_g: maybe(z.strictObject({ low: number, high: number })).describe(
          'Dry yeast, by which its packs go; null for the rest.',
        ),
        packs: number,
        pack: text,
      }),
    ),
    label: maybe(
      z.strictObject({
        original_gravity: maybe(number),
        final_gravity: maybe(number),
        volume_l: maybe(number),
        reachable_gravity: maybe(number).describe("What the recipe's extract gives in the label's volume."),
        volume_for_label_l: maybe(number).describe("The volume in which it gives the label's gravity."),
      }),
    ).describe("A kit's label, and why the plan differs; null where the recipe has none."),
    assumed: z.array(z.strictObject({ key: text, value: text, reason: text })),
    learned: z
      .exactOptional(
        z.array(
          z.strictObject({
            key: z.enum(USED_KEYS),
            yeast: z.exactOptional(text).describe('Whose attenuation it is.'),
            value: number.describe('In kW, L/h, L, L/kg, min, or a share.'),
            u: number.describe('Standard uncertainty of the next brew.'),
            batches: number,
            setup_value: number.describe('What the setup says; of a yeast, what is stated of it.'),
          }),
        ),
      )
      .describe(
        'Figures of the setup learned from earlier batches, used where the setup says so; absent otherwise.',
      ),
    printed: z
      .exactOptional(z.strictObject({ revision: text, targets: printedFigures }))
      .describe('The printed sheet, where it was kept: readings are compared with it.'),
    readings: z.record(text, verdict).describe('By key below `readings`, reduced to 20 °C.'),
    judgments: z
      .array(z.strictObject({ key: text, level: z.enum(LEVELS), cause: maybe(text), do: maybe(text) }))
      .describe('What is said of the readings, in the order of the day; `key` is one of `readings`.'),
    bottles: maybe(
      z.array(
        z.strictObject({
          level: z.enum(LEVELS),
          grade: z.enum(['A', 'B', 'C']),
          likely_vol: number,
          at_most_vol: number.describe('Upper end, one-sided 95 %.'),
          limit_vol: number.describe('What the bottles are made for, 3 assumed.'),
        }),
      ),
    ).describe(
      'By bottled part; null where nothing is bottled, neither a gravity nor the sugar was read, or it plainly still ferments.',
    ),
    as_brewed: maybe(z.strictObject(targetShape).partial()).describe(
      'Targets recomputed from what was read.',
    ),
    finish: maybe(
      z.strictObject({
        days: number.describe(
          'For which readings must agree; twice as many where the last is a point lower.',
        ),
        apart: number.describe('How far apart they may lie, SG.'),
        expected_gravity: number.describe('As expected of the wort that was brewed.'),
        finished_at_most: number.describe('Flat at or below this, the beer is finished.'),
        nearly_at_most: number.describe(
          'Flat at or below this, it is nearly finished; above, it has stopped high.',
        ),
      }),
    ).describe('When it counts as finished; null without yeast.'),
    fermentation: z
      .exactOptional(
        maybe(
          z.strictObject({
            state: z.enum(FERMENTATION_STATES),
            next: maybe(text).describe('Day of the next reading.'),
            as_of: maybe(text).describe(
              'The day of the plan, where it put off a reading that was due earlier.',
            ),
          }),
        ),
      )
      .describe('Whether it is finished, by its log; null without one.'),
    fermentation_curve: z
      .exactOptional(
        z.strictObject({
          model: text.describe('Where the curve’s equation is published.'),
          pitched: text.describe(
            'When the yeast went in; days count from it, from noon where it has no hour.',
          ),
          readings: z
            .array(
              z.strictObject({ key: text, day: number, gravity: number, u: number, outlier: z.boolean() }),
            )
            .describe(
              'Gravities that it was fitted to, by key below `readings`; an outlier is too far off to count in full.',
            ),
          end_gravity: z
            .strictObject({
              value: number,
              low: number,
              high: number,
              printed: z.strictObject({ low: number, high: number }),
            })
            .describe('Where the gravity is expected to end: SG 20/20, ± 2u.'),
          end_day: maybe(z.strictObject({ expected: text, earliest: text, latest: text })).describe(
            'Day from which less is left to fall than a reading shows; null where the readings do not tell.',
          ),
          points: z
            .array(z.strictObject({ day: number, gravity: number, low: number, high: number }))
            .describe('Days from pitching and SG, with the band of ± 2u.'),
        }),
      )
      .describe(
        'The curve fitted to the log: what to expect, never a verdict; absent without two days of readings that show a fall.',
      ),
    swatch: maybe(z.strictObject({ srgb: z.string().regex(/^#[0-9a-fA-F]{6}$/) })),
    warnings: z.array(z.strictObject({ code: text, key: text, message: text })),
  })
  .meta({
    title: 'Kettleside plan',
    description:
      'Everything computed for a batch. SI-based units; volumes at 20 °C unless the key says hot; pressures above ambient.',
  });

/** The JSON Schema (2020-12) that is published beside the plans. */
export function planJsonSchema(): Record<string, unknown> {
  return z.toJSONSchema(planSchema, { target: 'draft-2020-12', io: 'input' }) as Record<string, unknown>;
}
