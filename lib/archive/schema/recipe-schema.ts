import { z } from 'zod';
import { addWord } from './moments.ts';
import { POSSIBLE, type Quantities } from './quantities.ts';
import { choice, count, line } from './scalars.ts';
import { oneOrMany } from './shapes.ts';

export const YEAST_KINDS = ['ale', 'lager', 'wheat', 'kveik', 'belgian', 'brett', 'hybrid'] as const;

const note = () => line('A few words for the sheet.', 'dissolve first').nullish();

/** What any malt, extract or sugar may say of itself; it goes before the tables. */
function extractFigures(q: Quantities, of: 'malt' | 'sugar') {
  return {
    yield: q.percent('Laboratory extract as is, share of the weight.', POSSIBLE.percent, '75 %').nullish(),
    colour: q.colour('Colour of the malt, extract or sugar.', of).nullish(),
    fermentability: q
      .percent('How well its extract ferments, base malt being 100 %.', POSSIBLE.percent, '90 %')
      .nullish(),
  };
}

function grainItem(q: Quantities) {
  return z.strictObject({
    name: line('The grain, by a name of the tables or your own.', 'crystal malt 150'),
    weight: q.mass('Weight of the grain.', POSSIBLE.mass, '350 g'),
    in: choice(['steep', 'mash'], 'Where the grain goes: steeped in hot water, or mashed.'),
    ...extractFigures(q, 'malt'),
    note: note(),
  });
}

function extractItem(q: Quantities, of: 'malt' | 'sugar') {
  return z.strictObject({
    name: line('The extract or sugar, by a name of the tables or your own.', 'pale liquid extract'),
    weight: q.mass('Its weight.', POSSIBLE.mass, '1.5 kg'),
    add: addWord(
      'When it goes in: minutes left in the boil or a word; the start of the boil if left out.',
    ).nullish(),
    day: count('For fermenter: days after pitching.', 0, 3650).nullish(),
    ...extractFigures(q, of),
    form: choice(['liquid', 'dry'], 'Syrup or powder.').nullish(),
    bitterness: q.kitBitterness('Hopped extract of a kit: the bitterness that its label promises.').nullish(),
    note: note(),
  });
}

function hopItem(q: Quantities) {
  return z.strictObject({
    name: line('The hop.', 'Fuggle'),
    weight: q.mass('Its weight.', POSSIBLE.mass, '30 g'),
    alpha: q.percentFigure('Alpha acids as the packet says.', POSSIBLE.alpha, '4.6 %', '4-5 %').nullish(),
    add: addWord('When it goes in: minutes left in the boil, flameout, stand, dry or first wort.'),
    day: count('For dry: days after pitching.', 0, 3650).nullish(),
    for: q.time('For dry: how long it stays in.', POSSIBLE.time, '3 days').nullish(),
    form: choice(['leaf', 'pellet'], 'Whole leaf or pellets.').nullish(),
    note: note(),
  });
}

function otherItem(q: Quantities) {
  return z.strictObject({
    name: line('Finings, spice, fruit, yeast nutrient and the like.', 'kettle finings'),
    amount: q.amount('How much: a weight, a volume or a count.', '15 g', '1 tsp', '1'),
    add: addWord('When it goes in.'),
    day: count('For fermenter or dry: days after pitching.', 0, 3650).nullish(),
    for: q.time('For dry: how long it stays in.', POSSIBLE.time, '3 days').nullish(),
    note: note(),
  });
}

function yeastItem(q: Quantities) {
  return z.strictObject({
    name: line('The yeast, by a name of the tables or your own.', 'English ale'),
    form: choice(['dry', 'liquid', 'slurry'], 'Dry, liquid, or slurry from another batch.').nullish(),
    amount: q.amount('How much is pitched: a weight, a volume or packs.', '11 g', '1 pack'),
    attenuation: q
      .percentFigure('Apparent attenuation as the packet says.', POSSIBLE.percent, '75 %', '72-77 %')
      .nullish(),
    temperature: q
      .temperatureBand('The band of temperature that the packet gives.', POSSIBLE.beer, '17-21 °C')
      .nullish(),
    kind: choice(YEAST_KINDS, 'The family of the yeast, for the pitching rate.').nullish(),
    pack: q.amount('What one packet holds.', '11 g').nullish(),
    cells: q.cells('Living cells per gram, per millilitre or per pack.').nullish(),
    note: note(),
  });
}

function packageItem(q: Quantities) {
  return z.strictObject({
    into: choice(['bottles', 'keg'], 'Bottles or keg.'),
    carbonation: q.carbonation(
      'Carbon dioxide wanted in the beer.',
      POSSIBLE.carbonation,
      '2.3 vol',
      '4.5 g/L',
    ),
    sugar: line('The sugar to prime with, by a name of the tables.', 'table sugar').nullish(),
    bottle: q.volume('What one bottle holds.', POSSIBLE.volume, '500 ml').nullish(),
    limit: q.limit('What the bottles are made for, dissolved gas or pressure.').nullish(),
    temperature: q.temperature('Keg: the temperature it is served at.', POSSIBLE.beer, '5 °C').nullish(),
    volume: q
      .volume('Where part is bottled and part kegged: how much goes here.', POSSIBLE.volume, '9 L')
      .nullish(),
  });
}

export function recipeSchema(q: Quantities) {
  return z
    .strictObject({
      into_fermenter: q.volume('Wort in the fermenter, at 20 °C.', POSSIBLE.volume, '19 L'),
      boil: q.time('Length of the boil; 0 min for none.', POSSIBLE.time, '60 min'),
      boil_volume: q
        .volume(
          'Wort when the countdown begins, extract stirred in, as if at 20 °C.',
          POSSIBLE.volume,
          '10.5 L',
        )
        .nullish(),
      steep: z
        .strictObject({
          temperature: q.temperature('Temperature of the steep.', POSSIBLE.liquor, '68 °C'),
          time: q.time('How long the grain steeps.', POSSIBLE.time, '20 min'),
          water: q.volume('Water to steep in, where not all of it.', POSSIBLE.volume, '6 L').nullish(),
        })
        .nullish()
        .describe('The steep of the grain that is `in: steep`.'),
      mash: z
        .strictObject({
          temperature: q.temperature('Temperature of the mash.', POSSIBLE.liquor, '66 °C'),
          time: q.time('How long the mash rests.', POSSIBLE.time, '60 min'),
          ratio: q.ratio('Mash water for each kilogram of grain.', POSSIBLE.mashRatio, '3 L/kg'),
        })
        .nullish()
        .describe('The mash of the grain that is `in: mash`.'),
      rinse: q.volume('Water to rinse the grain with.', POSSIBLE.volumeOrNone, '4 L').nullish(),
      grain: z.array(grainItem(q)).nullish().describe('Grain that is steeped or mashed.'),
      extract: z.array(extractItem(q, 'malt')).nullish().describe('Malt extract.'),
      sugar: z.array(extractItem(q, 'sugar')).nullish().describe('Sugar, honey, syrup.'),
      hops: z.array(hopItem(q)).nullish().describe('Hops by addition.'),
      stand: z
        .strictObject({
          temperature: q.temperature('Temperature of the rest.', POSSIBLE.liquor, '80 °C'),
          time: q.time('How long it rests.', POSSIBLE.time, '20 min'),
        })
        .nullish()
        .describe('A rest after the boil, before chilling.'),
      other: z.array(otherItem(q)).nullish().describe('Finings, spices, fruit, nutrient.'),
      yeast: z.array(yeastItem(q)).nullish().describe('The yeast.'),
      ferment: z
        .array(
          z.strictObject({
            temperature: q.temperature('Temperature of the step.', POSSIBLE.beer, '19 °C'),
            time: q.time('How long it lasts.', POSSIBLE.time, '14 days'),
          }),
        )
        .nullish()
        .describe('Fermentation, step by step.'),
      package: oneOrMany(packageItem(q), 'Bottles or keg, or a list of both.').nullish(),
      label: z
        .strictObject({
          original_gravity: q.gravity('Original gravity on the label.', '1.056').nullish(),
          final_gravity: q.gravity('Final gravity on the label.', '1.013').nullish(),
          volume: q.volume('Volume that the label makes.', POSSIBLE.volume, '19 L').nullish(),
        })
        .nullish()
        .describe("What a kit's box says: compared with the plan, never aimed at."),
    })
    .describe('What is brewed.');
}

export type RecipeData = z.output<ReturnType<typeof recipeSchema>>;
