import type { Catalogue } from './problem.ts';

/** Every problem that reading a quantity can report; what is found is the brewer's own text. */
export const UNIT_PROBLEMS = {
  'quantity-empty': [
    'A figure is missing.',
    '{text}',
    '{expected}',
    ['write, for example, "{example}"', 'write {what}'],
  ],
  'quantity-too-long': [
    'The text is longer than any figure needs to be.',
    '{text}',
    '{expected}',
    ['keep it under {under} characters; a note has its own key', 'shorten it'],
  ],
  'quantity-no-number': [
    'There is a word where a number belongs.',
    '{text}',
    '{expected}',
    ['write, for example, "{example}"', 'write {what}', 'leave it empty'],
  ],
  'quantity-not-a-number': [
    'The number is not written in a way that can be read.',
    '{text}',
    '{expected}',
    [
      'write "{number}" as a plain number, such as 1.5 or 1 1/2',
      'two numbers in a row: write one{closedUp}',
      'leave out "{stray}"',
      'write {what}',
    ],
  ],
  'quantity-no-unit': ['The number has no unit.', '{text}', '{expected}', 'write {what}'],
  'quantity-unknown-unit': ['The unit is not known.', '{text}', '{expected}', ['{near}', 'write {what}']],
  'quantity-wrong-unit': [
    'The unit does not measure what is asked for here.',
    '{text}',
    '{expected}, not {noun}',
    'write {what}',
  ],
  'quantity-two-readings': ['The figure can be read in two ways.', '{text}', '{expected}', 'write {what}'],
  'quantity-negative': [
    'The figure is below zero where that has no meaning.',
    '{text}',
    '{expected}',
    'leave out the minus sign{or}',
  ],
  'quantity-out-of-range': [
    'The figure is far from anything that a kitchen can have.',
    '{text}',
    '{expected}',
    ['check the {figure}', 'write {what}'],
  ],
  'quantity-range': [
    'A range where one figure belongs.',
    '{text}',
    '{expected}, a single figure',
    'write {what}',
  ],
  'quantity-uncertainty': [
    'What follows the ± cannot be used.',
    '{text}',
    '{expected}, then ± and its uncertainty{scale}',
    'write it as {sample}',
  ],
  'quantity-extra': [
    'Something follows the figure that does not belong to it.',
    '{text}',
    '{expected}',
    ['leave out {extra}', 'write {what}'],
  ],
  'range-backwards': [
    'The first figure of a range is the larger one.',
    '{text}',
    'a range with its smaller figure first',
    'write the smaller figure first: "{turned}"',
  ],
  'gravity-no-point': [
    'A specific gravity is written without its decimal point.',
    '{text}',
    '{expected}',
    'write {what}',
  ],
  'gravity-no-scale': [
    'A gravity is not a specific gravity and does not say which scale it is on.',
    '{text}',
    '{expected}',
    'write {what}',
  ],
  'gravity-out-of-range': [
    'A gravity is outside what wort and beer can have.',
    '{text}',
    '{expected}',
    'check the reading',
  ],
  'cells-form': [
    'A number of yeast cells is not written as so many billion in a gram, millilitre or pack.',
    '{text}',
    '{expected}',
    'write it as "10 billion/g"',
  ],
  'kit-bitterness-form': [
    'The bitterness of a kit is not written as IBU in a volume.',
    '{text}',
    '{expected}',
    'write {what}',
  ],
  'clock-form': ['A clock time is not written as hours and minutes.', '{text}', '{expected}', 'write {what}'],
  'date-form': [
    'A date is not written as year, month and day, or can be read in two ways.',
    '{text}',
    '{expected}',
    ['write {what}', 'leave out the time'],
  ],
  'date-not-real': [
    'The calendar has no such day.',
    '{text}',
    ['a year from {first} to {last}', '{expected}'],
    [
      "that month's last day is {day}",
      'the month is from 01 to 12{month}: check the order',
      'check the year',
    ],
  ],
} as const satisfies Catalogue;

export type UnitCode = keyof typeof UNIT_PROBLEMS;
