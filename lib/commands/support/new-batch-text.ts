import { sampleText } from '../../archive/schema/readings-schema.ts';
import { type Group, type One, READINGS, type Rows } from '../../batch/types/readings.ts';
import { formatMass, formatTemperature, formatVolume } from '../../units/format/format.ts';
import { GRAMS_PER_OUNCE, LITRES_PER_US_GALLON } from '../../units/table.ts';

import { yamlText } from '../../units/yaml-text.ts';

export interface NewBatch {
  readonly title: string;
  readonly number: number | null;
  readonly brewed: string;
  readonly units: 'metric' | 'us';
  /** Keys of content/setups.yaml. */
  readonly setups: readonly string[];
  /** A kit from a shop, not a recipe of one's own. */
  readonly kit?: boolean;
  /** The setup that the figures are to fit. */
  readonly kettle_L: number;
  readonly fermenter_L: number | null;
}

const COMMENT_COLUMN = 40;
/** The recipe below is written for this much. */
const SAMPLE_L = 19;
/** A small kettle can make the wort for somewhat more beer than it holds. */
const BEER_PER_KETTLE = 1.3;
const FERMENTER_SHARE = 0.8;
/** What most kits are made for. */
const KIT_L = 23;
const KIT_FERMENTER_SHARE = 0.9;

/** Amounts for a batch of so much beer, in the brewer's units and as a person would round them. */
function amounts(batch: NewBatch, beer_L: number, sample_L: number) {
  const { units } = batch;
  const litres = (volume_L: number) => plain(formatVolume(volume_L, units));
  const step_L = units === 'us' ? LITRES_PER_US_GALLON / 4 : 0.5;
  const step_g = (sample_g: number) => (units === 'us' ? GRAMS_PER_OUNCE / 2 : sample_g > 100 ? 50 : 5);
  const temp = (t_C: number) => plain(formatTemperature(t_C, units));
  return {
    litres,
    round: (volume_L: number) => litres(rounded(volume_L, step_L)),
    vol: (share: number) => litres(rounded(beer_L * share, step_L)),
    mass: (sample_g: number) =>
      plain(formatMass(rounded((sample_g * beer_L) / sample_L, step_g(sample_g)), units)),
    temp,
    band: (low_C: number, high_C: number) => `${temp(low_C).split(' ')[0]}-${temp(high_C)}`,
    bottle: units === 'us' ? '12 fl oz' : '500 ml',
  };
}

/**
 * A batch file with every key of the format in it: those that most batches have as keys, the others as comments, ready
 * to be changed. Amounts fit the setup and are in the brewer's units.
 */
export function newBatchText(batch: NewBatch): string {
  const beer_L = batch.kit ? kitBeerFor(batch) : beerFor(batch);
  const boil_L = Math.min(0.6 * batch.kettle_L, 0.7 * beer_L);
  const say = amounts(batch, beer_L, batch.kit ? KIT_L : SAMPLE_L);
  return [
    ...headLines(batch),
    ...(batch.kit ? kitLines(say, beer_L) : recipeLines(batch, say, beer_L, boil_L)),
    ...readingLines(batch),
    '---',
    'Notes in ordinary Markdown: what you would change, what the weather did.',
    '',
  ].join('\n');
}

type Amounts = ReturnType<typeof amounts>;

function headLines(batch: NewBatch): string[] {
  const [setup = 'stove', ...others] = batch.setups;
  const kits = others.length === 0 ? 'your only one' : `or ${others.join(', ')}`;
  return [
    '---',
    '# What follows a # is a comment and is ignored. Most batches do well enough with the keys that have',
    '# no # before them; to use one of the others, take its # and one space away.',
    '',
    '# The batch',
    at(`title: ${yamlText(batch.title)}`, 'its name'),
    at(batch.number === null ? '# number: 1' : `number: ${batch.number}`, 'your own batch number'),
    at(`brewed: ${batch.brewed}`, 'the day of brewing, planned or past'),
    at('# start: 13:30', 'when the kettle goes on; with it the sheet prints clock times'),
    at(`setup: ${setup}`, `one of your pots in setups.yaml: ${kits}`),
    at('# style: Brown ale', 'in your own words'),
    at('# tags: [winter, for-neighbours]', 'to find it by'),
    at('# based_on: an-earlier-batch', 'file name, without .md, of the batch that this one changes'),
    at('# publish: true', 'true: on the site; recipe: the recipe only; false: not on it'),
    at(
      '# pictures: [ { file: glass.jpg, alt: in the evening sun } ]',
      'in a folder beside this file, with its name',
    ),
    '# private: |',
    '#   Never leaves this file: what you paid and whom it is for.',
  ];
}

function recipeLines(
  { units }: NewBatch,
  { litres, round, vol, mass, temp, band, bottle }: Amounts,
  beer_L: number,
  boil_L: number,
): string[] {
  const ratio = units === 'us' ? '1.5 qt/lb' : '3 L/kg';
  const colour = units === 'us' ? '50 °L' : '130 EBC';
  return [
    '',
    `# The recipe. Give amounts with their units; any figure may carry its uncertainty: ${units === 'us' ? '5 ± 0.1 gal' : '19 ± 0.5 L'}`,
    'recipe:',
    at('  # label: { original_gravity: 1.042, final_gravity: 1.010 }', 'a box’s own figures, only compared'),
    at(`  into_fermenter: ${litres(beer_L)}`, 'wort in the fermenter'),
    at('  boil: 60 min', '0 min for none'),
    at(`  # boil_volume: ${round(boil_L)}`, 'wort when the countdown begins; worked out if left out'),
    '',
    '  # Grain to steep, lifted out before the boil. `water: …` in the braces steeps it in a part of the water.',
    `  steep: { temperature: ${temp(68)}, time: 20 min }`,
    '  # A small mash, for grain that is `in: mash`, and water to rinse grain with.',
    `  # mash: { temperature: ${temp(66)}, time: 60 min, ratio: ${ratio} }`,
    `  # rinse: ${units === 'us' ? '1 qt' : '1 L'}`,
    '  grain:',
    `    - { name: crystal malt 150, weight: ${mass(350)}, in: steep }`,
    `    # - { name: pale malt, weight: ${mass(300)}, in: mash }`,
    '    # Any malt, extract or sugar may bring its own figures, and any item a note for the sheet:',
    `    # - { name: malt of my own, weight: ${mass(100)}, in: steep, yield: 74 %, colour: ${colour}, fermentability: 65 %, note: from the mill }`,
    '',
    '  # Extract and sugar go in at the start of the boil unless `add:` says when, flame off each time.',
    '  # `add:` is the minutes left in the boil, or first wort, steep, flameout, stand, dry, fermenter or packaging.',
    '  extract:',
    `    - { name: pale liquid extract, weight: ${mass(1500)} }`,
    `    - { name: light dry extract, weight: ${mass(800)}, add: 12 min }`,
    '    # A hopped kit, with the bitterness that its label promises:',
    `    # - { name: light dry extract, weight: ${mass(200)}, add: flameout, form: dry, bitterness: 25 IBU in ${vol(1.2)} }`,
    '  # sugar:',
    `  #   - { name: honey, weight: ${mass(250)}, add: flameout }`,
    '',
    '  # Hops with the alpha acids that the packet gives.',
    '  hops:',
    `    - { name: Fuggle, weight: ${mass(30)}, alpha: 4.6 %, add: 60 min }`,
    `    - { name: Goldings, weight: ${mass(20)}, alpha: 5.5 %, add: 10 min }`,
    `    # - { name: Goldings, weight: ${mass(20)}, alpha: 5.5 %, form: leaf, add: stand }`,
    `    # - { name: Goldings, weight: ${mass(25)}, alpha: 5.5 %, form: pellet, add: dry, day: 7, for: 3 days }`,
    `  # stand: { temperature: ${temp(80)}, time: 20 min }  # a rest after the boil, before chilling`,
    '',
    '  # Finings, nutrient, spices, fruit. `day:` counts from pitching, `for:` is how long it stays in.',
    '  other:',
    '    - { name: kettle finings, amount: 1, add: 10 min }',
    '    # - { name: yeast nutrient, amount: 1 tsp, add: 10 min, note: dissolve first }',
    `    # - { name: oak chips, amount: ${mass(15)}, add: dry, day: 7, for: 5 days }`,
    '',
    '  # The yeast as its packet describes it.',
    '  yeast:',
    `    - { name: English ale, form: dry, amount: 11 g, attenuation: 75 %, temperature: ${band(17, 21)} }`,
    '    # Family, contents of a packet and living cells, where yours are others than the usual ones:',
    `    # - { name: English ale, form: dry, kind: ale, amount: 11 g, pack: 11 g, cells: 10 billion/g }`,
    '  ferment:',
    `    - { temperature: ${temp(19)}, time: 14 days }`,
    '',
    '  # Bottles: what each holds, and the gas that it is made for. Where you do not know, leave `limit:` out: the usual',
    '  # one of single-use beer bottles is assumed. Only bottles made for pressure will do.',
    `  package: { into: bottles, carbonation: 2.3 vol, sugar: table sugar, bottle: ${bottle}, limit: 3 vol }`,
    `  # A keg: { into: keg, carbonation: 2.5 vol, temperature: ${temp(5)} }. Both: a list of the two, each with \`volume:\`.`,
  ];
}

/** A kit from a shop: what its box says is aimed at the fermenter, and next to nothing is boiled. */
function kitLines({ litres, vol, mass, temp, bottle }: Amounts, beer_L: number): string[] {
  return [
    '',
    '# The recipe, as the box and its tins say it. Give amounts with their units.',
    'recipe:',
    at(
      '  # label: { original_gravity: 1.042, final_gravity: 1.010 }',
      'what the box says; compared, never aimed at',
    ),
    at(`  into_fermenter: ${litres(beer_L)}`, 'wort in the fermenter, cold water and all'),
    at('  boil: 0 min', 'most kits are only stirred into hot water'),
    '',
    '  # Each tin or bag by what is in it; the command ingredients finds its name here. `bitterness` is for a hopped one: what',
    '  # its label promises, and for how much beer.',
    '  extract:',
    `    - { name: hopped amber extract, weight: ${mass(1700)}, bitterness: 25 IBU in ${vol(1)} }`,
    `    # - { name: light dry extract, weight: ${mass(500)} }`,
    '  sugar:',
    `    - { name: glucose monohydrate, weight: ${mass(1000)} }`,
    '  # hops:   # if a packet came with it',
    `  #   - { name: Goldings, weight: ${mass(25)}, alpha: 5.5 %, add: dry, day: 7, for: 3 days }`,
    '',
    '  # The sachet from under the lid: what it weighs, and what the leaflet says of it.',
    '  yeast:',
    at(
      '    - { name: English ale, form: dry, amount: 6 g }',
      '`attenuation:` and `temperature:` where it says so',
    ),
    '  ferment:',
    `    - { temperature: ${temp(20)}, time: 14 days }`,
    '',
    '  # Bottles: what each holds, and the gas that it is made for. Only bottles made for pressure will do.',
    `  package: { into: bottles, carbonation: 2.3 vol, sugar: table sugar, bottle: ${bottle}, limit: 3 vol }`,
  ];
}

/** Steps that a kit does not have. */
const UNBOILED: ReadonlySet<string | undefined> = new Set(['steep', 'mash', 'boil']);

/** Every reading of the table, in the order of the sheets, with a sample in the brewer's units. */
function readingLines({ brewed, units, kit = false }: NewBatch): string[] {
  const sampleOf = (spec: One): string => {
    switch (spec.kind) {
      case 'clock':
      case 'addition':
        return '14:50';
      case 'date':
        return brewed;
      case 'count':
        return spec.seldom ? '0' : '35';
      case 'score':
        return '4';
      case 'container':
        return 'bottles';
      default:
        return plain(sampleText(spec, units));
    }
  };
  const inBraces = (parts: Group['parts']): string =>
    `{ ${Object.entries(parts)
      .map(([name, part]) => `${name}: ${sampleOf(part)}`)
      .join(', ')} }`;
  const specs = Object.entries(READINGS) as readonly (readonly [string, One | Group | Rows])[];
  const lines = specs.flatMap(([key, spec]) => {
    if (kit && (key === 'additions' || ('blank' in spec && UNBOILED.has(spec.blank?.when)))) return [];
    if (!('shape' in spec)) return [at(`#   ${key}: ${sampleOf(spec)}`, spec.says)];
    const listed = spec.shape === 'rows' && !spec.single;
    return listed
      ? [`#   ${key}:`, `#     - ${inBraces(spec.parts)}`]
      : [`#   ${key}: ${inBraces(spec.parts)}`];
  });
  return [
    '',
    '# What was written on the sheets, in their order. Each may be `not taken`.',
    '# readings:',
    ...lines,
  ];
}

/** A line of YAML with its comment in the column of all comments. */
export const at = (key: string, comment: string): string => `${key.padEnd(COMMENT_COLUMN - 1)} # ${comment}`;

/** YAML files are typed by hand: plain spaces only. */
export const plain = (text: string): string => text.replaceAll(/[\u00a0\u202f]/g, ' ');

/** Down to a step, but never to nothing. */
const rounded = (value: number, step: number): number => Math.max(1, Math.floor(value / step + 1e-9)) * step;

/** A kit's water need not go through the pot: as much as it is made for, or as the fermenter holds. */
function kitBeerFor({ units, fermenter_L }: NewBatch): number {
  const fits = fermenter_L === null ? KIT_L : Math.min(KIT_L, KIT_FERMENTER_SHARE * fermenter_L);
  return rounded(fits, units === 'us' ? LITRES_PER_US_GALLON / 2 : 0.5);
}

function beerFor({ units, kettle_L, fermenter_L }: NewBatch): number {
  const fits = fermenter_L === null ? SAMPLE_L : Math.min(SAMPLE_L, FERMENTER_SHARE * fermenter_L);
  const beer_L = Math.min(fits, BEER_PER_KETTLE * kettle_L);
  const step = units === 'us' ? LITRES_PER_US_GALLON / 2 : 0.5;
  return rounded(beer_L, step);
}
