/** Every code that planning a batch can report, and what it means. The codes are permanent. */
import { Findings } from '../../units/problem.ts';

export const BATCH_CODES = {
  'boil-too-large': 'the boil leaves more wort than goes into the fermenter',
  'kettle-overflows': 'the kettle would be over its brim',
  'kettle-nearly-full': 'the kettle is over 85 % full at its fullest',
  'boils-dry': 'boil-off, trub and hops leave no wort',
  'water-parts-exceed-total': 'steep, mash and rinse water are more than the water to heat',
  'more-extract-than-water': 'more extract than water',
  'stand-too-hot': 'a stand at or above the boil',
  'soak-too-hot': 'a steep or mash at or above the boil, or one that would need such water',
  'figure-out-of-range': 'a figure left the range in which its formula holds',
  'fermenter-too-small': 'more wort than the fermenter holds',
  'fermenter-nearly-full': 'a fermenter without head space',
  'bottle-too-weak': 'the carbonation may pass what the bottles are made for',
  'gas-already-there': 'the beer keeps more gas than the carbonation asked for',
  'hopped-extract-boiled': 'hopped extract boiled for more than 10 minutes',
  'little-yeast': 'much less dry yeast than the usual dose',
  'outside-yeast-band': 'a fermentation step outside the band of the yeast',
  'parts-exceed-batch': 'kegs and bottles together want more beer than there is',
  'no-extract': 'nothing in the recipe gives extract',
  'reading-out-of-range': 'a reading that its formula cannot use',
} as const;
export type BatchCode = keyof typeof BATCH_CODES;

export class BatchFindings extends Findings<BatchCode> {}
