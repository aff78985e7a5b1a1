import { type Catalogue, Findings } from '../../units/problem.ts';

const FULL = [
  'a kettle of {pot} that is {percent} % full at its fullest, hot',
  ['at most 85 %: {boil} of boil', 'at most 85 %, which no boil of this recipe keeps to'],
] as const;

/** Every problem that planning a batch can report. */
export const BATCH_PROBLEMS = {
  'boil-too-large': [
    'The boil leaves more wort than goes into the fermenter.',
    'a boil of {boil} leaves {surplus} more than the {written} that go into the fermenter: it stays in the pot, and {percent} % of the extract with it',
    'a boil of at most {largest}',
    '{keep}lower boil_volume to {largest}, or leave it out, or boil for longer',
  ],
  'kettle-overflows': ['The kettle would be over its brim.', ...FULL, '{ways}'],
  'kettle-nearly-full': [
    'The kettle is over 85 % full at its fullest.',
    ...FULL,
    'watch it closely, or {ways}',
  ],
  'boils-dry': [
    'Boil-off, trub and hops leave no wort.',
    [
      'extract takes all but {water} of the {boil} boil{from}; boil-off takes {evaporated}',
      'extract alone fills the {boil} boil{from}',
      'boil-off ({evaporated}), trub and hops ({lost}) take all of the {boil} boil',
      'boil-off ({evaporated}) takes all of the {boil} boil',
    ],
    'wort left to ferment',
    [
      'check the weights, boil a larger volume, or move extract{early} to a later addition',
      'boil a larger volume, or for a shorter time',
    ],
  ],
  'water-parts-exceed-total': [
    'Steep, mash and rinse water are more than the water to heat.',
    '{parts} for soaking and rinsing, of {total} to heat in all',
    'parts that add up to at most {total}',
    'use less water for the soak or the rinse, or a larger boil_volume',
  ],
  'more-extract-than-water': [
    'More extract than water.',
    [
      '{strength} °P of extract in the kettle{from}',
      'the extract alone fills the boil volume{from}: there is no water left to heat',
    ],
    ['at most {most} °P, half extract and half water', 'water to dissolve the extract in'],
    'check the weights, raise boil_volume, or move {what}',
  ],
  'stand-too-hot': [
    'A stand at or above the boil.',
    '"{written}", while water boils at {boils} here',
    'a temperature below {boils}',
    'lower the temperature of the stand',
  ],
  'soak-too-hot': [
    'A steep or mash at or above the boil, or one that would need such water.',
    [
      '"{written}", while water boils at {boils} here',
      'so little water for the grain that it would have to be at {needed}',
      '{water} of water, which cannot get hot enough',
    ],
    [
      'a temperature below {boils}; most soaks are between {low} and {high}',
      'water below its boiling point of {boils}',
      'water that covers the grain',
    ],
    [
      'lower the temperature of the {soak}',
      'use more water, or a lower temperature for the {step}',
      'use less water for the mash or the rinse{open}, or a larger boil_volume',
      'use more water for the steep, or leave its water out',
    ],
  ],
  'figure-out-of-range': [
    'A figure left the range in which its formula holds.',
    '{found}',
    'figures that a kitchen can reach',
    'check the weights, volumes, temperatures and times of the recipe',
  ],
  'fermenter-too-small': [
    'More wort than the fermenter holds.',
    '"{written}" into a fermenter of {size}',
    'at most {most}, which leaves head space',
    'make a smaller batch or use a larger fermenter',
  ],
  'fermenter-nearly-full': [
    'A fermenter without head space.',
    '{written} in a fermenter of {size}',
    'at most {most}, so that the foam has room',
    'leave head space, or lead the foam away through a wide tube',
  ],
  'bottle-too-weak': [
    'The carbonation may pass what the bottles are made for.',
    '{written}, which may come to {gas}',
    'at most {most} in bottles made for {limit}',
    'ask for less carbonation, or use bottles made for more pressure',
  ],
  'gas-already-there': [
    'The beer keeps more gas than the carbonation asked for.',
    '{written}, less than the {gas} that stay from fermentation',
    'more than {gas}',
    'no sugar is needed; ask for more carbonation if it should be livelier',
  ],
  'hopped-extract-boiled': [
    'Hopped extract boiled for more than 10 minutes.',
    'hopped extract boiled for {boiled} min',
    'at most {most} min: a longer boil changes the bitterness that its label promises',
    'add it at flame-out or in the last minutes',
  ],
  'little-yeast': [
    'Much less dry yeast than the usual dose.',
    '{packs} for {wort}',
    'about {low} to {high}, the usual dose of dry yeast',
    'add a pack, or expect a slow start',
  ],
  'outside-yeast-band': [
    'A fermentation step outside the band of the yeast.',
    '{written} with a yeast for {band}',
    'a first step from {low} to {high}',
    'move the step into the band, or choose another yeast',
  ],
  'parts-exceed-batch': [
    'Kegs and bottles together want more beer than there is.',
    '{parts} for kegs and bottles',
    'about {beer}, which is what will be there',
    'lower the volume of one of them, or leave it out',
  ],
  'no-extract': [
    'Nothing in the recipe gives extract.',
    'no grain, extract or sugar that gives extract',
    'something for the yeast to ferment',
    'add extract, grain or sugar with their weights',
  ],
  'reading-out-of-range': [
    'A reading that its formula cannot use.',
    '{found}',
    'a figure that the instrument can show',
    'check the figure and its temperature, or write not taken',
  ],
} as const satisfies Catalogue;
export type BatchCode = keyof typeof BATCH_PROBLEMS;

export class BatchFindings extends Findings<typeof BATCH_PROBLEMS> {
  constructor() {
    super(BATCH_PROBLEMS);
  }
}
