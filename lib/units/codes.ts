/** Every code that reading a quantity can report, and what it means. The codes are permanent. */
export const UNIT_CODES = {
  'quantity-empty': 'A figure is missing.',
  'quantity-too-long': 'The text is longer than any figure needs to be.',
  'quantity-no-number': 'There is a word where a number belongs.',
  'quantity-not-a-number': 'The number is not written in a way that can be read.',
  'quantity-no-unit': 'The number has no unit.',
  'quantity-unknown-unit': 'The unit is not known.',
  'quantity-wrong-unit': 'The unit does not measure what is asked for here.',
  'quantity-two-readings': 'The figure can be read in two ways.',
  'quantity-negative': 'The figure is below zero where that has no meaning.',
  'quantity-out-of-range': 'The figure is far from anything that a kitchen can have.',
  'quantity-range': 'A range where one figure belongs.',
  'quantity-uncertainty': 'What follows the ± cannot be used.',
  'quantity-extra': 'Something follows the figure that does not belong to it.',
  'range-backwards': 'The first figure of a range is the larger one.',
  'gravity-no-point': 'A specific gravity is written without its decimal point.',
  'gravity-no-scale': 'A gravity is not a specific gravity and does not say which scale it is on.',
  'gravity-out-of-range': 'A gravity is outside what wort and beer can have.',
  'cells-form': 'A number of yeast cells is not written as so many billion in a gram, millilitre or pack.',
  'kit-bitterness-form': 'The bitterness of a kit is not written as IBU in a volume.',
  'clock-form': 'A clock time is not written as hours and minutes.',
  'date-form': 'A date is not written as year, month and day, or can be read in two ways.',
  'date-not-real': 'The calendar has no such day.',
} as const satisfies Readonly<Record<string, string>>;

export type UnitCode = keyof typeof UNIT_CODES;
