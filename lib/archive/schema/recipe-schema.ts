import { z } from 'zod';
import { POSSIBLE } from '../../units/parse/possible.ts';
import { addWord } from './moments.ts';
import type { Quantities } from './quantities.ts';
import { choice, count, line } from './scalars.ts';
import { oneOrMany, optional } from './shapes.ts';

export const YEAST_KINDS = ['ale', 'lager', 'wheat', 'kveik', 'belgian', 'brett', 'hybrid'] as const;

const note = () => line('A few words for the sheet.', 'dissolve first');

/** What any malt, extract or sugar may say of itself; it goes before the tables. */
const extractFigures = (q: Quantities, of: 'malt' | 'sugar') => ({
  yield: q.percent('Laboratory extract as is, share of the weight.', '75 %'),
  colour: q.colour('Colour of the malt, extract or sugar.', of),
  fermentability: q.percent('How well its extract ferments, base malt being 100 %.', '90 %'),
});

const grainItem = (q: Quantities) =>
  z.strictObject({
    name: line('The grain, by a name of the tables or your own.', 'crystal malt 150'),
    weight: q.mass('Weight of the grain.', 350),
    in: choice(['steep', 'mash'], 'Where the grain goes: steeped in hot water, or mashed.'),
    ...optional({ ...extractFigures(q, 'malt'), note: note() }),
  });

const extractItem = (q: Quantities, of: 'malt' | 'sugar') =>
  z.strictObject({
    name: line('The extract or sugar, by a name of the tables or your own.', 'pale liquid extract'),
    weight: q.mass('Its weight.', 1500),
    ...optional({
      add: addWord('When it goes in: minutes left in the boil or a word; the start of the boil if left out.'),
      day: count('For fermenter: days after pitching.', 0, 3650),
      ...extractFigures(q, of),
      form: choice(['liquid', 'dry'], 'Syrup or powder.'),
      bitterness: q.kitBitterness('Hopped extract of a kit: the bitterness that its label promises.'),
      note: note(),
    }),
  });

const hopItem = (q: Quantities) =>
  z.strictObject({
    name: line('The hop.', 'Fuggle'),
    weight: q.mass('Its weight.', 30),
    alpha: q.percentFigure('Alpha acids as the packet says.', ['4.6 %', '4-5 %'], POSSIBLE.alpha).nullish(),
    add: addWord('When it goes in: minutes left in the boil, flameout, stand, dry or first wort.'),
    ...optional({
      day: count('For dry: days after pitching.', 0, 3650),
      for: q.time('For dry: how long it stays in.', '3 days'),
      form: choice(['leaf', 'pellet'], 'Whole leaf or pellets.'),
      note: note(),
    }),
  });

const otherItem = (q: Quantities) =>
  z.strictObject({
    name: line('Finings, spice, fruit, yeast nutrient and the like.', 'kettle finings'),
    amount: q.amount('How much: a weight, a volume or a count.', 15, '1 tsp', '1'),
    add: addWord('When it goes in.'),
    ...optional({
      day: count('For fermenter or dry: days after pitching.', 0, 3650),
      for: q.time('For dry: how long it stays in.', '3 days'),
      note: note(),
    }),
  });

const yeastItem = (q: Quantities) =>
  z.strictObject({
    name: line('The yeast, by a name of the tables or your own.', 'English ale'),
    form: choice(['dry', 'liquid', 'slurry'], 'Dry, liquid, or slurry from another batch.').nullish(),
    amount: q.amount('How much is pitched: a weight, a volume or packs.', 11, '1 pack'),
    ...optional({
      attenuation: q.percentFigure('Apparent attenuation as the packet says.', ['75 %', '72-77 %']),
      temperature: q.temperatureBand('The band of temperature that the packet gives.', 17, 21),
      kind: choice(YEAST_KINDS, 'The family of the yeast, for the pitching rate.'),
      pack: q.amount('What one packet holds.', 11),
      cells: q.cells('Living cells per gram, per millilitre or per pack.'),
      note: note(),
    }),
  });

const packageItem = (q: Quantities) =>
  z.strictObject({
    into: choice(['bottles', 'keg'], 'Bottles or keg.'),
    carbonation: q.carbonation('Carbon dioxide wanted in the beer.', ['2.3 vol', '4.5 g/L']),
    ...optional({
      sugar: line('The sugar to prime with, by a name of the tables.', 'table sugar'),
      bottle: q.volume('What one bottle holds.', 0.5),
      limit: q.limit('What the bottles are made for, dissolved gas or pressure.'),
      temperature: q.temperature('Keg: the temperature it is served at.', 5, POSSIBLE.beer),
      volume: q.volume('Where part is bottled and part kegged: how much goes here.', 9),
    }),
  });

const steepStep = (q: Quantities) =>
  z.strictObject({
    temperature: q.temperature('Temperature of the steep.', 68),
    time: q.time('How long the grain steeps.', '20 min'),
    water: q.volume('Water to steep in, where not all of it.', 6).nullish(),
  });

const mashStep = (q: Quantities) =>
  z.strictObject({
    temperature: q.temperature('Temperature of the mash.', 66),
    time: q.time('How long the mash rests.', '60 min'),
    ratio: q.ratio('Mash water for each kilogram of grain.', 3),
  });

const standStep = (q: Quantities) =>
  z.strictObject({
    temperature: q.temperature('Temperature of the rest.', 80),
    time: q.time('How long it rests.', '20 min'),
  });

const fermentStep = (q: Quantities) =>
  z.strictObject({
    temperature: q.temperature('Temperature of the step.', 19, POSSIBLE.beer),
    time: q.time('How long it lasts.', '14 days'),
  });

const kitLabel = (q: Quantities) =>
  z.strictObject(
    optional({
      original_gravity: q.gravity('Original gravity on the label.', '1.056'),
      final_gravity: q.gravity('Final gravity on the label.', '1.013'),
      volume: q.volume('Volume that the label makes.', 19),
    }),
  );

export const recipeSchema = (q: Quantities) =>
  z
    .strictObject({
      into_fermenter: q.volume('Wort in the fermenter, at 20 °C.', 19),
      boil: q.time('Length of the boil; 0 min for none.', '60 min'),
      ...optional({
        boil_volume: q.volume('Wort when the countdown begins, extract stirred in, as if at 20 °C.', 10.5),
        steep: steepStep(q).describe('The steep of the grain that is `in: steep`.'),
        mash: mashStep(q).describe('The mash of the grain that is `in: mash`.'),
        rinse: q.volume('Water to rinse the grain with.', 4, POSSIBLE.volumeOrNone),
        grain: z.array(grainItem(q)).describe('Grain that is steeped or mashed.'),
        extract: z.array(extractItem(q, 'malt')).describe('Malt extract.'),
        sugar: z.array(extractItem(q, 'sugar')).describe('Sugar, honey, syrup.'),
        hops: z.array(hopItem(q)).describe('Hops by addition.'),
        stand: standStep(q).describe('A rest after the boil, before chilling.'),
        other: z.array(otherItem(q)).describe('Finings, spices, fruit, nutrient.'),
        yeast: z.array(yeastItem(q)).describe('The yeast.'),
        ferment: z.array(fermentStep(q)).describe('Fermentation, step by step.'),
        package: oneOrMany(packageItem(q), 'Bottles or keg, or a list of both.'),
        label: kitLabel(q).describe("What a kit's box says: compared with the plan, never aimed at."),
      }),
    })
    .describe('What is brewed.');

export type RecipeData = z.output<ReturnType<typeof recipeSchema>>;
